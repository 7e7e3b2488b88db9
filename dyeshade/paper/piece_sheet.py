"""A piece sheet: all that is known of one piece, on a page of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from dyeshade.paper.card_measures import PAPERS_MM
from dyeshade.paper.codes import qr_rects
from dyeshade.paper.compose import Composer, cap_mm
from dyeshade.paper.paper_page import LaidPages
from dyeshade.paper.shade_card import Paper
from dyeshade.paper.typeset import balanced, wrapped
from dyeshade.sheet.tag import tag_text

_SIDE_MM, _TOP_MM, _FOOT_MM = 18.0, 17.0, 14.0
_CODE_MM: Final = 16.0
_PICTURE_HIGH_MM: Final = 58.0
_GAP_MM: Final = 5.0
_SURROUND_GREY: Final = 0.93
_SURROUND_MM: Final = 3.5
_WHEN_MM, _CHIP_MM = 29.0, 7.0
_TITLE_PT, _HEADING_PT, _TEXT_PT, _SMALL_PT, _FOOT_PT = 22.0, 12.5, 9.0, 7.6, 6.4
_SIZES: Final = (1.0, 0.94, 0.88, 0.82, 0.76)
"""Sizes of the history's letters that are tried; where none fits, another page is taken."""


@dataclass(frozen=True)
class PieceView:
    """A photo of the piece.

    Attributes
    ----------
    jpeg : bytes
        In sRGB.
    size_px : tuple of int
        Width and height.
    caption : str
    """

    jpeg: bytes
    size_px: tuple[int, int]
    caption: str


@dataclass(frozen=True)
class HistoryRow:
    """A line of the piece's history.

    Attributes
    ----------
    when : str
        The day, "" where it is not known.
    lines : tuple of str
        What was done, or what was read; the first one first.
    rgb : tuple of 3 ints or None
        Of a reading.
    """

    when: str
    lines: tuple[str, ...]
    rgb: tuple[int, int, int] | None = None


@dataclass(frozen=True)
class PieceSheet:
    """What a piece's sheet says, in words for people.

    Attributes
    ----------
    code : str
        The piece's, for its tag's code.
    title : str
    facts : tuple of str
        What the piece is made of, and what dyed it.
    shade : tuple of 3 ints or None
        The latest reading, sRGB.
    shade_lines : tuple of str
        What is said of it.
    views : tuple of PieceView
        At most three.
    history_heading : str
    history : tuple of HistoryRow
    notes : tuple of str
        At the foot.
    page_words : str
        Which page of several, with {number} and {count} in it.
    """

    code: str
    title: str
    facts: tuple[str, ...]
    shade: tuple[int, int, int] | None
    shade_lines: tuple[str, ...]
    views: tuple[PieceView, ...]
    history_heading: str
    history: tuple[HistoryRow, ...]
    notes: tuple[str, ...] = ()
    page_words: str = "{number} of {count}"


def lay_out_piece_sheets(sheets: Sequence[PieceSheet], paper: Paper = "A4") -> LaidPages:
    """Lay piece sheets out; a history that is too long for one page goes on on another.

    Parameters
    ----------
    sheets : sequence of PieceSheet
        At least one.
    paper : str
        "A4" or "Letter".
    """
    made = [page for sheet in sheets for page in _pages(sheet, PAPERS_MM[paper])]
    missing = dict.fromkeys("".join(one.missing for one in made))
    title = sheets[0].title if len(sheets) == 1 else "piece sheets"
    return LaidPages(title, "", tuple(one.page() for one in made), "".join(missing))


def _pages(sheet: PieceSheet, paper_mm: tuple[float, float]) -> list[Composer]:
    made: list[Composer] = []
    for size in _SIZES:
        made = _laid(sheet, paper_mm, size)
        if len(made) == 1:
            break
    count = len(made)
    for number, one in enumerate(made, 1):
        y = paper_mm[1] - _FOOT_MM
        for note in reversed(sheet.notes):
            for line in reversed(wrapped(note, "sans", _FOOT_PT, paper_mm[0] - 2 * _SIDE_MM - 25)):
                one.line_of_words(line, "sans", _FOOT_PT, _SIDE_MM, y)
                y -= 3.0
        if count > 1:
            words = sheet.page_words.format(number=number, count=count)
            x = paper_mm[0] - _SIDE_MM
            one.line_of_words(words, "sans", _FOOT_PT, x, paper_mm[1] - _FOOT_MM, "right")
    return made


