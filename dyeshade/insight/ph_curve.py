"""Shade as a smooth function of pH, with its uncertainty, from the readings of a series.

A Gaussian process of three outputs. Each reading weighs by its own covariance; readings of one bath
share what differs from bath to bath; readings by one camera on one sheet share their common part,
so that it raises or lowers the whole curve and bends it little; an unsure pH counts by the slope of
the curve there. How fast shades turn and how far baths differ is not known from a handful of baths,
so curves for many such values are kept, each weighing as much as it is likely.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.linalg import cho_factor, cho_solve, cholesky
from scipy.optimize import minimize

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.cie.spread import u95_of
from dyeshade.errors import DyeshadeError
from dyeshade.insight.metric import metric_at, root_of
from dyeshade.insight.ph_kernel import (
    LIMITS,
    PRIOR_MEAN,
    Seen,
    covariance,
    seen_covariance,
    unlikely,
)
from dyeshade.insight.ph_rows import Rows, rows_of, same
from dyeshade.insight.ph_series import PhSeries

Array = NDArray[np.float64]

LEAST_BATHS = 3
"""Fewer baths are no curve."""

_LENGTHS = np.log([0.4, 0.6, 0.8, 1.0, 1.3, 1.8, 2.6])
_SPREADS = np.log([0.35, 0.6, 1.0, 1.5, 2.2])
_LEAST_WEIGHT = 0.02
# Slopes and what they add settle at once; values near the likeliest are looked at anyway.
_TURNS = 3
_ENOUGH = {"maxiter": 40, "ftol": 1e-6}
_SLOPE_STEP = 0.05


@dataclass(frozen=True)
class CurveValue:
    """The curve at one pH.

    Attributes
    ----------
    ph : float
    lab : tuple of 3 floats
    covariance : ndarray, shape (3, 3)
        Of the shade that this dyer's baths give on average there, in Lab units squared.
    u95 : float
        The CIEDE2000 within which that shade lies 95 times in 100.
    srgb : tuple of 3 ints
        For a swatch, 0..255; only near the shade where `in_gamut` is False.
    in_gamut : bool
    beyond : bool
        True below the lowest or above the highest pH that was measured.
    """

    ph: float
    lab: tuple[float, float, float]
    covariance: Array
    u95: float
    srgb: tuple[int, int, int]
    in_gamut: bool
    beyond: bool


@dataclass(frozen=True, eq=False)
class _Part:
    """One curve of those that are likely: its weight, logs of its values, and its factor."""

    weight: float
    logs: Array
    factor: tuple[Array, bool]
    solved: Array


@dataclass(frozen=True, eq=False)
class PhCurve:
    """A fitted series; made by `fit_curve`.

    Attributes
    ----------
    series : PhSeries
    lowest, highest : float
        The measured pH.
    length_ph : float
        Over which the shade turns: the likeliest value.
    as_seen : bool
        As `fit_curve`.
    bath_spread : float
        Standard deviation from bath to bath in each of three steps, in CIEDE2000: the likeliest.
    """

    series: PhSeries
    lowest: float
    highest: float
    length_ph: float
    bath_spread: float
    as_seen: bool
    middle: Array
    root: Array
    seen: Seen
    parts: tuple[_Part, ...]

    def steps_at(self, ph: Array) -> list[tuple[float, Array, Array]]:
        """Weight, mean (3 m,) and covariance (3 m, 3 m) of each likely curve, in steps."""
        told = []
        for part in self.parts:
            across = covariance(ph, self.seen.ph, part.logs)
            own = covariance(ph, ph, part.logs)
            left = own - across @ cho_solve(part.factor, across.T)
            told.append((part.weight, across @ part.solved, (left + left.T) / 2))
        return told

    def at(self, ph: ArrayLike) -> tuple[Array, Array]:
        """Lab, shape (m, 3), and its covariance, shape (m, 3, 3), at some pH."""
        asked = np.atleast_1d(np.asarray(ph, float))
        count = len(asked)
        told = self.steps_at(asked)
        mean = sum((weight * part for weight, part, _ in told), np.zeros(3 * count))
        steps = mean.reshape(count, 3)
        spread = np.zeros((count, 3, 3))
        for weight, part, left in told:
            off = part.reshape(count, 3) - steps
            blocks = left.reshape(count, 3, count, 3)[np.arange(count), :, np.arange(count), :]
            spread += weight * (blocks + off[:, :, None] * off[:, None, :])
        back = np.linalg.inv(self.root)
        return self.middle + steps @ back.T, back @ spread @ back.T

    def values(self, ph: ArrayLike) -> tuple[CurveValue, ...]:
        """All that a plot or a strip of swatches needs, at some pH."""
        asked = np.atleast_1d(np.asarray(ph, float))
        told = []
        for one, lab, spread in zip(asked, *self.at(asked), strict=True):
            srgb, in_gamut = lab_to_srgb(lab)
            shade = (float(lab[0]), float(lab[1]), float(lab[2]))
            told.append(
                CurveValue(
                    float(one),
                    shade,
                    spread,
                    u95_of(lab, spread),
                    srgb,
                    in_gamut,
                    not self.lowest - 1e-9 <= one <= self.highest + 1e-9,
                )
            )
        return tuple(told)

    def along(self, count: int = 61) -> tuple[CurveValue, ...]:
        """Values evenly along the measured pH."""
        return self.values(np.linspace(self.lowest, self.highest, count))

    def draws(self, ph: Array, count: int = 600) -> Array:
        """Curves that what was seen allows, each as often as it is likely, shape (count, m, 3).

        In Lab; always the same ones for the same series. Between pH 0.1 apart they run straight.
        """
        random = np.random.default_rng(20)
        back = np.linalg.inv(self.root)
        drawn = []
        coarse = np.linspace(ph[0], ph[-1], max(2, round(float(ph[-1] - ph[0]) / 0.1) + 1))
        told = self.steps_at(coarse)
        shares = np.cumsum([0.0, *(weight for weight, _, _ in told)]) * count
        for (_, mean, left), start, end in zip(told, shares, shares[1:], strict=False):
            number = round(float(end)) - round(float(start))
            if number:
                jitter = 1e-6 * np.eye(len(mean))
                root = cholesky(left + jitter, lower=True)
                drawn.append(mean + random.standard_normal((number, len(mean))) @ root.T)
        steps = np.concatenate(drawn).reshape(-1, len(coarse), 3)
        place = np.interp(ph, coarse, np.arange(len(coarse)))
        left_of = np.minimum(place.astype(int), len(coarse) - 2)
        part = (place - left_of)[:, None]
        between = steps[:, left_of] * (1 - part) + steps[:, left_of + 1] * part
        return np.asarray(self.middle + between @ back.T)


def fit_curve(series: PhSeries, as_seen: bool = False) -> PhCurve:
    """Fit a smooth curve to a series.

    Parameters
    ----------
    series : PhSeries
    as_seen : bool
        True for the curve as this camera and sheet see it, without what they err alike: to be set
        beside another reading by them. All readings must be by one set-up then.

    Returns
    -------
    PhCurve

    Raises
    ------
    DyeshadeError
        ``few_baths`` (baths, needed): fewer than `LEAST_BATHS` pH that differ.
    """
    ph = np.array([point.ph for point in series.points])
    differing = len(np.unique(ph))
    if differing < LEAST_BATHS:
        raise DyeshadeError("few_baths", baths=differing, needed=LEAST_BATHS)
    rows = rows_of(series)
    middle = rows.lab.mean(axis=0)
    root = root_of(metric_at(middle))
    shade = ((rows.lab - middle) @ root.T).ravel()
    error = _reading_errors(rows, root, as_seen)
    slope_error = np.zeros_like(error)
    logs = PRIOR_MEAN.copy()
    for turn in range(_TURNS):
        seen = Seen(rows.ph, shade, error + slope_error, rows.same_bath)
        logs = minimize(
            unlikely, logs, args=(seen,), method="L-BFGS-B", bounds=LIMITS, options=_ENOUGH
        ).x
        if turn < _TURNS - 1:
            slope_error = _slope_errors(seen, logs, rows)
    return PhCurve(
        series,
        float(ph.min()),
        float(ph.max()),
        float(np.exp(logs[0])),
        float(np.exp(logs[4])),
        as_seen,
        middle,
        root,
        seen,
        _likely_parts(seen, logs),
    )


def _likely_parts(seen: Seen, logs: Array) -> tuple[_Part, ...]:
    near = []
    for length in _LENGTHS:
        for spread in _SPREADS:
            moved = logs + np.array([length, 0, 0, 0, spread])
            near.append((unlikely(moved, seen), moved))
    best = min(cost for cost, _ in near)
    weighed = [(float(np.exp(best - cost)), moved) for cost, moved in near]
    total = sum(weight for weight, _ in weighed)
    kept = [(weight, moved) for weight, moved in weighed if weight / total >= _LEAST_WEIGHT]
    total = sum(weight for weight, _ in kept)
    parts = []
    for weight, moved in kept:
        factor = cho_factor(seen_covariance(seen, moved), lower=True)
        parts.append(_Part(weight / total, moved, factor, cho_solve(factor, seen.shade)))
    return tuple(parts)


def _reading_errors(rows: Rows, root: Array, as_seen: bool) -> Array:
    """Covariance of the rows' errors in steps, shape (3 n, 3 n): own and common parts."""
    count = len(rows.ph)
    assert not as_seen or len(set(rows.set_ups)) == 1, "several set-ups see no one curve"
    error = np.zeros((count, 3, count, 3))
    for k in range(count):
        error[k, :, k, :] += root @ rows.own[k] @ root.T
    for name in () if as_seen else dict.fromkeys(rows.set_ups):
        # What one set-up errs alike moves its readings together. It is taken to be one shift, so
        # that the curve runs where its readings lie, and only its level is as unsure as they are.
        inside = np.array([float(one == name) for one in rows.set_ups])
        common = np.einsum("i,iab->ab", inside, rows.common) / inside.sum()
        shift = np.outer(inside, inside)
        error += shift[:, None, :, None] * (root @ common @ root.T)[None, :, None, :]
    return np.asarray(error.reshape(3 * count, 3 * count))


def _slope_errors(seen: Seen, logs: Array, rows: Rows) -> Array:
    """What unsure pH adds to the shades' errors in steps, shape (3 n, 3 n)."""
    factor = cho_factor(seen_covariance(seen, logs), lower=True)
    solved = cho_solve(factor, seen.shade)
    sides = [
        covariance(seen.ph + step, seen.ph, logs) @ solved for step in (_SLOPE_STEP, -_SLOPE_STEP)
    ]
    slope = (sides[0] - sides[1]) / (2 * _SLOPE_STEP)
    sd = np.repeat(rows.ph_sd, 3)
    # One pH reading of a bath errs for all that was dyed in it.
    shared = np.kron(same(rows.baths), np.ones((3, 3)))
    return np.asarray(np.outer(slope * sd, slope * sd) * shared)
