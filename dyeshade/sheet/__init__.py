"""The reference sheet: where things are on the page, and finding the page in a photo."""