def _laid(sheet: PieceSheet, paper_mm: tuple[float, float], size: float) -> list[Composer]:
    inner = paper_mm[0] - 2 * _SIDE_MM
    notes = sum(len(wrapped(one, "sans", _FOOT_PT, inner - 25)) for one in sheet.notes)
    bottom = paper_mm[1] - _FOOT_MM - 3.0 * notes - 3.0
    made = [Composer(paper_mm)]
    y = _head(made[0], sheet, inner)
    y = _pictures(made[0], sheet, inner, y)
    if not sheet.history:
        return made
    y += cap_mm(_HEADING_PT)
    made[0].line_of_words(sheet.history_heading, "serif", _HEADING_PT, _SIDE_MM, y)
    made[0].line((_SIDE_MM, y + 1.9, _SIDE_MM + inner, y + 1.9), width=0.2)
    y += 5.0
    fresh = y
    for row in sheet.history:
        high = _row(None, row, inner, 0.0, size)
        if y + high > bottom and y > fresh:
            made.append(Composer(paper_mm))
            made[-1].line_of_words(sheet.title, "sans", 8.5, _SIDE_MM, _TOP_MM)
            y = fresh = _TOP_MM + 7.0
        y = _row(made[-1], row, inner, y, size)
    return made


def _head(made: Composer, sheet: PieceSheet, inner: float) -> float:
    x = _SIDE_MM + inner - _CODE_MM
    made.fill(qr_rects(tag_text(sheet.code), x, _TOP_MM, _CODE_MM), 0.0)
    wide = inner - _CODE_MM - 10.0
    title = balanced(sheet.title, "serif", _TITLE_PT, wide)
    y = made.lines(title, "serif", _TITLE_PT, _SIDE_MM, _TOP_MM, 1.12, sheet.title) + 1.4
    for fact in sheet.facts:
        y = made.paragraph(fact, "sans", _TEXT_PT, _SIDE_MM, y, wide) + 0.7
    return max(y, _TOP_MM + _CODE_MM) + 6.0


def _pictures(made: Composer, sheet: PieceSheet, inner: float, top: float) -> float:
    """The shade and the photos side by side, all of one height."""
    count = len(sheet.views) + (sheet.shade is not None)
    if not count:
        return top
    # Room for three; fewer are no wider than that, or a single photo would fill the page.
    each = (inner - 2 * _GAP_MM) / max(count, 3) if count <= 3 else (inner - 3 * _GAP_MM) / count
    low = top
    x = _SIDE_MM
    if sheet.shade is not None:
        made.fill([(x, top, each, _PICTURE_HIGH_MM)], _SURROUND_GREY)
        edge = _SURROUND_MM
        rect = (x + edge, top + edge, each - 2 * edge, _PICTURE_HIGH_MM - 2 * edge)
        made.colour(rect, sheet.shade)
        y = top + _PICTURE_HIGH_MM + 2.4
        for line in sheet.shade_lines:
            y = made.paragraph(line, "sans", _SMALL_PT, x, y, each) + 0.5
        low = max(low, y)
        x += each + _GAP_MM
    for view in sheet.views:
        width, height = view.size_px
        scale = min(each / width, _PICTURE_HIGH_MM / height)
        size = width * scale, height * scale
        made.picture((x, top + _PICTURE_HIGH_MM - size[1], *size), view.jpeg)
        y = top + _PICTURE_HIGH_MM + 2.4
        low = max(low, made.paragraph(view.caption, "sans", _SMALL_PT, x, y, each))
        x += each + _GAP_MM
    return low + 6.0


def _row(made: Composer | None, row: HistoryRow, inner: float, top: float, size: float) -> float:
    """Set a row from `top` on, or only measure it; gives where the next one begins."""
    text, small = size * _TEXT_PT, size * _SMALL_PT
    x = _SIDE_MM + _WHEN_MM + _CHIP_MM + 2.0
    width = inner - _WHEN_MM - _CHIP_MM - 2.0
    page = made or Composer((1.0, 1.0))
    page.paragraph(row.when, "sans", small, _SIDE_MM, top, _WHEN_MM - 2.0)
    y = top
    for number, line in enumerate(row.lines):
        y = page.paragraph(line, "sans", small if number else text, x, y, width) + 0.5
    if row.rgb is not None:
        high = max(cap_mm(text) + 1.6, 4.4 * size)
        page.colour((_SIDE_MM + _WHEN_MM, top - 0.8, _CHIP_MM, high), row.rgb)
        y = max(y, top + high - 0.8)
    return y + 2.2 * size
