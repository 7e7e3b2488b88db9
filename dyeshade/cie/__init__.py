"""Colours and their differences: CIELAB, CIEDE2000, RGB colour spaces, chromatic adaptation."""
