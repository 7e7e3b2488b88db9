"""Where things are on the reference sheet, and what a plain print of it reflects.

All places are millimetres from the page's top left corner, y down. Around the page runs one row of
equal slots on each side; marks, greys and (where asked for) colours share them, so that every kind
of sheet has its greys in the same places and a slot left empty is bare paper. Inside lie the cells,
above and below a line of text.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.sheet.kinds import (
    INK_REFLECTANCE,
    PAPER_REFLECTANCE,
    PAPERS,
    VERSION,
    first_ident,
    kind_of_marks,
)

__all__ = ["Box", "Grey", "Layout", "Mark", "build_layout", "kind_of_marks", "paper_spots"]

MARGIN_MM = 7.0
HEADER_MM = 9.0
FOOTER_MM = 24.0
PATCH_MM = 10.4
MARK_MM = 11.4
CELL_CLEARANCE_MM = 10.5
LABEL_MM = 7.0
EDGE_MM = 5.0
SPOT_MM = 5.0
SPOT_CLEARANCE_MM = 1.0
SPOTS_APART_MM = 3.5
_GRID_MM = 0.25

LIGHTNESS = (88.0, 79.0, 70.0, 60.0, 50.0, 40.0, 30.0)
"""L* of the greys of a plain print, evenly spaced; the eighth level is full ink."""

# Each side has its own order of levels, lightest 0 to full ink 7: a shadow's slope across the sheet
# must not look like the slope of a ramp, and no level stands in the same corner twice.
_ORDERS = {
    "top": (3, 7, 1, 5, 0, 6, 2, 4),
    "right": (6, 0, 4, 2, 7, 3, 5, 1),
    "bottom": (1, 4, 6, 3, 5, 2, 7, 0),
    "left": (5, 2, 7, 0, 4, 1, 3, 6),
}
# Slots of a side: m mark, g grey, c colour. Corners belong to top and bottom.
_ACROSS = "mgcggcgmgcggcgm"
_DOWN = {"A4": "cgcgmgcgcgcgmgcgc", "Letter": "cgcgmgcgcgmgcgg"}


@dataclass(frozen=True)
class Box:
    """An upright rectangle on the page, in mm."""

    name: str
    x_mm: float
    y_mm: float
    w_mm: float
    h_mm: float

    @property
    def centre(self) -> tuple[float, float]:
        """Its middle, x and y."""
        return self.x_mm + self.w_mm / 2, self.y_mm + self.h_mm / 2

    @property
    def corners(self) -> NDArray[np.float64]:
        """Corners clockwise from top left, shape (4, 2)."""
        left, top, right, bottom = (
            self.x_mm,
            self.y_mm,
            self.x_mm + self.w_mm,
            self.y_mm + self.h_mm,
        )
        return np.array([[left, top], [right, top], [right, bottom], [left, bottom]])

    def apart_mm(self, other: Box) -> float:
        """Clear distance to another box, 0 where they touch or overlap."""
        x = max(other.x_mm - self.x_mm - self.w_mm, self.x_mm - other.x_mm - other.w_mm, 0.0)
        y = max(other.y_mm - self.y_mm - self.h_mm, self.y_mm - other.y_mm - other.h_mm, 0.0)
        return float(np.hypot(x, y))


@dataclass(frozen=True)
class Grey(Box):
    """A printed grey; `reflectance` is the luminance factor of a plain print, 0..1."""

    reflectance: float


@dataclass(frozen=True)
class Mark:
    """A position mark; the place is the top left corner of its black square."""

    ident: int
    x_mm: float
    y_mm: float
    size_mm: float


@dataclass(frozen=True)
class Layout:
    """One sheet.

    Attributes
    ----------
    paper, cells_kind, with_colours, version, serial
        Which sheet it is; the serial is "" where unknown.
    paper_mm : tuple of float
        Width and height.
    paper_reflectance, ink_reflectance : float
        Luminance factors of bare paper and full ink of a plain print.
    patches, colours, cells, marks : tuples
    serial_code : Box
        Where the serial stands in machine-readable form.
    texts : tuple of Box
        Where title, date, ruler, help, serial number and the cells' labels are printed.
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


def grey_reflectances() -> tuple[float, ...]:
    """Luminance factors of the eight levels, lightest first."""
    return (*(((lightness + 16) / 116) ** 3 for lightness in LIGHTNESS), INK_REFLECTANCE)


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
        Whether colour patches stand between the greys.
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
    width, height = PAPERS[paper]
    patches: list[Grey] = []
    colour_boxes: list[Box] = []
    middles: list[tuple[float, float]] = []
    levels = grey_reflectances()
    for side, slots in _slots(paper).items():
        order = iter(_ORDERS[side])
        for kind, x, y in slots:
            corner = x - PATCH_MM / 2, y - PATCH_MM / 2, PATCH_MM, PATCH_MM
            if kind == "g":
                level = next(order)
                patches.append(Grey(f"{side}-{level + 1}", *corner, levels[level]))
            elif kind == "c" and colours:
                colour_boxes.append(Box(f"colour-{len(colour_boxes) + 1}", *corner))
            elif kind == "m":
                middles.append((x, y))
    marks = tuple(
        Mark(first + number, x - MARK_MM / 2, y - MARK_MM / 2, MARK_MM)
        for number, (x, y) in enumerate(middles)
    )
    cell_boxes = _cells(width, height, cells)
    code, texts = _texts(width, height, cell_boxes)
    return Layout(
        paper,
        cells,
        colours,
        version,
        serial,
        (width, height),
        PAPER_REFLECTANCE,
        INK_REFLECTANCE,
        tuple(patches),
        tuple(colour_boxes),
        cell_boxes,
        marks,
        code,
        texts,
    )


