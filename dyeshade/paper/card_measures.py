"""The measures of a shade card: margins, columns and sizes, in millimetres and points."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final

from dyeshade.paper.shade_card import Card

PAPERS_MM: Final = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""ISO 216; ANSI/ASME Y14.1."""

SIDE_MM: Final = 19.0
TOP_MM: Final = 18.5
FOOT_MM: Final = 14.0
"""From the last line's baseline to the paper's edge; no printer's margin is wider."""

HOLE_MM: Final = 7.0
"""Across the hole; a punch makes 6 (ISO 838), and a tuft of yarn should pass with ease."""

FOOT_PT: Final = 6.4
RUNNING_PT: Final = 8.5
TITLE_PT: Final = 20.0
LEAST_TITLE_PT: Final = 9.0
MAKER_PT: Final = 9.5
LEADING: Final = 1.3
"""From baseline to baseline, in sizes of the letters."""


@dataclass(frozen=True)
class CellSizes:
    """What differs between swatch sizes.

    Attributes
    ----------
    columns : int
    gutter_mm, row_gap_mm : float
    swatch_mm, beside_fibre_mm : float
        Height of a swatch with its surround, without and with a place for the real fibre.
    surround_mm : float
        Width of the neutral surround, equal on all sides.
    fibre_mm : float
        Height of the place for the real fibre.
    heading_pt, line_pt : float
    """

    columns: int
    gutter_mm: float
    row_gap_mm: float
    swatch_mm: float
    beside_fibre_mm: float
    surround_mm: float
    fibre_mm: float
    heading_pt: float
    line_pt: float


_SIZES: Final = {
    "small": CellSizes(4, 7.0, 6.5, 23.0, 23.0, 2.5, 11.0, 8.8, 6.6),
    "middle": CellSizes(3, 9.0, 8.0, 35.0, 27.0, 3.5, 13.0, 10.2, 7.4),
    "large": CellSizes(2, 12.0, 9.0, 56.0, 42.0, 5.0, 16.0, 12.5, 8.6),
}


@dataclass(frozen=True)
class Measures:
    """A card's measures.

    Attributes
    ----------
    card : Card
    taller_mm : float
        What swatches are higher than their size says, so that they fill the pages.
    """

    card: Card
    taller_mm: float = 0.0

    @property
    def paper_mm(self) -> tuple[float, float]:
        """Width and height of the paper."""
        return PAPERS_MM[self.card.paper]

    @cached_property
    def sizes(self) -> CellSizes:
        """What the swatch size decides."""
        return _SIZES[self.card.swatch]

    @property
    def inner_mm(self) -> float:
        """Width between the margins."""
        return self.paper_mm[0] - 2 * SIDE_MM

    @property
    def column_mm(self) -> float:
        """Width of a column."""
        count = self.sizes.columns
        return (self.inner_mm - (count - 1) * self.sizes.gutter_mm) / count

    @property
    def swatch_mm(self) -> float:
        """Height of a swatch with its surround."""
        sizes = self.sizes
        high = sizes.beside_fibre_mm if self.card.fibre_place else sizes.swatch_mm
        return high + self.taller_mm

    @property
    def fibre_mm(self) -> float:
        """Height of the place for the real fibre, 0 without one."""
        return self.sizes.fibre_mm if self.card.fibre_place else 0.0

    def left(self, column: int) -> float:
        """Left edge of a column."""
        return SIDE_MM + column * (self.column_mm + self.sizes.gutter_mm)

    def folds(self) -> tuple[float, ...]:
        """Where the page folds: in the middle of each gutter."""
        half = self.sizes.gutter_mm / 2
        return tuple(self.left(column) - half for column in range(1, self.sizes.columns))

    def cuts(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of what is left of the page, so that all folds are alike."""
        width, height = self.paper_mm
        aside = SIDE_MM - self.sizes.gutter_mm / 2
        return aside, 10.0, width - aside, height - 9.0
