"""The reference sheet's grid: every place on the page as plain numbers, in mm, y down.

Why it is as it is:

- The frame of equal squares runs as far out as printers reach, for the wider marks stand apart, the
  better they fix the page and the bend of the lens. Its steps leave more than 6 mm of paper between
  squares: room for a mark's quiet zone, and for reading bare paper next to every grey.
- Between frame and cells lies a lane of 16 mm. Greys are thus out of reach of a cloth's coloured
  reflection, and labels and colours share the lane's middle.
- Cells of the `six` sheet are nearly as wide as high, because skeins wound on card come in both
  shapes, and the aisle between their columns gives paper in the middle of the page, where the
  frame is far.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

Rect = tuple[float, float, float, float]
"""Left, top, width, height."""

MARGIN: Final = 7.0
"""Printers leave 3 to 6.4 mm unprinted (common practice, no source)."""

SQUARE: Final = 12.0
FRAME: Final = MARGIN + SQUARE
LANE: Final = 16.0
SMALL: Final = 7.0
"""Side of a colour patch, and height of a label's letter."""

_LANE_MIDDLE: Final = FRAME + 6.5
"""Of the lane's small squares: 3 mm from the frame, 6 mm from the cells."""

_CLEAR: Final = 1.0
"""Paper is read this far from anything printed."""

_CLEAR_OF_CUT: Final = 1.2
"""And this far from a cell: its cut line lies outside it, and no cut is quite straight."""

# Slots along a side, corners included: M mark, g grey. Corners belong to top and bottom.
_ACROSS: Final = "MggggMggggM"
_DOWN: Final = "MggMgMgMgMgMggM"

_SIX_WIDTH: Final = {"A4": 60.0, "Letter": 62.0}
_SIX_HEIGHT: Final = {"A4": 66.0, "Letter": 60.0}
_ONE_HEIGHT: Final = {"A4": 198.0, "Letter": 180.0}
_HEADER: Final = {"six": 18.0, "one": 24.0}
_ROW_GAP: Final = 7.0

_MODULE: Final = 0.84
CODE: Final = 21 * _MODULE
"""Side of the machine-readable serial: 21 modules (ISO/IEC 18004, version 1)."""

BOTTOM_FROM_FRAME: Final = 5.5
"""From the footer's last line to the frame below: a code's quiet zone is four modules."""


def frame_squares(size: tuple[float, float]) -> dict[str, list[tuple[str, Rect]]]:
    """Kind ("M" or "g") and place of each square by side, clockwise from the top left corner."""
    width, height = size
    right, bottom = width - FRAME, height - FRAME
    step_x = (right - MARGIN) / (len(_ACROSS) - 1)
    step_y = (bottom - MARGIN) / (len(_DOWN) - 1)
    # Tenths of a millimetre: plain numbers for whoever reads the layout.
    across = [(kind, round(MARGIN + step_x * k, 1)) for k, kind in enumerate(_ACROSS)]
    down = [(kind, round(MARGIN + step_y * k, 1)) for k, kind in enumerate(_DOWN)][1:-1]
    return {
        "top": [(kind, (x, MARGIN, SQUARE, SQUARE)) for kind, x in across],
        "right": [(kind, (right, y, SQUARE, SQUARE)) for kind, y in down],
        "bottom": [(kind, (x, bottom, SQUARE, SQUARE)) for kind, x in reversed(across)],
        "left": [(kind, (MARGIN, y, SQUARE, SQUARE)) for kind, y in reversed(down)],
    }


def cell_rects(paper: str, size: tuple[float, float], cells: str) -> dict[str, Rect]:
    """Cells by their letters."""
    left, top = FRAME + LANE, FRAME + _HEADER[cells]
    if cells == "one":
        return {"A": (left, top, size[0] - 2 * left, _ONE_HEIGHT[paper])}
    wide, high = _SIX_WIDTH[paper], _SIX_HEIGHT[paper]
    columns = left, size[0] - left - wide
    return {
        "ABCDEF"[2 * row + column]: (columns[column], top + row * (high + _ROW_GAP), wide, high)
        for row in range(3)
        for column in range(2)
    }


def colour_rects(paper: str, size: tuple[float, float], cells: str) -> list[Rect]:
    """Places of the 24 colours, row by row from the top."""
    middles = [
        (x, y)
        for x in (_LANE_MIDDLE, size[0] - _LANE_MIDDLE)
        for y in _lane_colours(paper, size, cells)
    ]
    if cells == "six":
        middles += [
            (size[0] / 2, top + high * share)
            for _, top, _, high in _rows(cell_rects(paper, size, cells))
            for share in (1 / 3, 2 / 3)
        ]
    return [_square(x, y, SMALL) for x, y in sorted(middles, key=lambda place: place[::-1])]


def label_rects(size: tuple[float, float], cells: dict[str, Rect]) -> dict[str, Rect]:
    """Places of the cells' letters, in the lane beside the cell and level with its top.

    There a piece that hangs over its cell's upper or lower edge leaves the letter in sight.
    """
    outer = {True: FRAME + 3.0, False: size[0] - FRAME - 3.0 - SMALL}
    return {
        name: (outer[left < size[0] / 2 - 1.0], top, SMALL, SMALL)
        for name, (left, top, _, _) in cells.items()
    }


