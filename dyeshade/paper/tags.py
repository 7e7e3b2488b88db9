"""Tags to tie to pieces: the piece's code to read, and as a QR code for the program."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from dyeshade.paper.card_measures import PAPERS_MM
from dyeshade.paper.codes import qr_rects
from dyeshade.paper.compose import Composer, cap_mm, step_mm
from dyeshade.paper.cutting import cut_grid
from dyeshade.paper.page import POINT_MM
from dyeshade.paper.paper_page import LaidPages, PaperPage
from dyeshade.paper.tag_sheet import CODE_MM, Tag, TagSheet
from dyeshade.paper.typeset import Voice, width_mm, wrapped
from dyeshade.sheet.tag import BOTTOM, HOLE, HOLE_ACROSS, LEFT, QUIET, RIGHT, TOP, tag_text

_CODE_PT_OF_SIDE: Final = 0.86
_LINE_PT_OF_SIDE: Final = 0.43
"""Sizes of the piece's code and of the line beneath it, in points to a millimetre of the side."""

_SHRINK: Final = 0.94
_LEAST_PT: Final = 3.5


def lay_out_tags(sheet: TagSheet, tags: Sequence[Tag]) -> LaidPages:
    """Lay tags out, side by side, with lines and marks to cut along.

    Parameters
    ----------
    sheet : TagSheet
    tags : sequence of Tag
        At least one.

    Returns
    -------
    LaidPages
    """
    if not tags:
        raise ValueError("no tags")
    columns, rows = sheet.grid
    pages: list[PaperPage] = []
    missing: dict[str, None] = {}
    most = columns * rows
    for first in range(0, len(tags), most):
        made = _page(sheet, tags[first : first + most])
        pages.append(made.page())
        missing |= dict.fromkeys(made.missing)
    return LaidPages("tags", "", tuple(pages), "".join(missing))


def _page(sheet: TagSheet, tags: Sequence[Tag]) -> Composer:
    columns, rows = sheet.grid
    wide, high = sheet.tag_mm
    width, height = PAPERS_MM[sheet.paper]
    left, top = (width - columns * wide) / 2, (height - rows * high) / 2
    made = Composer((width, height))
    lines = -(-len(tags) // columns)
    for number, tag in enumerate(tags):
        row, column = divmod(number, columns)
        _draw(made, tag, left + column * wide, top + row * high, CODE_MM[sheet.size])
    full = columns if lines > 1 else len(tags)
    cut_grid(made, left, top, [wide] * full, [high] * lines, len(tags))
    return made


def _draw(made: Composer, tag: Tag, left: float, top: float, side: float) -> None:
    x, y = left - LEFT * side, top - TOP * side
    made.hole(x + HOLE[0] * side, y + HOLE[1] * side, HOLE_ACROSS * side)
    made.fill(qr_rects(tag_text(tag.piece), x, y, side), 0.0)
    middle, width = x + side / 2, (RIGHT - LEFT) * side - 2.0
    lines, points = _fitted(tag.piece, "serif", _CODE_PT_OF_SIDE * side, width, 2)
    # Room beneath the code's quiet zone, down to where the line stands.
    above = y + (1.0 + QUIET) * side
    below = top + (BOTTOM - TOP) * side - 0.1 * side
    line_pt = _LINE_PT_OF_SIDE * side
    if tag.line:
        words, line_pt = _fitted(tag.line, "sans", line_pt, width, 2)
        for line in reversed(words):
            made.line_of_words(line, "sans", line_pt, middle, below, "middle")
            below -= step_mm(line_pt, 1.1)
        below += step_mm(line_pt, 1.1) - cap_mm(line_pt) - 0.9
    high = cap_mm(points) + (len(lines) - 1) * step_mm(points, 1.05)
    while high > below - above and points > _LEAST_PT:
        points *= _SHRINK
        high = cap_mm(points) + (len(lines) - 1) * step_mm(points, 1.05)
    baseline = (above + below - high) / 2 + cap_mm(points)
    for line in lines:
        made.line_of_words(line, "serif", points, middle, baseline, "middle")
        baseline += step_mm(points, 1.05)


def _fitted(
    words: str, voice: Voice, points: float, width: float, most_lines: int
) -> tuple[tuple[str, ...], float]:
    """Words on so many lines at most, set smaller until they fit; and their size."""
    whole = width_mm(words, voice, points)
    if whole <= width:
        return (words,), points
    # One line set a little smaller reads better than two.
    if whole * 0.7 <= width:
        return (words,), points * width / whole
    while True:
        lines = wrapped(words, voice, points, width)
        if len(lines) <= most_lines or points * POINT_MM < 0.7:
            return lines[:most_lines], points
        points *= _SHRINK
