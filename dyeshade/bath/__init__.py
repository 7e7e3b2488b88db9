"""The dye bath in numbers: weights and volumes, its chemistry, the way to a pH; no photos, no window."""
