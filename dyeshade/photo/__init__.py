"""From a photo's file to linear light: formats, profiles, orientation, what the camera noted."""