def text_rects(size: tuple[float, float], cells: dict[str, Rect]) -> dict[str, Rect]:
    """Places of everything written, each large enough for what is written in it."""
    left, right = FRAME + LANE, size[0] - FRAME - LANE
    middle = size[0] / 2 + 10.0
    top, code_top = FRAME + 5.6, size[1] - FRAME - BOTTOM_FROM_FRAME - CODE
    quiet = 4 * _MODULE
    return {
        "title": (left, top, 66.0, 4.6),
        "date": (middle, top, right - 33.0 - middle, 4.6),
        "serial": (right - 28.0, top, 28.0, 4.6),
        "use": (left, top + 5.6, right - left, 2.6),
        "help": (left, code_top, right - CODE - quiet - 1.0 - left, 5.8),
        "ruler": (left - 1.0, code_top + 9.0, 104.0, CODE - 8.4),
        "code": (right - CODE, code_top, CODE, CODE),
        **{f"label-{name}": rect for name, rect in label_rects(size, cells).items()},
    }


def bare_places(paper: str, size: tuple[float, float], cells: str) -> Iterator[Rect]:
    """Places that no kind of sheet prints on: they are the same with and without colours."""
    yield from _between_frame_squares(size)
    rects = cell_rects(paper, size, cells)
    for x in (_LANE_MIDDLE, size[0] - _LANE_MIDDLE):
        for top, bottom in _lane_gaps(paper, size, cells):
            yield x - SMALL / 2, top + _CLEAR, SMALL, bottom - top - 2 * _CLEAR
    rows = _rows(rects)
    if cells == "six":
        for _, top, _, high in rows:
            for share in (1 / 6, 1 / 2, 5 / 6):
                yield _square(size[0] / 2, top + high * share, 6.0)
        for _, top, _, high in rows[:-1]:
            for left, _, width, _ in (rects["A"], rects["B"]):
                for share in (0.2, 0.5, 0.8):
                    x, y = left + share * width, top + high + _CLEAR_OF_CUT
                    yield x - 4.0, y, 8.0, _ROW_GAP - 2 * _CLEAR_OF_CUT
    else:
        left, top, width, high = rects["A"]
        for y in (top - _CLEAR_OF_CUT - 5.0, top + high + _CLEAR_OF_CUT):
            for share in (0.1, 0.3, 0.5, 0.7, 0.9):
                yield left + share * width - 4.0, y, 8.0, 5.0


def _square(x: float, y: float, side: float) -> Rect:
    return x - side / 2, y - side / 2, side, side


def _rows(cells: dict[str, Rect]) -> list[Rect]:
    """The leftmost cell of each row."""
    left = min(rect[0] for rect in cells.values())
    return [rect for rect in cells.values() if rect[0] == left]


def _lane_colours(paper: str, size: tuple[float, float], cells: str) -> list[float]:
    """Middles of the colours down one lane."""
    rows = _rows(cell_rects(paper, size, cells))
    if cells == "six":
        # The last is level with the cell's lower edge; the first keeps off the letter.
        step = (rows[0][3] - 17.0 - SMALL) / 2
        return [
            top + high - SMALL / 2 - step * k
            for _, top, _, high in rows
            for k in reversed(range(3))
        ]
    _, top, _, high = rows[0]
    first, last = top + 17.0 + SMALL / 2, top + high - SMALL / 2
    beside = [first + (last - first) * k / 9 for k in range(10)]
    above, below = (FRAME + top) / 2, (top + high + size[1] - FRAME) / 2
    return [above, *beside, below]


def _lane_gaps(paper: str, size: tuple[float, float], cells: str) -> Iterator[tuple[float, float]]:
    """Top and bottom of the paper between colours, and between the letter and the first of them."""
    rows = _rows(cell_rects(paper, size, cells))
    middles = _lane_colours(paper, size, cells)
    beside = middles if cells == "six" else middles[1:-1]
    each = len(beside) // len(rows)
    for number, (_, top, _, _) in enumerate(rows):
        before = top + SMALL
        for middle in beside[number * each : (number + 1) * each]:
            yield before, middle - SMALL / 2
            before = middle + SMALL / 2


def _between_frame_squares(size: tuple[float, float]) -> Iterator[Rect]:
    sides = frame_squares(size)
    across = [rect for _, rect in sides["top"]]
    down = [across[-1], *(rect for _, rect in sides["right"]), sides["bottom"][0][1]]
    for near, far in pairwise(across):
        left, width = near[0] + SQUARE + _CLEAR, far[0] - near[0] - SQUARE - 2 * _CLEAR
        for y in (MARGIN, size[1] - FRAME):
            yield left, y + 1.0, width, SQUARE - 2.0
    for near, far in pairwise(down):
        top, high = near[1] + SQUARE + _CLEAR, far[1] - near[1] - SQUARE - 2 * _CLEAR
        for x in (MARGIN, size[0] - FRAME):
            yield x + 1.0, top, SQUARE - 2.0, high
