"""How large a colour difference is, with its 95 % interval.

A difference has no sign: measured twice, a piece that has not moved at all still shows one above
zero. The interval therefore holds every difference that the pair of readings does not contradict
(a likelihood ratio test turned round), and it begins at 0 exactly where "has not moved" is not
contradicted either. In CIEDE2000 as a ruler near the pair, the readings' error is an ellipsoid and
"differs by r" is a sphere. How far from that sphere a reading may fall by chance lies between a chi
distribution with three degrees of freedom (r = 0, the sphere is a point) and one with a single
degree (r large, the sphere is a plane); between them the sphere's curvature decides, and for a
round error the result is exact. Nothing is drawn at random.

References
----------
Cox, D. R. and Hinkley, D. V. (1974). Theoretical Statistics, 7.2 (intervals from tests).
Feldman, G. J. and Cousins, R. D. (1998). Unified approach to the classical statistical analysis of
small signals. Physical Review D 57, 3873-3889 (ordering by likelihood ratio near a boundary).
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import brentq
from scipy.special import ndtr
from scipy.stats import chi2, ncx2

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.metric import metric_at, root_of, spread_points

Array = NDArray[np.float64]
Three = list[float]

CHI2_3 = float(chi2.ppf(0.95, 3))
"""What the squared, weighted length of a difference exceeds by chance 5 times in 100."""

SEEN = 0.9
"""Share of pairs that show "the smallest change this pair could have shown"."""

_LEAST_SPREAD = 1e-4
_FLAT = 60.0


@dataclass(frozen=True)
class DifferenceInterval:
    """A colour difference in CIEDE2000 units.

    Attributes
    ----------
    value : float
        Between the two stated shades.
    low, high : float
        The 95 % interval of the true difference; `low` is 0 where none is possible.
    smallest_shown : float
        A true difference of this size, all directions being as likely, would have been told from
        none 9 times in 10.
    significant : bool
        Whether "no difference" is contradicted (at 5 in 100).
    """

    value: float
    low: float
    high: float
    smallest_shown: float
    significant: bool


def difference_interval(
    lab_from: ArrayLike, lab_to: ArrayLike, covariance: ArrayLike
) -> DifferenceInterval:
    """The CIEDE2000 between two shades with its interval.

    Parameters
    ----------
    lab_from, lab_to : array_like, shape (3,)
    covariance : array_like, shape (3, 3)
        Of the error of ``lab_to - lab_from``, in Lab units squared, taken as normal.

    Returns
    -------
    DifferenceInterval
    """
    one, other = np.asarray(lab_from, float), np.asarray(lab_to, float)
    root = root_of(metric_at((one + other) / 2))
    values, axes = np.linalg.eigh(root @ np.asarray(covariance, float) @ root.T)
    spread = np.sqrt(np.maximum(values, _LEAST_SPREAD**2))
    seen = axes.T @ root @ (other - one)
    length = float(np.linalg.norm(seen))
    # Over large differences the formula bends away from the ruler; the ends bend with the middle.
    value = float(ciede2000(one, other))
    bend = value / length if length > 1e-6 else 1.0
    shown = _smallest_shown(spread)
    significant = float(np.sum((seen / spread) ** 2)) > CHI2_3
    # A centre on an axis of the ellipsoid has two nearest points beyond it: one is as good.
    spreads = [float(one) for one in spread]
    place = [
        float(x) if abs(x) > 1e-7 * s else 1e-7 * s for x, s in zip(seen, spreads, strict=True)
    ]
    length = math.hypot(*place)

    def contradicted(r: float) -> float:
        nearest = _nearest_on_sphere(place, spreads, r)
        ratio = sum(((x - m) / s) ** 2 for x, m, s in zip(place, nearest, spreads, strict=True))
        return ratio - _allowed(_curvature_radius(nearest, spreads)) ** 2

    low = _end(contradicted, length, 1e-6 * length) if significant else 0.0
    high = _end(contradicted, length, length + 4.0 * float(spread.max()))
    return DifferenceInterval(value, low * bend, high * bend, shown, significant)


def chance_below(
    lab_from: ArrayLike, lab_to: ArrayLike, covariance: ArrayLike, tolerance: float
) -> float:
    """The chance (0..1) that the true CIEDE2000 between two shades is at most a tolerance.

    References
    ----------
    JCGM 106:2012, 7 (probability of conformity; nothing else being known of the shades).
    """
    points = spread_points(lab_to, covariance)
    return float(np.mean(ciede2000(np.asarray(lab_from, float), points) <= tolerance))


def _end(contradicted: Callable[[float], float], inside: float, outside: float) -> float:
    while contradicted(outside) < 0 and outside > inside:
        outside = inside + 2 * (outside - inside)
    if contradicted(outside) < 0:
        return 0.0
    return float(brentq(contradicted, inside, outside, xtol=1e-4))


def _nearest_on_sphere(seen: Three, spread: Three, r: float) -> Three:
    """The point of length r that errors of this spread most easily turn into what was seen.

    References
    ----------
    Moré, J. J. and Sorensen, D. C. (1983). Computing a trust region step. SIAM Journal on
    Scientific and Statistical Computing 4(3), 553-572 (one over the length is nearly straight in
    the multiplier, so that Newton's steps go there from the far side).
    """
    square = [s * s for s in spread]
    if r >= math.hypot(*seen):
        # The widest axis alone makes the point too long here, or just long enough.
        widest = max(range(3), key=square.__getitem__)
        multiplier = (abs(seen[widest]) / r - 1) / square[widest]
    else:
        multiplier = 0.0
    point = seen
    for _ in range(50):
        stretch = [1 + multiplier * q for q in square]
        point = [x / t for x, t in zip(seen, stretch, strict=True)]
        length = math.hypot(*point)
        if abs(length - r) <= 1e-9 * r:
            break
        slope = sum(x * x * q / t for x, q, t in zip(point, square, stretch, strict=True))
        multiplier += (1 / r - 1 / length) * length**3 / slope
    return point


def _curvature_radius(point: Three, spread: Three) -> float:
    """Mean radius of curvature of the sphere through a point, in spreads of the error."""
    square = [s * s for s in spread]
    gradient = [s * x for s, x in zip(spread, point, strict=True)]
    steep = math.hypot(*gradient)
    if steep <= 1e-150:
        return 0.0
    along = sum((g / steep) ** 2 * q for g, q in zip(gradient, square, strict=True))
    return 2.0 * steep / (sum(square) - along)


@lru_cache(maxsize=1)
def _allowed_table() -> tuple[list[float], list[float]]:
    radii = [0.025 * k for k in range(160)] + [4.0 + 0.25 * k for k in range(4 * int(_FLAT) - 15)]
    return radii, [_allowed_at(radius) for radius in radii]


def _allowed(radius: float) -> float:
    """How far from a sphere of a radius 95 in 100 standard normal points about it lie."""
    radii, allowed = _allowed_table()
    k = bisect_right(radii, radius)
    if k >= len(radii):
        return allowed[-1]
    part = (radius - radii[k - 1]) / (radii[k] - radii[k - 1])
    return allowed[k - 1] + part * (allowed[k] - allowed[k - 1])


def _allowed_at(radius: float) -> float:
    if radius < 1e-3:
        return float(np.sqrt(CHI2_3))
    if radius >= _FLAT:
        return 1.959964

    def within(length: float) -> float:
        """Chance that a point about one at `radius` lies within `length` of the centre."""
        if length <= 0:
            return 0.0
        density = np.exp(-((length - radius) ** 2) / 2) - np.exp(-((length + radius) ** 2) / 2)
        both = ndtr(length - radius) + ndtr(length + radius) - 1
        return float(both - density / np.sqrt(2 * np.pi) / radius)

    return float(brentq(lambda k: within(radius + k) - within(radius - k) - 0.95, 1.0, 3.5))


def smallest_shown(lab: ArrayLike, covariance: ArrayLike) -> float:
    """`DifferenceInterval.smallest_shown` of differences near a shade."""
    root = root_of(metric_at(np.asarray(lab, float)))
    values = np.linalg.eigvalsh(root @ np.asarray(covariance, float) @ root.T)
    return _smallest_shown(np.sqrt(np.maximum(values, _LEAST_SPREAD**2)))


def _smallest_shown(spread: Array) -> float:
    lengths, power = _power_table()
    reach = np.sqrt(((_directions() / spread) ** 2).sum(axis=1))

    def missing(size: float) -> float:
        return float(np.interp(size * reach, lengths, power).mean()) - SEEN

    least, most = spread.min(), spread.max()
    return float(brentq(missing, least, 6.0 * most, xtol=1e-4))


@lru_cache(maxsize=1)
def _directions() -> Array:
    """Even over an eighth of a sphere, shape (64, 3): the others are its mirror images."""
    number = np.arange(64) + 0.5
    height = number / 64
    turn = np.pi / 2 * ((number * (np.sqrt(5) - 1) / 2) % 1)
    flat = np.sqrt(1 - height**2)
    return np.column_stack([flat * np.cos(turn), flat * np.sin(turn), height])


@lru_cache(maxsize=1)
def _power_table() -> tuple[Array, Array]:
    """How often a difference so many spreads long is told from none."""
    lengths = np.linspace(0.0, 9.0, 181)
    power = [0.05, *(float(ncx2.sf(CHI2_3, 3, length**2)) for length in lengths[1:])]
    return lengths, np.array(power)
