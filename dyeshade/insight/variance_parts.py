"""Spread taken apart: between baths, between pieces of a bath, between readings of a piece.

Restricted maximum likelihood (REML) for nested random effects, since baths rarely have equally
many pieces and pieces rarely equally many readings. Where they have, and no part comes out below
zero, it gives what the table of an analysis of variance gives.

References
----------
ISO 5725-3:2023, Accuracy of measurement methods and results, part 3: intermediate precision and
alternative designs (nested designs).
Searle, S. R., Casella, G. and McCulloch, C. E. (1992). Variance Components, 6.6 (REML).
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq, minimize

Array = NDArray[np.float64]

PROFILE_95 = 3.841459
"""By how much twice the log likelihood falls to the ends of a 95 % interval."""

PARTS = ("bath", "piece", "reading")


@dataclass(frozen=True, eq=False)
class Nested:
    """Readings at one set of conditions.

    Attributes
    ----------
    values : ndarray, shape (n, k)
        k numbers a reading, all taken to spread alike.
    baths, pieces : sequence of n names
        Which bath and which piece each is of; a piece is of one bath.
    """

    values: Array
    baths: Sequence[Hashable]
    pieces: Sequence[Hashable]


@dataclass(frozen=True)
class SpreadPart:
    """A standard deviation with its 95 % interval; `stated` where it was given, not estimated."""

    sd: float
    low: float
    high: float
    stated: bool = False


@dataclass(frozen=True)
class VarianceParts:
    """Standard deviations between baths, pieces and readings.

    None for what nothing tells: a part of which there is no repeat anywhere. What it would have
    held is then in the part beside it (pieces in baths, or the other way round).
    """

    bath: SpreadPart | None
    piece: SpreadPart | None
    reading: SpreadPart | None


def variance_parts(
    groups: Sequence[Nested], reading_sd: float | None = None, intervals: bool = True
) -> VarianceParts:
    """Estimate the parts, pooled over groups that each have a mean of their own.

    Parameters
    ----------
    groups : sequence of Nested
    reading_sd : float, optional
        Standard deviation between readings of a piece, taken as known where no piece was read
        twice.
    intervals : bool
        Whether the ends are worked out too; they take most of the time.

    Returns
    -------
    VarianceParts
    """
    told = [group for group in groups if len(group.values) > 1]
    twice = any(len(set(group.pieces)) < len(group.pieces) for group in told)
    baths = any(len(set(group.baths)) > 1 for group in told)
    pieces = any(len(set(group.pieces)) > len(set(group.baths)) for group in told)
    free = [name for name, there in zip(PARTS, (baths, pieces, twice), strict=True) if there]
    stated = reading_sd is not None and not twice
    if not twice and not stated and free:
        # Nothing tells readings from pieces, or pieces from baths: all that is left is one part.
        free = [*free[:-1], "reading"]
    if not free:
        return VarianceParts(None, None, _stated(reading_sd) if stated else None)
    fixed = reading_sd if stated else None
    start = float(np.sqrt(np.mean([group.values.var(axis=0, ddof=1).mean() for group in told])))
    sums = _sums(told)
    best, sds = _fitted(sums, free, fixed, {}, max(start, 1e-6))
    found: dict[str, SpreadPart | None] = dict.fromkeys(PARTS)
    for name in free:
        low = high = sds[name]
        if intervals:
            low, high = _ends(sums, free, fixed, name, sds, best, max(start, 1e-6))
        found[name] = SpreadPart(sds[name], low, high)
    if stated:
        found["reading"] = _stated(reading_sd)
    if not twice and not stated:
        last = "piece" if pieces else "bath"
        found[last], found["reading"] = found["reading"], None
    return VarianceParts(found["bath"], found["piece"], found["reading"])


def _stated(sd: float | None) -> SpreadPart | None:
    return None if sd is None else SpreadPart(sd, sd, sd, True)


@dataclass(frozen=True, eq=False)
class _Sums:
    """What the likelihood needs of all readings: p pieces in b baths in g groups, k numbers."""

    count: Array
    mean: Array
    rest: float
    bath_of: NDArray[np.int64]
    group_of: NDArray[np.int64]


def _sums(groups: Sequence[Nested]) -> _Sums:
    count, mean, bath_of, group_of = [], [], [], []
    rest, baths = 0.0, 0
    for number, group in enumerate(groups):
        places: dict[tuple[Hashable, Hashable], list[int]] = {}
        for k, place in enumerate(zip(group.baths, group.pieces, strict=True)):
            places.setdefault(place, []).append(k)
        known: dict[Hashable, int] = {}
        for (bath, _), rows in places.items():
            if bath not in known:
                known[bath] = baths
                group_of.append(number)
                baths += 1
            values = group.values[rows]
            count.append(len(rows))
            mean.append(values.mean(axis=0))
            rest += float(((values - mean[-1]) ** 2).sum())
            bath_of.append(known[bath])
    return _Sums(
        np.array(count, float), np.array(mean), rest, np.array(bath_of), np.array(group_of)
    )


def twice_unlikely(groups: Sequence[Nested], bath: float, piece: float, reading: float) -> float:
    """Minus twice the restricted log likelihood of three standard deviations, but for a constant.

    Parameters
    ----------
    groups : sequence of Nested
    bath, piece, reading : float
    """
    return _twice_unlikely(_sums(groups), bath**2, piece**2, reading**2)


def _twice_unlikely(sums: _Sums, bath: float, piece: float, reading: float) -> float:
    """By variances; piece by piece, then bath by bath, then group by group (block inverses)."""
    numbers = sums.mean.shape[1]
    of_piece = reading + sums.count * piece
    weight = sums.count / of_piece
    baths, groups = len(sums.group_of), int(sums.group_of[-1]) + 1
    bath_weight = np.bincount(sums.bath_of, weight, baths)
    less = 1 + bath * bath_weight
    log_det = float((sums.count - 1).sum()) * np.log(reading)
    log_det += float(np.log(of_piece).sum() + np.log(less).sum())
    group_weight = np.bincount(sums.group_of, bath_weight / less, groups)
    square = sums.rest / reading
    for k in range(numbers):
        seen = sums.mean[:, k]
        seen = seen - seen.mean()
        bath_sum = np.bincount(sums.bath_of, weight * seen, baths)
        group_sum = np.bincount(sums.group_of, bath_sum / less, groups)
        square += float((weight * seen**2).sum() - (bath * bath_sum**2 / less).sum())
        square -= float((group_sum**2 / group_weight).sum())
    return float(square + numbers * (log_det + np.log(group_weight).sum()))


def _fitted(
    sums: _Sums,
    free: Sequence[str],
    fixed: float | None,
    held: dict[str, float],
    start: float,
) -> tuple[float, dict[str, float]]:
    """Twice the least unlikeliness and the standard deviations there, some of them held."""
    open_parts = [name for name in free if name not in held]
    base = dict.fromkeys(PARTS, 0.0) | held
    if fixed is not None:
        base["reading"] = fixed

    def cost(scaled: Array) -> float:
        sds = base | dict(zip(open_parts, np.abs(scaled) * start, strict=True))
        # Without a reading's own spread nothing would be left to weigh by.
        reading = max(float(sds["reading"]), 1e-6 * start)
        return _twice_unlikely(sums, sds["bath"] ** 2, sds["piece"] ** 2, reading**2)

    if not open_parts:
        return cost(np.zeros(0)), base
    best_cost, best = np.inf, np.zeros(len(open_parts))
    for first in (0.5,) if held else (0.7, 0.2):
        found = minimize(
            cost,
            np.full(len(open_parts), first),
            method="Nelder-Mead",
            options={"xatol": 1e-5, "fatol": 1e-7, "maxiter": 1000},
        )
        if found.fun < best_cost:
            best_cost, best = float(found.fun), np.abs(found.x)
    return best_cost, base | {
        name: float(value) * start for name, value in zip(open_parts, best, strict=True)
    }


def _ends(
    sums: _Sums,
    free: Sequence[str],
    fixed: float | None,
    name: str,
    sds: dict[str, float],
    best: float,
    start: float,
) -> tuple[float, float]:
    """Ends of the profile likelihood's 95 % interval of one part."""
    middle = sds[name]

    def fall(value: float) -> float:
        cost, _ = _fitted(sums, free, fixed, {name: value}, start)
        return cost - best - PROFILE_95

    least = 1e-5 * start
    low = 0.0
    if middle > least and fall(least) > 0:
        low = float(brentq(fall, least, middle, rtol=0.01))
    high = max(2.0 * middle, 0.5 * start)
    while fall(high) < 0 and high < 1e3 * start:
        high *= 2
    inside = max(middle, least)
    return low, float(brentq(fall, inside, high, rtol=0.01)) if fall(inside) < 0 else high
