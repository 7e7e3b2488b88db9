"""One plot at its place on a page: its ground, axes, lines and swatches in millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from dyeshade.paper.page import POINT_MM, Rect
from dyeshade.paper.paper_page import ColourField, Outline, Shape, Stroke
from dyeshade.paper.plot import Axis, Band, Mark, Plot, Point
from dyeshade.paper.plot_axes import ticks_between
from dyeshade.paper.typeset import SetText, set_line, width_mm

GROUND = 119 / 255
"""Mid grey, L* 50: swatches look other on every other ground."""

_BAND = 0.62
_SWATCH, _HOLLOW = 4.2, 2.2
_THIN, _LINE, _FRAME = 0.2, 0.4, 0.7
_DASH, _GAP = 1.8, 1.2
_SLICE = 0.4
_AIR = 1.2
_UPRIGHT_ROWS = 3
_ROOM_TURNS = 4


@dataclass(frozen=True)
class Spot:
    """What can be pointed at: where it is, what it says, which reading it opens."""

    rect: Rect
    words: str
    reading_id: int | None = None


@dataclass
class Layers:
    """What is drawn, in order: words around the ground, the ground with lines, swatches.

    `frame` words lie outside the ground and take the colour of the page's ink; `inside` words lie
    on the ground and are black whatever the page is like.
    """

    shapes: list[Shape] = field(default_factory=list)
    patches: list[ColourField] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    swatches: list[ColourField] = field(default_factory=list)
    outlines: list[Outline] = field(default_factory=list)
    frame: list[SetText] = field(default_factory=list)
    inside: list[SetText] = field(default_factory=list)
    spots: list[Spot] = field(default_factory=list)


class PlacedPlot:
    """Puts a plot into a rectangle.

    Parameters
    ----------
    plot : Plot
    rect : tuple of 4 floats
        Left, top, width, height in mm, words included.
    points : float
        Size of the words.
    layers : Layers
        Takes what is drawn.
    beside : float
        Room in mm that words beside the y axis take at least, so that plots stand in line.
    """

    def __init__(
        self, plot: Plot, rect: Rect, points: float, layers: Layers, beside: float = 0.0
    ) -> None:
        self._plot, self._points, self._to = plot, points, layers
        self._line = points * POINT_MM * 1.35
        left, top, width, height = rect
        wide = max(words_beside(plot, points), beside)
        head = self._line * bool(plot.title or plot.y.words)
        self._uprights = self._upright_rows(width - wide)
        head += self._line * (max((row for row, _ in self._uprights), default=-1) + 1)
        foot = self._line * (bool(plot.x.ticks) + bool(plot.x.words)) + _AIR
        right = max((self._wide(one.words) for one in plot.levels), default=0.0)
        begin = left + wide + 2 * _AIR
        self.ground: Rect = (
            begin,
            top + head + _AIR / 2,
            max(left + width - begin - right - 2 * _AIR, 10.0),
            max(height - head - foot - _AIR, 6.0),
        )
        self._top = top
        self._x, self._y = self._equal() if plot.equal else (plot.x, self._roomy())

    def draw(self) -> None:
        """Draw everything."""
        self._to.shapes.append(Shape((self.ground,), GROUND))
        for band in self._plot.bands:
            self._to.shapes.append(Shape(tuple(self._slices(band)), _BAND))
        for patch in self._plot.patches:
            x0, x1 = (self.x(value) for value in patch.x)
            y1, y0 = (self.y(value) for value in patch.y)
            rect = (x0, y0, x1 - x0, y1 - y0)
            self._to.patches.append(ColourField(rect, patch.srgb))
            self._to.spots.append(Spot(rect, patch.words))
        self._draw_axes()
        self._draw_levels()
        self._draw_uprights()
        for curve in self._plot.curves:
            points = [(self.x(x), self.y(y)) for x, y in curve.points]
            self._stroke(points, _THIN if curve.thin else _LINE, curve.dashed)
        for mark in self._plot.marks:
            self._draw_mark(mark)
        for label in self._plot.labels:
            x, y = self.x(label.x), self.y(label.y)
            half = self._wide(label.words) / 2
            x = min(max(x, self.ground[0] + half), self.ground[0] + self.ground[2] - half)
            self._write(self._to.inside, label.words, x, y - _SWATCH / 2 - 0.6, "middle")

    def x(self, value: float) -> float:
        """Where a value of x lies, in mm; at the end for one beyond it."""
        left, _, width, _ = self.ground
        share = (value - self._x.low) / (self._x.high - self._x.low)
        return left + width * min(max(share, 0.0), 1.0)

    def y(self, value: float) -> float:
        """Where a value of y lies, in mm; at the end for one beyond it."""
        _, top, _, height = self.ground
        share = (value - self._y.low) / (self._y.high - self._y.low)
        return top + height * (1 - min(max(share, 0.0), 1.0))

    def _equal(self) -> tuple[Axis, Axis]:
        """Both axes with steps of one length: the one that has room is made longer."""
        x, y = self._plot.x, self._plot.y
        step = max((x.high - x.low) / self.ground[2], (y.high - y.low) / self.ground[3])
        longer = []
        for axis, size in ((x, self.ground[2]), (y, self.ground[3])):
            middle, half = (axis.low + axis.high) / 2, step * size / 2
            low, high = middle - half, middle + half
            longer.append(Axis(axis.words, low, high, ticks_between(low, high)))
        return longer[0], longer[1]

    def _roomy(self) -> Axis:
        """The y axis, longer where a swatch would reach out of the ground, into its words."""
        axis, height = self._plot.y, self.ground[3]
        values = [min(max(mark.y, axis.low), axis.high) for mark in self._plot.marks]
        if not values:
            return axis
        low, high = axis.low, axis.high
        for _ in range(_ROOM_TURNS):
            edge = (high - low) / height * (_SWATCH + _FRAME) / 2
            low, high = min(low, min(values) - edge), max(high, max(values) + edge)
        return Axis(axis.words, low, high, axis.ticks)

    def _draw_axes(self) -> None:
        left, top, width, height = self.ground
        plot, low = self._plot, top + height
        used = left - 99.0
        for value, words in self._x.ticks:
            x, half = self.x(value), self._wide(words) / 2
            self._to.strokes.append(Stroke((x, low - 1.0, x, low), _THIN))
            # Words that would run into each other are left out; their line stays.
            if x - half > used + _AIR:
                self._write(self._to.frame, words, x, low + self._line, "middle")
                used = x + half
        for value, words in self._y.ticks:
            y = self.y(value)
            self._to.strokes.append(Stroke((left, y, left + 1.0, y), _THIN))
            down = self._points * POINT_MM * 0.35
            self._write(self._to.frame, words, left - _AIR, y + down, "right")
        below = low + self._line * (1 + bool(plot.x.ticks))
        self._write(self._to.frame, plot.x.words, left + width, below, "right")
        head = ": ".join(filter(None, (plot.title, plot.y.words)))
        self._write(self._to.frame, head, left, self._top + self._line * 0.8, "left")

    def _draw_levels(self) -> None:
        left, _, width, _ = self.ground
        for level in self._plot.levels:
            y = self.y(level.y)
            self._stroke([(left, y), (left + width, y)], _THIN, level.dashed)
            down = self._points * POINT_MM * 0.35
            self._write(self._to.frame, level.words, left + width + _AIR, y + down, "left")

    def _upright_rows(self, width: float) -> list[tuple[int, bool]]:
        """For each upright the row of its words, and whether there is room for them at all."""
        rows = [-1e9] * _UPRIGHT_ROWS
        axis, told = self._plot.x, []
        for one in self._plot.uprights:
            if not one.words:
                told.append((-1, False))
                continue
            middle = width * (one.x - axis.low) / (axis.high - axis.low)
            half = self._wide(one.words) / 2
            row = next((k for k, end in enumerate(rows) if middle - half > end + _AIR), None)
            if row is not None:
                rows[row] = middle + half
            told.append((-1 if row is None else row, row is not None))
        return told

    def _draw_uprights(self) -> None:
        left, top, width, height = self.ground
        for one, (row, room) in zip(self._plot.uprights, self._uprights, strict=True):
            x = self.x(one.x)
            self._stroke([(x, top), (x, top + height)], _THIN, one.dashed)
            if room:
                half = self._wide(one.words) / 2
                middle = min(max(x, left + half), left + width - half)
                above = top - _AIR / 2 - row * self._line - 0.6
                self._write(self._to.frame, one.words, middle, above, "middle")
            if one.words:
                self._to.spots.append(Spot((x - 1.0, top, 2.0, height), one.words))

    def _draw_mark(self, mark: Mark) -> None:
        x, y = self.x(mark.x), self.y(mark.y)
        if mark.y_ends is not None:
            low, high = (self.y(value) for value in mark.y_ends)
            self._to.strokes.append(Stroke((x, low, x, high), _THIN))
            for end in (low, high):
                self._to.strokes.append(Stroke((x - 1.0, end, x + 1.0, end), _THIN))
        if mark.x_ends is not None:
            low, high = (self.x(value) for value in mark.x_ends)
            self._to.strokes.append(Stroke((low, y, high, y), _THIN))
            for end in (low, high):
                self._to.strokes.append(Stroke((end, y - 1.0, end, y + 1.0), _THIN))
        if mark.ring:
            self._stroke([(self.x(a), self.y(b)) for a, b in mark.ring], _THIN, False)
        size = _HOLLOW if mark.srgb is None else _SWATCH
        rect = (x - size / 2, y - size / 2, size, size)
        if mark.srgb is not None:
            self._to.swatches.append(ColourField(rect, mark.srgb))
        grey, width = (1.0, _FRAME) if mark.chosen else (0.0, _THIN)
        self._to.outlines.append(Outline(rect, grey, width))
        self._to.spots.append(Spot(rect, mark.words, mark.reading_id))

    def _slices(self, band: Band) -> Iterator[Rect]:
        for (x0, low0, high0), (x1, low1, high1) in pairwise(band.points):
            begin, end = self.x(x0), self.x(x1)
            count = max(1, round((end - begin) / _SLICE))
            for k in range(count):
                share = (k + 0.5) / count
                high = self.y(high0 + share * (high1 - high0))
                low = self.y(low0 + share * (low1 - low0))
                yield (begin + (end - begin) * k / count, high, (end - begin) / count, low - high)

    def _stroke(self, points: Sequence[Point], width: float, dashed: bool) -> None:
        lines = _dashes(points) if dashed else [(*a, *b) for a, b in pairwise(points)]
        self._to.strokes += [Stroke(line, width) for line in lines]

    def _wide(self, words: str) -> float:
        return width_mm(words, "sans", self._points)

    def _write(self, to: list[SetText], words: str, x: float, baseline: float, at: str) -> None:
        if words:
            x -= self._wide(words) * {"left": 0.0, "middle": 0.5, "right": 1.0}[at]
            to += set_line(words, "sans", self._points, x, baseline)


def words_beside(plot: Plot, points: float) -> float:
    """Room in mm that a plot's words beside its y axis take."""
    return max((width_mm(words, "sans", points) for _, words in plot.y.ticks), default=0.0)


def _dashes(points: Sequence[Point]) -> list[tuple[float, float, float, float]]:
    """Pieces of a line that are drawn, going on over its corners."""
    told: list[tuple[float, float, float, float]] = []
    drawn, left = True, _DASH
    for (x0, y0), (x1, y1) in pairwise(points):
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        done = 0.0
        while length - done > 1e-9:
            step = min(left, length - done)
            a, b = done / length, (done + step) / length
            if drawn:
                ends = (x0 + a * (x1 - x0), y0 + a * (y1 - y0))
                told.append((*ends, x0 + b * (x1 - x0), y0 + b * (y1 - y0)))
            done, left = done + step, left - step
            if left <= 1e-9:
                drawn, left = not drawn, _GAP if drawn else _DASH
    return told
