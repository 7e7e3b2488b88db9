"""What a camera's errors with two colours have in common.

A camera errs with a faded shade nearly as it errs with the fresh one, so most of that error leaves
their difference; the further apart the two are, the less. The figure comes of measured cameras:
``tests/studies/drift_constants.py`` makes it and the tests hold it to cameras that were not used.
That a maker's rendering behaves alike is an assumption.
"""

from __future__ import annotations

import math

ALIKE_SCALE = 32.0
"""CIEDE2000 over which a camera's errors with two shades of one dye become unlike."""


def alike(difference: float) -> float:
    """Correlation (0..1) of one camera's errors with two shades, by their CIEDE2000."""
    return math.exp(-((difference / ALIKE_SCALE) ** 2) / 2)
