"""The shade library: readings kept with the baths that made them, in a folder that moves whole."""
