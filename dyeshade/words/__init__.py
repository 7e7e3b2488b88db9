"""How things are said to people, and to programs that read them; no arithmetic."""
