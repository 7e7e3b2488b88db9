"""A shade card's page as a list of what is drawn on it, for the PDF and for the screen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import cos, pi, sin
from typing import Final

from dyeshade.paper.card_measures import HOLE_MM, SIDE_MM, Measures
from dyeshade.paper.page import Drawn, Rect
from dyeshade.paper.shade_card import CardShade
from dyeshade.paper.typeset import SetText

SURROUND_GREY: Final = 0.93
_FRAME_GREY: Final = 0.72
_HAIR_MM: Final = 0.12
_MARK_MM: Final = 5.0
_DASHES: Final = 3
_ROUND: Final = 48
"""Straight pieces that a hole's edge is drawn in: off the circle by a hundredth of a millimetre."""

Line = tuple[float, float, float, float]
"""From x, y to x, y in mm."""


@dataclass(frozen=True)
class Swatch:
    """A shade's colour on the page.

    Attributes
    ----------
    place : int
        The shade's number on the card, from 0.
    shade : CardShade
    surround, rect : Rect
        The neutral surround, and the colour within it.
    cell : Rect
        All that belongs to the shade on this page.
    """

    place: int
    shade: CardShade
    surround: Rect
    rect: Rect
    cell: Rect


@dataclass(frozen=True)
class FibrePlace:
    """Where the real fibre is tied or glued; the hole is round, `HOLE_MM` across."""

    rect: Rect

    @property
    def hole_centre(self) -> tuple[float, float]:
        """In mm, as far from the left edge as from those above and below."""
        x, y, _, h = self.rect
        return x + h / 2, y + h / 2


@dataclass(frozen=True)
class CardPage:
    """One page; lengths in mm from its top left corner, y down.

    Attributes
    ----------
    paper_mm : tuple of 2 floats
        Width and height.
    back : bool
        Whether it is printed on the back of the page before it.
    lines : tuple of Line
        Marks for cutting and folding, and rules.
    """

    paper_mm: tuple[float, float]
    back: bool
    swatches: tuple[Swatch, ...]
    fibre_places: tuple[FibrePlace, ...]
    words: tuple[SetText, ...]
    lines: tuple[Line, ...]


def draw_card_page(page: Drawn, card_page: CardPage) -> None:
    """Draw a card's page on a page of any kind.

    Parameters
    ----------
    page : Drawn
    card_page : CardPage
    """
    for swatch in card_page.swatches:
        page.fill([swatch.surround], SURROUND_GREY)
        page.fill_rgb(swatch.rect, swatch.shade.srgb)
    for place in card_page.fibre_places:
        page.outline(_inset(place.rect, _HAIR_MM), _FRAME_GREY, _HAIR_MM)
        for line in _hole(*place.hole_centre):
            page.line(*line, _HAIR_MM)
    for line in card_page.lines:
        page.line(*line, _HAIR_MM)
    for text in card_page.words:
        page.text(text.x_mm, text.baseline_mm, text.words, text.points, text.face)


def trim_marks(measures: Measures) -> Iterator[Line]:
    """Marks for cutting (whole lines, at the corners) and for folding (dashed, above and below)."""
    left, top, right, bottom = measures.cuts()
    for x, outward in ((left, -1.0), (right, 1.0)):
        for y in (top, bottom):
            yield x + outward, y, x + outward * (1.0 + _MARK_MM), y
    for y, outward in ((top, -1.0), (bottom, 1.0)):
        for x in (left, right):
            yield x, y + outward, x, y + outward * (1.0 + _MARK_MM)
    dash = _MARK_MM / (2 * _DASHES - 1)
    for x in measures.folds():
        for number in range(_DASHES):
            start = 1.0 + 2 * number * dash
            yield x, top - start, x, top - start - dash
            yield x, bottom + start, x, bottom + start + dash


def rule_under_title(measures: Measures, y: float) -> Line:
    """The line between the title and the shades."""
    return SIDE_MM, y, SIDE_MM + measures.inner_mm, y


def _inset(rect: Rect, by: float) -> Rect:
    x, y, w, h = rect
    return x + by, y + by, w - 2 * by, h - 2 * by


def _hole(x: float, y: float) -> Iterator[Line]:
    radius = HOLE_MM / 2
    corners = [
        (x + radius * cos(2 * pi * n / _ROUND), y + radius * sin(2 * pi * n / _ROUND))
        for n in range(_ROUND + 1)
    ]
    for (x0, y0), (x1, y1) in pairwise(corners):
        yield x0, y0, x1, y1
    yield x - 0.8, y, x + 0.8, y
    yield x, y - 0.8, x, y + 0.8
