"""The reference sheet as a value: what is where on it, and what a plain print of it reflects.

The places themselves, and why they are so, are in `dyeshade.sheet.grid`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.rgb_spaces import srgb_decode, srgb_encode
from dyeshade.sheet.grid import (
    Rect,
    bare_places,
    cell_rects,
    colour_rects,
    frame_squares,
    text_rects,
)
from dyeshade.sheet.kinds import PAPERS, VERSION, first_ident, kind_of_marks

__all__ = [
    "INK_REFLECTANCE",
    "PAPER_REFLECTANCE",
    "Box",
    "Grey",
    "Layout",
    "Mark",
    "build_layout",
    "grey_levels",
    "kind_of_marks",
    "paper_spots",
    "print_value",
]

PAPER_REFLECTANCE: Final = 0.88
INK_REFLECTANCE: Final = 0.035
"""Matte white paper and full black ink on it; an assumption about a plain print, no source."""

_LEVELS: Final = 8
_LIGHTEST: Final = 90.0

# Each side has its own order of levels (1 lightest, 8 full ink). In every one the level does not
# correlate with the place along the side, nor with its square, nor the level's square with the
# place, and neighbours differ by two levels or more: light that falls off along a side, or a soft
# shadow, cannot pass for a print that is too light or too dark.
_ORDERS: Final = {
    "top": (4, 7, 1, 6, 3, 8, 2, 5),
    "right": (2, 5, 8, 6, 3, 1, 4, 7),
    "bottom": (2, 8, 5, 3, 6, 4, 1, 7),
    "left": (4, 6, 2, 8, 1, 7, 3, 5),
}


@dataclass(frozen=True)
class Box:
    """An upright rectangle on the page.

    Attributes
    ----------
    name : str
    x_mm, y_mm : float
        Its top left corner.
    w_mm, h_mm : float
    """

    name: str
    x_mm: float
    y_mm: float
    w_mm: float
    h_mm: float

    @property
    def centre(self) -> tuple[float, float]:
        """Its middle, x and y in mm."""
        return self.x_mm + self.w_mm / 2, self.y_mm + self.h_mm / 2

    @property
    def corners(self) -> NDArray[np.float64]:
        """Corners in mm, clockwise from top left, shape (4, 2)."""
        right, bottom = self.x_mm + self.w_mm, self.y_mm + self.h_mm
        return np.array(
            [[self.x_mm, self.y_mm], [right, self.y_mm], [right, bottom], [self.x_mm, bottom]]
        )

    def holds(self, point_mm: NDArray[np.float64]) -> bool:
        """Whether a point of the page lies in it."""
        across, down = float(point_mm[0]) - self.x_mm, float(point_mm[1]) - self.y_mm
        return 0.0 <= across <= self.w_mm and 0.0 <= down <= self.h_mm

    def apart_mm(self, other: Box) -> float:
        """Clear distance to another box; 0 where they touch or overlap."""
        x = max(other.x_mm - self.x_mm - self.w_mm, self.x_mm - other.x_mm - other.w_mm, 0.0)
        y = max(other.y_mm - self.y_mm - self.h_mm, self.y_mm - other.y_mm - other.h_mm, 0.0)
        return float(np.hypot(x, y))


@dataclass(frozen=True)
class Grey(Box):
    """A grey patch.

    Attributes
    ----------
    reflectance : float
        Luminance factor of a plain print, 0..1.
    """

    reflectance: float


@dataclass(frozen=True)
class Mark:
    """A position mark.

    Attributes
    ----------
    ident : int
        In `cv2.aruco.DICT_5X5_1000`.
    x_mm, y_mm : float
        Top left corner of its black square.
    size_mm : float
        Side of its black square.
    """

    ident: int
    x_mm: float
    y_mm: float
    size_mm: float


@dataclass(frozen=True)
class Layout:
    """One reference sheet.

    Attributes
    ----------
    paper : str
        "A4" or "Letter".
    cells_kind : str
        "six" or "one".
    with_colours : bool
    version : int
    serial : str
        "" where unknown.
    paper_mm : tuple of (float, float)
        Width and height.
    paper_reflectance, ink_reflectance : float
        Luminance factors of bare paper and of full ink.
    patches : tuple of Grey
        Eight levels on each of the four sides, clockwise from the top left.
    colours : tuple of Box
        Of unknown reflectance; empty where not asked for.
    cells : tuple of Box
        Row by row; a cell is what lies inside its cut line.
    marks : tuple of Mark
        Clockwise from the top left.
    serial_code : Box
        The machine-readable serial, without its quiet zone.
    texts : tuple of Box
        Where things are written: "title", "date", "serial", "use", "help", "ruler", and "label-A"
        and so on.
    """

    paper: str
    cells_kind: str
    with_colours: bool
    version: int
    serial: str
    paper_mm: tuple[float, float]
    paper_reflectance: float
    ink_reflectance: float
    patches: tuple[Grey, ...]
    colours: tuple[Box, ...]
    cells: tuple[Box, ...]
    marks: tuple[Mark, ...]
    serial_code: Box
    texts: tuple[Box, ...]


def print_value(reflectance: float) -> float:
    """DeviceGray value 0..1 that a plain print turns into a luminance factor.

    A plain print of the value g reflects ink + (paper - ink) * s(g), where s is the decoding curve
    of sRGB: printers aim at what screens show (an assumption; calibrating a print replaces it).
    """
    share = (reflectance - INK_REFLECTANCE) / (PAPER_REFLECTANCE - INK_REFLECTANCE)
    return float(srgb_encode(share))


@lru_cache(maxsize=1)
def grey_levels() -> tuple[float, ...]:
    """Luminance factors of the eight greys, lightest first, evenly spaced in L* down to full ink.

    Each is what a whole 8-bit value prints as, so that no printer's rounding comes between.
    """
    darkest = 116.0 * float(np.cbrt(INK_REFLECTANCE)) - 16.0
    aims = ((np.linspace(_LIGHTEST, darkest, _LEVELS) + 16.0) / 116.0) ** 3
    coded = np.array([round(255.0 * print_value(aim)) for aim in aims]) / 255.0
    levels = INK_REFLECTANCE + (PAPER_REFLECTANCE - INK_REFLECTANCE) * srgb_decode(coded)
    return tuple(round(float(level), 6) for level in levels)


def build_layout(
    paper: str, cells: str, colours: bool, serial: str = "", version: int = VERSION
) -> Layout:
    """Lay out a sheet.

    Parameters
    ----------
    paper : str
        "A4" or "Letter".
    cells : str
        "six" or "one".
    colours : bool
        Whether colour patches stand around the cells.
    serial : str
        The sheet's serial number, "" where unknown.
    version : int

    Returns
    -------
    Layout

    Raises
    ------
    ValueError
        For a sheet that there is not.
    """
    first = first_ident(paper, cells, colours, version)
    size = PAPERS[paper]
    levels = grey_levels()
    patches: list[Grey] = []
    marks: list[Mark] = []
    for side, squares in frame_squares(size).items():
        order = iter(_ORDERS[side])
        for kind, (x, y, w, h) in squares:
            if kind == "M":
                marks.append(Mark(first + len(marks), x, y, w))
            else:
                level = next(order)
                patches.append(Grey(f"{side}-{level}", x, y, w, h, levels[level - 1]))
    cell_places = cell_rects(paper, size, cells)
    texts = text_rects(size, cell_places)
    code = texts.pop("code")
    return Layout(
        paper=paper,
        cells_kind=cells,
        with_colours=colours,
        version=version,
        serial=serial,
        paper_mm=size,
        paper_reflectance=PAPER_REFLECTANCE,
        ink_reflectance=INK_REFLECTANCE,
        patches=tuple(patches),
        colours=_numbered("colour", colour_rects(paper, size, cells)) if colours else (),
        cells=tuple(Box(name, *rect) for name, rect in cell_places.items()),
        marks=tuple(marks),
        serial_code=Box("serial-code", *code),
        texts=tuple(Box(name, *rect) for name, rect in texts.items()),
    )


def paper_spots(layout: Layout) -> tuple[Box, ...]:
    """Places of bare paper, spread over the page outside the cells.

    Parameters
    ----------
    layout : Layout

    Returns
    -------
    tuple of Box
        Each at least 4 mm wide and high, with nothing printed within 1 mm.
    """
    return _numbered("paper", list(bare_places(layout.paper, layout.paper_mm, layout.cells_kind)))


def _numbered(stem: str, rects: list[Rect]) -> tuple[Box, ...]:
    return tuple(Box(f"{stem}-{number}", *rect) for number, rect in enumerate(rects, start=1))
