"""Tone curves from coded values to linear light, as profiles state them.

References
----------
ICC.1:2022, 10.6 (curveType) and 10.18 (parametricCurveType).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dyeshade.cie.rgb_spaces import (
    SRGB_EXPONENT,
    SRGB_KNEE_CODED,
    SRGB_OFFSET,
    SRGB_SLOPE,
)


@dataclass(frozen=True)
class ParametricCurve:
    """linear = (a x + b)**g + e from x = d on, and c x + f below.

    Attributes
    ----------
    g, a, b, c, d, e, f : float
        As in ICC.1:2022, table 68, function type 4. A plain exponent is `ParametricCurve(g)`.
    """

    g: float
    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 0.0
    e: float = 0.0
    f: float = 0.0

    def __call__(self, coded: ArrayLike) -> NDArray[np.float64]:
        """Linear light, 0..1, of coded values, 0..1; any shape."""
        x = np.clip(np.asarray(coded, dtype=np.float64), 0.0, 1.0)
        powered = np.maximum(self.a * x + self.b, 0.0) ** self.g + self.e
        linear = np.where(x >= self.d, powered, self.c * x + self.f)
        return np.asarray(np.clip(linear, 0.0, 1.0))


@dataclass(frozen=True)
class TableCurve:
    """Linear light at evenly spaced coded values, straight lines between.

    Attributes
    ----------
    entries : tuple of float
        Two or more values, 0..1; the first at coded 0, the last at coded 1.
    """

    entries: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.entries) < 2:
            raise ValueError("a table of at least two entries")

    def __call__(self, coded: ArrayLike) -> NDArray[np.float64]:
        """Linear light, 0..1, of coded values, 0..1; any shape."""
        x = np.clip(np.asarray(coded, dtype=np.float64), 0.0, 1.0)
        places = np.linspace(0.0, 1.0, len(self.entries))
        return np.asarray(np.interp(x, places, self.entries))


Curve = ParametricCurve | TableCurve

SRGB_CURVE: Final = ParametricCurve(
    g=SRGB_EXPONENT,
    a=1.0 / (1.0 + SRGB_OFFSET),
    b=SRGB_OFFSET / (1.0 + SRGB_OFFSET),
    c=1.0 / SRGB_SLOPE,
    d=SRGB_KNEE_CODED,
)
