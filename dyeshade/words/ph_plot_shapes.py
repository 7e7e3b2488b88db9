"""The shapes of a plot of a bath on its way to a pH, as shares of its width and height.

From the left: the readings after each addition, in even steps; then what a further amount would
make of the bath. Upwards: pH.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from dyeshade.bath.reach.plot import ReachPlot

Point = tuple[float, float]
_ROOM = 0.6
_TO_COME = 1.6
"""Width of what would come, in steps."""
_LABEL = 0.08
_BESIDE = 0.06


@dataclass(frozen=True)
class BoundShape:
    """A line across: target, ceiling or floor, with the place of its words."""

    kind: str
    y: float
    label_y: float
    words: str


@dataclass(frozen=True)
class ReadShape:
    """A reading with how far it may be off."""

    x: float
    y: float
    low: float
    high: float


@dataclass(frozen=True)
class PlotShapes:
    """All that is painted; x from the left and y from below, both 0 to 1.

    Attributes
    ----------
    beyond : tuple of (float, float)
        From and to: where the fibre does not bear it.
    bands : tuple of polygons
        95 % of what fits the log.
    lines : tuple of polylines
        The middle of it.
    ph_marks, step_marks : tuple of (float, str)
    in_words : str
        The same for who does not see it.
    """

    beyond: tuple[tuple[float, float], ...]
    bands: tuple[tuple[Point, ...], ...]
    lines: tuple[tuple[Point, ...], ...]
    readings: tuple[ReadShape, ...]
    bounds: tuple[BoundShape, ...]
    ph_marks: tuple[tuple[float, str], ...]
    step_marks: tuple[tuple[float, str], ...]
    in_words: str


def plot_shapes(plot: ReachPlot, unit: str = "") -> PlotShapes:
    """The shapes of a plot.

    Parameters
    ----------
    plot : ReachPlot
    unit : str
        Of what would be added.
    """
    low, high = _span(plot)

    def up(ph: float) -> float:
        return (min(max(ph, low - 5), high + 5) - low) / (high - low)

    steps = len(plot.believed)
    wide = 0.5 + (steps - 1) + (_TO_COME if plot.to_come else 0.0) + 0.5

    def along(step: float) -> float:
        return (0.5 + step) / wide

    bands = [_band([(along(k), up(s.low), up(s.high)) for k, s in enumerate(plot.believed)])]
    lines = [tuple((along(k), up(s.median)) for k, s in enumerate(plot.believed))]
    if steps == 1:
        only = plot.believed[0]
        x = along(0.0)
        edge = 0.04
        ends = (x - edge, x + edge)
        bands = [_band([(end, up(only.low), up(only.high)) for end in ends])]
        lines = [((x - edge, up(only.median)), (x + edge, up(only.median)))]
    step_marks = [(along(0.0), "before")]
    step_marks += [(along(float(k)), str(k)) for k in range(1, steps)]
    if plot.to_come:
        most = plot.to_come[-1].amount
        come = [(along(steps - 1 + _TO_COME * one.amount / most), one.ph) for one in plot.to_come]
        bands.append(_band([(x, up(ph.low), up(ph.high)) for x, ph in come]))
        lines.append(tuple((x, up(ph.median)) for x, ph in come))
        step_marks.append((along(steps - 1 + _TO_COME), f"+ {most:.3g} {unit}".rstrip()))
    readings = tuple(
        ReadShape(
            along(one.step + _aside(plot, k)),
            up(one.ph),
            up(one.ph - one.error),
            up(one.ph + one.error),
        )
        for k, one in enumerate(plot.read)
    )
    marks = range(math.ceil(low), math.floor(high) + 1)
    return PlotShapes(
        ((up(plot.ceiling), 1.0), (0.0, max(up(plot.floor), 0.0))),
        tuple(bands),
        tuple(lines),
        readings,
        _bounds(plot, up),
        tuple((up(float(ph)), str(ph)) for ph in marks),
        tuple(step_marks),
        _in_words(plot),
    )


def _aside(plot: ReachPlot, place: int) -> float:
    """Readings after one addition stand beside each other."""
    step = plot.read[place].step
    same = [k for k, one in enumerate(plot.read) if one.step == step]
    return _BESIDE * (same.index(place) - (len(same) - 1) / 2)


def _span(plot: ReachPlot) -> tuple[float, float]:
    """The pH at the lower and upper edge: all readings, the target, and bounds that are near."""
    seen = [plot.target]
    seen += [one.ph - one.error for one in plot.read] + [one.ph + one.error for one in plot.read]
    for spread in (*plot.believed, *(one.ph for one in plot.to_come)):
        seen += [spread.low, spread.high]
    low, high = min(seen) - _ROOM, max(seen) + _ROOM
    if plot.ceiling < high + 2.0:
        high = max(high, plot.ceiling + _ROOM)
    if plot.floor > low - 1.0:
        low = min(low, plot.floor - _ROOM)
    return max(low, -0.5), min(high, 14.5)


def _bounds(plot: ReachPlot, up: Callable[[float], float]) -> tuple[BoundShape, ...]:
    found = []
    above = 2.0
    for kind, ph, words in (
        ("ceiling", plot.ceiling, f"ceiling {plot.ceiling:g}"),
        ("target", plot.target, f"target {plot.target:g}"),
        ("floor", plot.floor, f"floor {plot.floor:g}"),
    ):
        y = up(ph)
        if not 0.0 <= y <= 1.0:
            continue
        # Words that would lie on each other are moved apart.
        label = min(y, above - _LABEL)
        found.append(BoundShape(kind, y, label, words))
        above = label
    return tuple(found)


def _band(edges: list[tuple[float, float, float]]) -> tuple[Point, ...]:
    lower = [(x, low) for x, low, _ in edges]
    return (*lower, *((x, high) for x, _, high in reversed(edges)))


def _in_words(plot: ReachPlot) -> str:
    read = ", ".join(
        f"{one.ph:g} {'before any addition' if one.step == 0 else f'after addition {one.step}'}"
        for one in plot.read
    )
    now = plot.believed[-1]
    return (
        f"Read: {read}. Now pH {now.median:.1f}, between {now.low:.1f} and {now.high:.1f}. "
        f"Target {plot.target:g}, ceiling {plot.ceiling:g}, floor {plot.floor:g}."
    )
