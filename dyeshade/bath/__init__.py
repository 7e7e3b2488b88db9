"""The dye bath in numbers: weights, volumes, chemistry, the way to a pH; no photos, no window."""
