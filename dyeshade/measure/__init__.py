"""From a photo with greys to shades with their uncertainty."""