def _slots(paper: str) -> dict[str, list[tuple[str, float, float]]]:
    """Kind and middle of every slot, by side."""
    width, height = PAPERS[paper]
    pitch = (width - 2 * MARGIN_MM) / len(_ACROSS)
    left, right = MARGIN_MM + pitch / 2, width - MARGIN_MM - pitch / 2
    top = MARGIN_MM + HEADER_MM + pitch / 2
    bottom = height - MARGIN_MM - FOOTER_MM - pitch / 2
    across = [MARGIN_MM + pitch * (k + 0.5) for k in range(len(_ACROSS))]
    kinds = _DOWN[paper]
    step = (bottom - top) / (len(kinds) + 1)
    down = [top + step * (k + 1) for k in range(len(kinds))]
    return {
        "top": [(kind, x, top) for kind, x in zip(_ACROSS, across, strict=True)],
        "right": [(kind, right, y) for kind, y in zip(kinds[::-1], down, strict=True)],
        "bottom": [(kind, x, bottom) for kind, x in zip(_ACROSS, across, strict=True)],
        "left": [(kind, left, y) for kind, y in zip(kinds, down, strict=True)],
    }


def _cells(width: float, height: float, cells: str) -> tuple[Box, ...]:
    pitch = (width - 2 * MARGIN_MM) / len(_ACROSS)
    inner = MARGIN_MM + (pitch + PATCH_MM) / 2 + CELL_CLEARANCE_MM
    top, bottom = HEADER_MM + inner, height - FOOTER_MM - inner
    left, right = inner, width - inner
    columns, rows, gap_x, gap_y = (1, 1, 0.0, 0.0) if cells == "one" else (3, 2, 7.0, 13.0)
    wide = (right - left - gap_x * (columns - 1)) / columns
    high = (bottom - top - gap_y * (rows - 1)) / rows
    return tuple(
        Box(
            "ABCDEF"[row * columns + column],
            left + column * (wide + gap_x),
            top + row * (high + gap_y),
            wide,
            high,
        )
        for row in range(rows)
        for column in range(columns)
    )


def _texts(width: float, height: float, cells: tuple[Box, ...]) -> tuple[Box, tuple[Box, ...]]:
    top = height - MARGIN_MM - FOOTER_MM + 4.0
    right = width - MARGIN_MM
    code = Box("serial-code", right - 18.0, top + 1.0, 18.0, 18.0)
    labels = tuple(
        Box(f"label-{cell.name}", cell.x_mm, cell.y_mm - 1.5 - LABEL_MM, 6.0, LABEL_MM)
        for cell in cells
    )
    return code, (
        Box("title", MARGIN_MM + 1.0, MARGIN_MM, 120.0, HEADER_MM - 2.5),
        Box("date", right - 56.0, MARGIN_MM, 55.0, HEADER_MM - 2.5),
        Box("ruler", MARGIN_MM + 1.0, top, 101.0, 8.0),
        Box("help", MARGIN_MM + 1.0, top + 9.5, right - 32.0 - MARGIN_MM, 10.0),
        Box("serial", right - 52.0, top, 31.0, 8.0),
        *labels,
    )


def paper_spots(layout: Layout) -> tuple[Box, ...]:
    """Places of bare paper, spread over the page outside the cells.

    Parameters
    ----------
    layout : Layout

    Returns
    -------
    tuple of Box
        Squares of 5 mm with nothing printed within 1 mm, at least 3.5 mm apart.
    """
    taken: list[Box] = [*layout.patches, *layout.colours, *layout.texts, layout.serial_code]
    taken += [Box("mark", m.x_mm, m.y_mm, m.size_mm, m.size_mm) for m in layout.marks]
    taken += layout.cells
    width, height = layout.paper_mm
    # Corners of squares, on a fine grid, from which each taken box rules out those too near it.
    x = np.arange(EDGE_MM, width - EDGE_MM - SPOT_MM, _GRID_MM)
    y = np.arange(EDGE_MM, height - EDGE_MM - SPOT_MM, _GRID_MM)
    free = np.ones((len(y), len(x)), dtype=bool)

    def rule_out(box: Box, apart: float) -> None:
        columns = (x > box.x_mm - apart - SPOT_MM) & (x < box.x_mm + box.w_mm + apart)
        rows = (y > box.y_mm - apart - SPOT_MM) & (y < box.y_mm + box.h_mm + apart)
        free[np.ix_(rows, columns)] = False

    for box in taken:
        rule_out(box, SPOT_CLEARANCE_MM)
    spots: list[Box] = []
    while free.any():
        row, column = np.unravel_index(int(free.argmax()), free.shape)
        name = f"paper-{len(spots) + 1}"
        spots.append(Box(name, float(x[column]), float(y[row]), SPOT_MM, SPOT_MM))
        rule_out(spots[-1], SPOTS_APART_MM)
    return tuple(spots)
