"""What the light of another day changes, for readings whose signals were not kept.

The figures come of measured cameras: ``tests/studies/drift_constants.py`` makes them and the tests
hold them to cameras that were not used. What errors have in common is `dyeshade.measure`'s to say.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.camera_colours import vividness, weighted_axes
from dyeshade.measure.lights import spread_name

Array = NDArray[np.float64]

_LIGHT_CHANGE: Mapping[str, tuple[tuple[float, ...], tuple[float, ...]]] = {
    "daylight": ((0.0, 0.481, 0.466), (0.620, 0.0, 1.061)),
    "led": ((0.0, 0.911, 0.0), (1.637, 1.962, 3.682)),
    "fluorescent": ((0.065, 1.065, 0.296), (2.087, 1.946, 3.602)),
    # Filament lamps differ little from one another.
    "incandescent": ((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)),
}
"""Between two photos in one kind of light, spreads of lightness, chroma and hue in CIEDE2000's
weights: of a neutral, and added in quadrature for a vivid shade."""


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
