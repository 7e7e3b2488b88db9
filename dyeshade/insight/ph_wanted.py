"""Which pH comes nearest to a wanted shade, and which bath to run next to learn most."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.common_part import light_change
from dyeshade.insight.interval import DifferenceInterval, difference_interval
from dyeshade.insight.metric import normal_points
from dyeshade.insight.ph_curve import PhCurve
from dyeshade.insight.ph_series import PhSeries, SeriesPoint

Array = NDArray[np.float64]

_STEP = 0.05
_REACH = 0.5
"""How far beyond the measured pH a next bath may be proposed; it then says so."""


@dataclass(frozen=True, eq=False)
class WantedPh:
    """The pH whose shade comes nearest to a wanted one, within what was measured.

    Attributes
    ----------
    ph : float
    low, high : float
        Its 95 % interval.
    lab : tuple of 3 floats
        The shade there.
    difference : DifferenceInterval
        Between that shade and the wanted one.
    at_end : bool
        True at the end of the measured pH: a nearer shade may lie beyond it.
    grid, chances : ndarray, shape (m,)
        How likely each pH of a grid is the nearest.
    """

    ph: float
    low: float
    high: float
    lab: tuple[float, float, float]
    difference: DifferenceInterval
    at_end: bool
    grid: Array
    chances: Array


@dataclass(frozen=True)
class NextBath:
    """The bath from which most would be learnt.

    Attributes
    ----------
    ph : float
    spread_now, spread_then : float
        Standard uncertainty of the curve in CIEDE2000 where it matters (about the wanted shade, or
        all along), now and after that bath.
    beyond : bool
        True outside the measured pH.
    """

    ph: float
    spread_now: float
    spread_then: float
    beyond: bool


def nearest_point(
    series: Iterable[PhSeries], wanted: ArrayLike
) -> tuple[PhSeries, SeriesPoint, float] | None:
    """The reading of several series that comes nearest to a shade; no curve is fitted.

    Parameters
    ----------
    series : iterable of PhSeries
    wanted : array_like, shape (3,)
        L*, a*, b*.

    Returns
    -------
    (PhSeries, SeriesPoint, float) or None
        With its CIEDE2000; None without series.
    """
    points = [(one, point) for one in series for point in one.points]
    if not points:
        return None
    away = ciede2000(np.array([point.taken.lab for _, point in points]), np.asarray(wanted, float))
    nearest = int(np.argmin(away))
    return (*points[nearest], float(away[nearest]))


def _grid(curve: PhCurve) -> Array:
    count = max(3, round((curve.highest - curve.lowest) / _STEP) + 1)
    return np.linspace(curve.lowest, curve.highest, count)


def nearest_ph(
    curve: PhCurve, wanted: ArrayLike, wanted_covariance: ArrayLike | None = None
) -> WantedPh:
    """Turn the curve round: from a wanted shade to a pH.

    Parameters
    ----------
    curve : PhCurve
    wanted : array_like, shape (3,)
        L*, a*, b*.
    wanted_covariance : array_like, shape (3, 3), optional
        Of a wanted shade that was measured; none for one that was typed.

    Returns
    -------
    WantedPh
    """
    target = np.asarray(wanted, float)
    spread = np.zeros((3, 3)) if wanted_covariance is None else np.asarray(wanted_covariance, float)
    grid = _grid(curve)
    labs, spreads = curve.at(grid)
    best = int(np.argmin(ciede2000(labs, target)))
    drawn = curve.draws(grid)
    values, axes = np.linalg.eigh(spread)
    points = normal_points(12)[: len(drawn)] @ (axes * np.sqrt(np.maximum(values, 0))).T
    nearest = np.argmin(ciede2000(drawn, (target + points)[:, None, :]), axis=1)
    chances = np.bincount(nearest, minlength=len(grid)) / len(nearest)
    half = (grid[1] - grid[0]) / 2
    low, high = np.quantile(grid[nearest], [0.025, 0.975])
    shade = (float(labs[best][0]), float(labs[best][1]), float(labs[best][2]))
    return WantedPh(
        float(grid[best]),
        max(min(float(low), float(grid[best])) - half, curve.lowest),
        min(max(float(high), float(grid[best])) + half, curve.highest),
        shade,
        difference_interval(target, labs[best], spreads[best] + spread),
        best in (0, len(grid) - 1),
        grid,
        chances,
    )


def next_bath(curve: PhCurve, wanted: WantedPh | None = None) -> NextBath:
    """The pH of the next bath from which most would be learnt of the curve.

    Parameters
    ----------
    curve : PhCurve
        Best as the set-up sees it (`fit_curve` with `as_seen`), where there is one.
    wanted : WantedPh, optional
        The curve then matters where the wanted shade may be; all along the measured pH otherwise.

    Returns
    -------
    NextBath

    References
    ----------
    Cohn, D. A. (1996). Neural network exploration using optimal experiment design. Neural Networks
    9(6), 1071-1083 (choose what lowers the mean variance most).
    """
    grid = _grid(curve)[::2]
    weight = np.full(len(grid), 1.0 / len(grid))
    if wanted is not None:
        weight = np.interp(grid, wanted.grid, wanted.chances) + 1e-6
        weight = weight / weight.sum()
    reach = max(curve.lowest - _REACH, 0.0), min(curve.highest + _REACH, 14.0)
    asked = np.linspace(*reach, round((reach[1] - reach[0]) / 0.1) + 1)
    both = np.concatenate([grid, asked])
    count, total = len(grid), len(both)
    own_error = _error_of_a_bath(curve)
    now, gain = 0.0, np.zeros(len(asked))
    for (share, _, left), part in zip(curve.steps_at(both), curve.parts, strict=True):
        blocks = left.reshape(total, 3, total, 3)
        here = np.einsum("iaia->i", blocks)[:count]
        now += share * float(weight @ here)
        error = own_error + np.exp(2 * part.logs[4]) * np.eye(3)
        for k in range(len(asked)):
            across = blocks[:count, :, count + k, :]
            solved = np.linalg.inv(blocks[count + k, :, count + k, :] + error)
            gain[k] += share * float(weight @ np.einsum("iab,bc,iac->i", across, solved, across))
    best = int(np.argmax(gain))
    ph = float(asked[best])
    return NextBath(
        round(ph, 1),
        float(np.sqrt(now)),
        float(np.sqrt(max(now - gain[best], 0.0))),
        not curve.lowest <= ph <= curve.highest,
    )


def _error_of_a_bath(curve: PhCurve) -> Array:
    """Covariance in steps of one more reading, of the typical photo.

    Where the curve is as one set-up sees it, the next bath is taken to be seen by the same one.
    """
    shades = [point.taken.reading.shade for point in curve.series.points]
    error = np.median([shade.covariance_photo for shade in shades], axis=0)
    if not curve.as_seen:
        error = error + np.median([shade.covariance_common for shade in shades], axis=0)
    lights = [one.taken.light for one in curve.series.points if one.taken.light is not None]
    if lights:
        error = error + light_change(curve.middle, lights[-1]) / 2
    return np.asarray(curve.root @ error @ curve.root.T)
