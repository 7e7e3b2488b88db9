"""What goes out on paper: pages as PDF."""
