"""A colour difference taken apart: lighter, more vivid, yellower."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dyeshade.cie.lab import lab_to_lch
from dyeshade.insight.metric import metric_at

Array = NDArray[np.float64]

SURE = 1.959964
"""Standard deviations beyond which a part is said: 95 in 100."""

NEUTRAL_CHROMA = 6.0
"""C*ab below which hue says little, and a*, b* are looked at instead (ours)."""

WAYS = (
    "lighter",
    "darker",
    "more_vivid",
    "less_vivid",
    "redder",
    "greener",
    "yellower",
    "bluer",
)
"""Ways that a shade can go."""


@dataclass(frozen=True)
class Parts:
    """ΔL*, ΔC*ab and ΔH*ab with their standard uncertainties, and the ways that are sure.

    Attributes
    ----------
    delta_l, delta_c, delta_h : float
        ΔH*ab is positive with the hue angle.
    sd_l, sd_c, sd_h : float
    ways : tuple of str
        Of `WAYS`, those whose part is beyond `SURE` times its uncertainty, the most seen first.
    """

    delta_l: float
    delta_c: float
    delta_h: float
    sd_l: float
    sd_c: float
    sd_h: float
    ways: tuple[str, ...]


def parts_of(lab_from: ArrayLike, lab_to: ArrayLike, covariance: ArrayLike) -> Parts:
    """Take a difference apart.

    Parameters
    ----------
    lab_from, lab_to : array_like, shape (3,)
    covariance : array_like, shape (3, 3)
        Of ``lab_to - lab_from``, in Lab units squared.

    Returns
    -------
    Parts

    References
    ----------
    CIE 15:2018, 8.2.1.4 (ΔC*ab, ΔH*ab).
    """
    one, other = np.asarray(lab_from, float), np.asarray(lab_to, float)
    matrix = np.asarray(covariance, float)
    _, c_1, h_1 = lab_to_lch(one)
    _, c_2, h_2 = lab_to_lch(other)
    turn = np.radians((h_2 - h_1 + 180) % 360 - 180)
    middle_hue = np.radians(h_1) + turn / 2
    along = np.array([0.0, np.cos(middle_hue), np.sin(middle_hue)])
    across = np.array([0.0, -np.sin(middle_hue), np.cos(middle_hue)])
    axes: list[Array] = [np.array([1.0, 0.0, 0.0]), along, across]
    sizes = [float(other[0] - one[0]), float(c_2 - c_1)]
    sizes.append(float(2 * np.sqrt(c_1 * c_2) * np.sin(turn / 2)))
    spreads = [math.sqrt(max(float(axis @ matrix @ axis), 0.0)) for axis in axes]
    told = [(axes[0], sizes[0], ("lighter", "darker"))]
    if (c_1 + c_2) / 2 < NEUTRAL_CHROMA:
        red, yellow = np.eye(3)[1], np.eye(3)[2]
        told.append((red, float(other[1] - one[1]), ("redder", "greener")))
        told.append((yellow, float(other[2] - one[2]), ("yellower", "bluer")))
    else:
        told.append((along, sizes[1], ("more_vivid", "less_vivid")))
        told.append((across, sizes[2], (_towards(across), _towards(-across))))
    ways = _ways(told, matrix, (one + other) / 2)
    return Parts(sizes[0], sizes[1], sizes[2], spreads[0], spreads[1], spreads[2], ways)


def _towards(direction: Array) -> str:
    """The plain name of a direction in the a* b* plane."""
    _, a, b = direction
    if abs(a) > abs(b):
        return "redder" if a > 0 else "greener"
    return "yellower" if b > 0 else "bluer"


def _ways(
    told: list[tuple[Array, float, tuple[str, str]]], covariance: Array, middle: Array
) -> tuple[str, ...]:
    metric = metric_at(middle)
    found: dict[str, float] = {}
    for axis, size, (upwards, downwards) in told:
        spread = math.sqrt(max(float(axis @ covariance @ axis), 0.0))
        if abs(size) > max(SURE * spread, 1e-9):
            seen = abs(size) * math.sqrt(float(axis @ metric @ axis))
            found[upwards if size > 0 else downwards] = seen
    return tuple(sorted(found, key=lambda way: -found[way]))
