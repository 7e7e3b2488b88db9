"""The jobs that join rooms, one function each."""
