"""Lines and marks to cut small papers apart."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import Final

from dyeshade.paper.compose import Composer
from dyeshade.paper.page import Rect

_CUT_GREY: Final = 0.72
_MARK_MM: Final = 4.0
_APART_MM: Final = 1.0
_HAIR_MM: Final = 0.1


def cut_grid(
    made: Composer,
    left: float,
    top: float,
    widths: Sequence[float],
    heights: Sequence[float],
    count: int,
) -> None:
    """Draw light lines around papers that lie side by side, and marks in line with them outside.

    Parameters
    ----------
    made : Composer
    left, top : float
        Of the first one, mm.
    widths, heights : sequence of float
        Of columns and rows, mm.
    count : int
        How many there are, row by row; the last row may be part filled.
    """
    xs = [left, *accumulate(widths, initial=left)][1:]
    ys = [top, *accumulate(heights, initial=top)][1:]
    columns = len(widths)
    for number in range(count):
        row, column = divmod(number, columns)
        made.outline(_shrunk((xs[column], ys[row], widths[column], heights[row])), _CUT_GREY)
    for x in xs:
        made.line((x, top - _APART_MM - _MARK_MM, x, top - _APART_MM), width=_HAIR_MM)
        end = ys[-1] + _APART_MM
        made.line((x, end, x, end + _MARK_MM), width=_HAIR_MM)
    for y in ys:
        made.line((left - _APART_MM - _MARK_MM, y, left - _APART_MM, y), width=_HAIR_MM)
        end = xs[-1] + _APART_MM
        made.line((end, y, end + _MARK_MM, y), width=_HAIR_MM)


def _shrunk(rect: Rect) -> Rect:
    """A rectangle whose outline, drawn outside of it, has its middle on the cut."""
    half = _HAIR_MM / 2
    x, y, w, h = rect
    return x + half, y + half, w - 2 * half, h - 2 * half
