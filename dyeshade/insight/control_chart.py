"""A Shewhart chart of single values, with its moving range.

Constants are those for ranges of two values; the rules are the usual ones. The standard's text is
from memory.

References
----------
ISO 7870-2:2023, Control charts, part 2: Shewhart control charts (individuals and moving ranges;
tests for special causes).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

D2 = 1.128
"""Mean range of two values, in standard deviations."""

RANGE_LIMIT = 3.267
"""Upper limit of a moving range, in mean moving ranges (D4 for two values)."""

RULES = ("beyond_limits", "two_of_three", "seven_on_one_side", "seven_one_way", "jump")
"""Why a value is a warning: beyond three standard deviations; two of three beyond two of them on
one side; seven in a row on one side of the centre; seven in a row rising or falling; a moving range
beyond its limit."""


@dataclass(frozen=True)
class ChartPoint:
    """A value on the chart.

    Attributes
    ----------
    value : float
    moving_range : float or None
        From the value before; None for the first.
    learning : bool
        True for those that the limits were made of.
    warnings : tuple of str
        Of `RULES`.
    """

    value: float
    moving_range: float | None
    learning: bool
    warnings: tuple[str, ...]


@dataclass(frozen=True)
class ControlChart:
    """Values in their order with centre line and limits."""

    centre: float
    sd: float
    mean_range: float
    points: tuple[ChartPoint, ...]

    @property
    def lower(self) -> float:
        """Lower control limit."""
        return self.centre - 3 * self.sd

    @property
    def upper(self) -> float:
        """Upper control limit."""
        return self.centre + 3 * self.sd

    @property
    def range_upper(self) -> float:
        """Upper control limit of the moving range."""
        return RANGE_LIMIT * self.mean_range


def control_chart(values: Sequence[float], learning: int, least_sd: float = 0.0) -> ControlChart:
    """Make a chart.

    Parameters
    ----------
    values : sequence of float
        In the order of time.
    learning : int
        How many of the first ones the centre and the limits are made of; at least 2.
    least_sd : float
        Limits are never narrower than three of these.

    Returns
    -------
    ControlChart
    """
    first = list(values[:learning])
    if len(first) < 2:
        raise ValueError("limits need two values at least")
    centre = sum(first) / len(first)
    ranges = [abs(b - a) for a, b in pairwise(values)]
    mean_range = sum(ranges[: len(first) - 1]) / (len(first) - 1)
    mean_range = max(mean_range, least_sd * D2)
    chart = ControlChart(centre, mean_range / D2, mean_range, ())
    points = [
        ChartPoint(
            value,
            ranges[k - 1] if k else None,
            k < len(first),
            _warnings(chart, values, ranges, k),
        )
        for k, value in enumerate(values)
    ]
    return ControlChart(centre, chart.sd, mean_range, tuple(points))


def _warnings(
    chart: ControlChart, values: Sequence[float], ranges: Sequence[float], k: int
) -> tuple[str, ...]:
    off = [(value - chart.centre) for value in values[: k + 1]]
    found = []
    if abs(off[-1]) > 3 * chart.sd:
        found.append("beyond_limits")
    three, seven = off[-3:], off[-7:]
    for side in (1, -1):
        # The latest must be one of the two: a value that is back within is no news.
        far = [side * one > 2 * chart.sd for one in three]
        if len(three) == 3 and far[-1] and sum(far) >= 2:
            found.append("two_of_three")
        if len(seven) == 7 and all(side * one > 0 for one in seven):
            found.append("seven_on_one_side")
        steps = [side * (b - a) for a, b in pairwise(seven)]
        if len(seven) == 7 and all(step > 0 for step in steps):
            found.append("seven_one_way")
    if k and ranges[k - 1] > chart.range_upper:
        found.append("jump")
    return tuple(found)
