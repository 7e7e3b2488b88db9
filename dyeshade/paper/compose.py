"""Puts a page together: words that wrap, boxes to tick, lines to write on."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import cos, pi, sin
from typing import Final, Literal

from dyeshade.paper.page import CAP_HEIGHT, POINT_MM, Rect
from dyeshade.paper.paper_page import (
    ColourField,
    Line,
    Outline,
    PaperPage,
    Picture,
    Shape,
    Stroke,
)
from dyeshade.paper.typeset import SetText, Voice, missing_in, set_line, width_mm, wrapped

HAIR_MM: Final = 0.12
LEADING: Final = 1.3
"""From baseline to baseline, in sizes of the letters."""

_DESCENT: Final = 0.3
_ROUND: Final = 48
_BOX_GREY: Final = 0.25

Anchor = Literal["left", "middle", "right"]


def cap_mm(points: float) -> float:
    """Height of a capital letter."""
    return CAP_HEIGHT * points * POINT_MM


def step_mm(points: float, leading: float = LEADING) -> float:
    """From baseline to baseline."""
    return leading * points * POINT_MM


class Composer:
    """A page under way; lengths in mm from its top left corner, y down.

    Parameters
    ----------
    paper_mm : tuple of (float, float)
    """

    def __init__(self, paper_mm: tuple[float, float]) -> None:
        self.paper_mm = paper_mm
        self._shapes: list[Shape] = []
        self._colours: list[ColourField] = []
        self._pictures: list[Picture] = []
        self._outlines: list[Outline] = []
        self._strokes: list[Stroke] = []
        self._words: list[SetText] = []
        self._said: list[str] = []

    @property
    def missing(self) -> str:
        """Characters of what was said that no font has."""
        return missing_in(" ".join(self._said))

    def page(self) -> PaperPage:
        """The page as it is now."""
        return PaperPage(
            self.paper_mm,
            tuple(self._shapes),
            tuple(self._colours),
            tuple(self._pictures),
            tuple(self._outlines),
            tuple(self._strokes),
            tuple(self._words),
        )

    def line_of_words(
        self,
        words: str,
        voice: Voice,
        points: float,
        x: float,
        baseline: float,
        anchor: Anchor = "left",
    ) -> float:
        """Set words on one line; gives their width."""
        self._said.append(words)
        width = width_mm(words, voice, points)
        start = x - width * {"left": 0.0, "middle": 0.5, "right": 1.0}[anchor]
        self._words += set_line(words, voice, points, start, baseline)
        return width

    def paragraph(
        self,
        text: str,
        voice: Voice,
        points: float,
        x: float,
        top: float,
        width: float,
        leading: float = LEADING,
    ) -> float:
        """Set words wrapped, the top of their capitals at `top`; gives where their last line ends.

        An empty text takes no room.
        """
        return self.lines(wrapped(text, voice, points, width), voice, points, x, top, leading, text)

    def lines(
        self,
        lines: Sequence[str],
        voice: Voice,
        points: float,
        x: float,
        top: float,
        leading: float = LEADING,
        said: str = "",
    ) -> float:
        """Set lines that are wrapped already; gives where the last one ends."""
        self._said.append(said or " ".join(lines))
        baseline = top + cap_mm(points)
        for number, line in enumerate(lines):
            baseline = top + cap_mm(points) + number * step_mm(points, leading)
            self._words += set_line(line, voice, points, x, baseline)
        return baseline + _DESCENT * points * POINT_MM if lines else top

    def fill(self, rects: Sequence[Rect], grey: float) -> None:
        """Fill rectangles."""
        self._shapes.append(Shape(tuple(rects), grey))

    def colour(self, rect: Rect, rgb: tuple[int, int, int]) -> None:
        """Fill a rectangle with a colour."""
        self._colours.append(ColourField(rect, rgb))

    def picture(self, rect: Rect, jpeg: bytes) -> None:
        """Draw a photo."""
        self._pictures.append(Picture(rect, jpeg))

    def outline(self, rect: Rect, grey: float, width: float = HAIR_MM) -> None:
        """Draw a line around a rectangle, all of it outside."""
        self._outlines.append(Outline(rect, grey, width))

    def line(self, *lines: Line, width: float = HAIR_MM) -> None:
        """Draw lines."""
        self._strokes += [Stroke(line, width) for line in lines]

    def tick_box(self, x: float, baseline: float, points: float) -> float:
        """Draw a box to tick, as high as a capital letter and a little more; gives its width."""
        side = 1.25 * cap_mm(points)
        top = baseline - cap_mm(points) / 2 - side / 2
        self.outline((x, top, side, side), _BOX_GREY)
        return side

    def hole(self, x: float, y: float, across: float) -> None:
        """Draw where a round hole is punched."""
        corners = [
            (x + across / 2 * cos(2 * pi * n / _ROUND), y + across / 2 * sin(2 * pi * n / _ROUND))
            for n in range(_ROUND + 1)
        ]
        self.line(*((x0, y0, x1, y1) for (x0, y0), (x1, y1) in pairwise(corners)))
        arm = min(0.8, across / 5)
        self.line((x - arm, y, x + arm, y), (x, y - arm, x, y + arm))
