"""How near a shade has to come, unless somebody says otherwise."""

from __future__ import annotations

TOLERANCE = 2.0
"""CIEDE2000 within which a shade counts as met unless told (ours: just visible)."""
