"""What the errors of two readings have in common, and what the light of another day changes.

A camera errs with a faded shade nearly as it errs with the fresh one, so most of that error leaves
their difference; the further apart the two are, the less. The figures come of measured cameras:
``tests/studies/drift_constants.py`` makes them and the tests hold them to cameras that were not
used. That a maker's rendering behaves alike is an assumption.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.camera_colours import vividness, weighted_axes
from dyeshade.measure.lights import spread_name

Array = NDArray[np.float64]

ALIKE_SCALE = 32.0
"""CIEDE2000 over which a camera's errors with two shades of one dye become unlike."""

_LIGHT_CHANGE: Mapping[str, tuple[tuple[float, ...], tuple[float, ...]]] = {
    "daylight": ((0.0, 0.481, 0.466), (0.620, 0.0, 1.061)),
    "led": ((0.0, 0.911, 0.0), (1.637, 1.962, 3.682)),
    "fluorescent": ((0.237, 1.143, 0.548), (1.540, 1.090, 2.635)),
    # Filament lamps differ little from one another.
    "incandescent": ((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)),
}
"""Between two photos in one kind of light, spreads of lightness, chroma and hue in CIEDE2000's
weights: of a neutral, and added in quadrature for a vivid shade."""


def alike(difference: float) -> float:
    """Correlation (0..1) of one camera's errors with two shades, by their CIEDE2000."""
    return math.exp(-((difference / ALIKE_SCALE) ** 2) / 2)


def light_change(lab: Array, light: str) -> Array:
    """Covariance that the light of another day adds to a difference, its white divided out.

    Parameters
    ----------
    lab : ndarray, shape (3,)
    light : str
        One of `dyeshade.measure.lights.KINDS`.

    Returns
    -------
    ndarray, shape (3, 3)
        In Lab units squared.
    """
    neutral, vivid = (np.array(part) for part in _LIGHT_CHANGE[spread_name(light)])
    vividly = float(vividness(float(np.hypot(lab[1], lab[2]))))
    axes = weighted_axes(lab)
    return np.asarray((axes * (neutral**2 + (vivid * vividly) ** 2)) @ axes.T)
