"""Axes and shapes for plots: round ticks, days, the region of an uncertain a* b*."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import ArrayLike

from dyeshade.paper.plot import Axis, Point

CHI2_2 = 5.991465
"""95 % of a chi-square with two degrees of freedom: a plane's 95 % region."""

_STEPS = (1.0, 2.0, 5.0, 10.0)
_DAY_STEPS = (1, 2, 7, 14, 30, 60, 90, 180, 365, 730, 1825)
_RING = 36
_ROOM = 0.06


def number_axis(
    words: str,
    values: Sequence[float],
    least_span: float = 1.0,
    least: float | None = None,
    most: float | None = None,
) -> Axis:
    """An axis over values, with room at both ends and round ticks.

    Parameters
    ----------
    words : str
    values : sequence of float
        At least one.
    least_span : float
        What the axis spans at least.
    least, most : float, optional
        Beyond which it never goes.
    """
    low, high = min(values), max(values)
    lack = max(least_span - (high - low), 0.0) / 2
    room = _ROOM * max(high - low, least_span)
    low, high = low - lack - room, high + lack + room
    if least is not None and low < least:
        low, high = least, max(high, least + least_span)
    if most is not None and high > most:
        high = most
    return Axis(words, low, high, ticks_between(low, high))


def ticks_between(low: float, high: float, most: int = 6) -> tuple[tuple[float, str], ...]:
    """At most so many round values between two, with their words."""
    raw = (high - low) / most
    power = 10.0 ** math.floor(math.log10(raw))
    step = next(one * power for one in _STEPS if one * power >= raw * (1 - 1e-9))
    digits = max(0, -math.floor(math.log10(step) + 1e-9))
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return tuple(
        (k * step, f"{k * step:.{digits}f}".replace("-", "\u2212")) for k in range(first, last + 1)
    )


def days_since(begin: datetime, moment: datetime) -> float:
    """Days from one moment to another."""
    return (moment - begin) / timedelta(days=1)


def day_axis(words: str, begin: datetime, moments: Sequence[datetime], most: int = 6) -> Axis:
    """An axis of days since a beginning, with dates at its ticks.

    Parameters
    ----------
    words : str
    begin : datetime
    moments : sequence of datetime
        What it must reach over.
    most : int
        How many ticks.
    """
    days = [days_since(begin, one) for one in moments]
    low, high = min(days), max(days)
    if high - low < 1.0:
        # All on one day: that day is all there is to mark.
        return Axis(words, low - 1.0, high + 1.0, ((low, f"{min(moments):%Y-%m-%d}"),))
    room = max(_ROOM * (high - low), 0.5)
    low, high = low - room, high + room
    step = next((one for one in _DAY_STEPS if (high - low) / one <= most), None)
    if step is None:
        step = math.ceil((high - low) / most / 365) * 365
    midnight = datetime(begin.year, begin.month, begin.day)
    off = days_since(begin, midnight)
    first, last = math.ceil((low - off) / step), math.floor((high - off) / step)
    ticks = tuple(
        (off + k * step, f"{midnight + timedelta(days=k * step):%Y-%m-%d}")
        for k in range(first, last + 1)
    )
    return Axis(words, low, high, ticks)


def ring_around(middle: Point, covariance: ArrayLike) -> tuple[Point, ...]:
    """The 95 % region of a point in a plane, as a closed line.

    Parameters
    ----------
    middle : tuple of 2 floats
    covariance : array_like, shape (2, 2)
    """
    values, axes = np.linalg.eigh(np.asarray(covariance, float))
    root = axes * np.sqrt(np.maximum(values, 0.0) * CHI2_2)
    turn = np.linspace(0.0, 2 * np.pi, _RING + 1)
    points = np.asarray(middle) + np.column_stack([np.cos(turn), np.sin(turn)]) @ root.T
    return tuple((float(x), float(y)) for x, y in points)
