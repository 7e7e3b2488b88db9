"""A pot card: one page to hang by the pot, with boxes to tick and lines to write on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from dyeshade.paper.card_measures import PAPERS_MM
from dyeshade.paper.compose import Composer, cap_mm, step_mm
from dyeshade.paper.paper_page import LaidPages
from dyeshade.paper.shade_card import Paper
from dyeshade.paper.typeset import balanced, width_mm, wrapped

_SIDE_MM, _TOP_MM, _FOOT_MM = 17.0, 17.0, 13.0
_SWATCH_MM: Final = (40.0, 25.0)
_SURROUND_MM: Final = 3.0
_SURROUND_GREY: Final = 0.93
_COLUMN_GAP_MM: Final = 8.0
_WRITTEN_MM: Final = 8.0
"""Between lines that are written on by hand; common practice, no source."""

_LEAST_LINES: Final = 2
_SHRINK: Final = 0.96
_LEAST: Final = 0.3

_TITLE_PT, _HEADING_PT, _TEXT_PT, _CAUTION_PT, _SMALL_PT = 22.0, 12.5, 9.6, 7.8, 6.8


@dataclass(frozen=True)
class Wanted:
    """The wanted shade: sRGB 0..255, and what is said of it."""

    rgb: tuple[int, int, int]
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Row:
    """A line of a table: what it is about, and a cell for each further column; "" is a blank."""

    what: str
    cells: tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """Rows with a box to tick each.

    Attributes
    ----------
    heading : str
    columns : tuple of str
        Over the cells of the rows.
    widths : tuple of float
        Of the cells, as shares of the page's inner width; what is left is for what the row is
        about.
    rows : tuple of Row
    notes : tuple of str
        Under the heading.
    """

    heading: str
    columns: tuple[str, ...]
    widths: tuple[float, ...]
    rows: tuple[Row, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class PotCard:
    """What a pot card says, in words for people.

    Attributes
    ----------
    title : str
    facts : tuple of str
        Under the title: the fibre, the pot.
    blanks : tuple of str
        Words before lines to fill, as "Date".
    wanted : Wanted or None
    tables : tuple of Table
        Amounts, steps, additions.
    cautions_heading : str
    cautions : tuple of str
    maker : str
    notes_heading : str
        Over lines to write on, where there is room for some; "" for none.
    """

    title: str
    facts: tuple[str, ...]
    blanks: tuple[str, ...]
    wanted: Wanted | None
    tables: tuple[Table, ...]
    cautions_heading: str
    cautions: tuple[str, ...]
    maker: str = ""
    notes_heading: str = ""


def lay_out_pot_cards(cards: Sequence[PotCard], paper: Paper = "A4") -> LaidPages:
    """Lay pot cards out, a page each; one that is long is set smaller until it fits.

    Parameters
    ----------
    cards : sequence of PotCard
        One for each pot.
    paper : str
        "A4" or "Letter".
    """
    made = [_fitted(card, PAPERS_MM[paper]) for card in cards]
    missing = dict.fromkeys("".join(one.missing for one in made))
    first = cards[0]
    return LaidPages(first.title, first.maker, tuple(one.page() for one in made), "".join(missing))


def _fitted(card: PotCard, paper_mm: tuple[float, float]) -> Composer:
    size = 1.0
    while True:
        made = Composer(paper_mm)
        if _Laying(made, card, size).whole() or size < _LEAST:
            return made
        size *= _SHRINK


class _Laying:
    """One card being laid out at one size of letters."""

    def __init__(self, made: Composer, card: PotCard, size: float) -> None:
        self._made, self._card = made, card
        self._text, self._small = size * _TEXT_PT, size * _SMALL_PT
        self._caution = size * _CAUTION_PT
        self._heading, self._title = size * _HEADING_PT, size * _TITLE_PT
        self._inner = made.paper_mm[0] - 2 * _SIDE_MM
        self._size = size

    def whole(self) -> bool:
        """Lay it out; tells whether it fits on its page."""
        bottom = self._made.paper_mm[1] - _FOOT_MM
        if self._card.maker:
            self._made.line_of_words(self._card.maker, "sans", 6.4, _SIDE_MM, bottom)
            bottom -= 5.0
        y = self._head()
        for table in self._card.tables:
            if table.rows or table.notes:
                y = self._table(table, y + 3.4 * self._size)
        high = self._cautions(None)
        top = bottom - high
        if self._card.cautions:
            self._cautions(top)
        if self._card.notes_heading:
            self._notes(y + 3.4 * self._size, top - 3.4 * self._size)
        return y + 4.0 * self._size <= top

    def _notes(self, top: float, bottom: float) -> None:
        """Lines to write on, as many as there is room for; none where that is too few."""
        head = cap_mm(self._heading) + 1.9
        lines = int((bottom - top - head) // _WRITTEN_MM)
        if lines < _LEAST_LINES:
            return
        made, right = self._made, _SIDE_MM + self._inner
        baseline = top + cap_mm(self._heading)
        made.line_of_words(self._card.notes_heading, "serif", self._heading, _SIDE_MM, baseline)
        y = top + head
        made.line((_SIDE_MM, y, right, y), width=0.2)
        for _ in range(lines):
            y += _WRITTEN_MM
            made.line((_SIDE_MM, y, right, y))

    def _head(self) -> float:
        made, card = self._made, self._card
        wide = self._inner
        right = _SIDE_MM + self._inner
        low = _TOP_MM
        if card.wanted is not None:
            width, height = _SWATCH_MM
            wide -= width + 8.0
            x = right - width
            made.fill([(x, _TOP_MM, width, height)], _SURROUND_GREY)
            edge = _SURROUND_MM
            inside = (x + edge, _TOP_MM + edge, width - 2 * edge, height - 2 * edge)
            made.colour(inside, card.wanted.rgb)
            low = _TOP_MM + height + 2.2
            for line in card.wanted.lines:
                low = made.paragraph(line, "sans", 7.2, x, low, width) + 0.6
        title = balanced(card.title, "serif", self._title, wide)
        y = made.lines(title, "serif", self._title, _SIDE_MM, _TOP_MM, 1.12, card.title) + 1.6
        for fact in card.facts:
            y = made.paragraph(fact, "sans", self._text, _SIDE_MM, y, wide) + 0.6
        y = max(y + 1.2, low - 5.0 if not card.blanks else y + 1.2)
        each = wide / max(len(card.blanks), 1)
        baseline = y + cap_mm(self._text) + 1.5
        for number, words in enumerate(card.blanks):
            x = _SIDE_MM + number * each
            start = x + made.line_of_words(words, "sans", self._text, x, baseline) + 1.5
            made.line((start, baseline + 0.6, x + each - 4.0, baseline + 0.6))
        return max(baseline + 2.5 if card.blanks else y, low)

    def _table(self, table: Table, top: float) -> float:
        made = self._made
        right = _SIDE_MM + self._inner
        baseline = top + cap_mm(self._heading)
        made.line_of_words(table.heading, "serif", self._heading, _SIDE_MM, baseline)
        widths = [share * self._inner for share in table.widths]
        starts = [right - sum(widths[number:]) for number in range(len(widths))]
        for words, x in zip(table.columns, starts, strict=True):
            made.line_of_words(words, "sans", self._small, x, baseline)
        y = baseline + 1.9
        made.line((_SIDE_MM, y, right, y), width=0.2)
        y += 1.9 * self._size
        for note in table.notes:
            y = (
                made.paragraph(note, "sans", self._text, _SIDE_MM, y, self._inner)
                + 1.2 * self._size
            )
        if table.notes:
            y += 1.2 * self._size
        for row in table.rows:
            y = self._row(row, starts, widths, y)
        return y

    def _row(self, row: Row, starts: Sequence[float], widths: Sequence[float], top: float) -> float:
        made = self._made
        baseline = top + cap_mm(self._text) + 0.6
        box = made.tick_box(_SIDE_MM, baseline, self._text)
        x = _SIDE_MM + box + 2.6
        first = starts[0] if starts else _SIDE_MM + self._inner
        ends = [baseline]
        if row.what:
            lines = wrapped(row.what, "sans", self._text, first - x - 3.0)
            made.lines(lines, "sans", self._text, x, top + 0.6, said=row.what)
            ends.append(baseline + (len(lines) - 1) * step_mm(self._text))
        else:
            made.line((x, baseline + 0.6, first - 3.0, baseline + 0.6))
        for cell, start, width in zip(row.cells, starts, widths, strict=True):
            if cell.startswith("…"):
                # A blank with its unit behind it.
                unit = cell.removeprefix("…").strip()
                wide = width_mm(unit, "sans", self._text) + 1.0 if unit else 0.0
                end = start + width - 3.0
                made.line((start, baseline + 0.6, end - wide, baseline + 0.6))
                made.line_of_words(unit, "sans", self._text, end, baseline, "right")
            elif cell:
                lines = wrapped(cell, "sans", self._text, width - 2.0)
                made.lines(lines, "sans", self._text, start, top + 0.6, said=cell)
                ends.append(baseline + (len(lines) - 1) * step_mm(self._text))
        return max(ends) + 2.7 * self._size

    def _cautions(self, top: float | None) -> float:
        """Set the cautions in two columns from `top` on, or only tell their height."""
        card, made = self._card, self._made
        if not card.cautions:
            return 0.0
        width = (self._inner - _COLUMN_GAP_MM) / 2
        blocks = [wrapped(one, "sans", self._caution, width - 2.6) for one in card.cautions]
        gap = 0.45 * step_mm(self._caution)
        heights = [len(block) * step_mm(self._caution) + gap for block in blocks]
        half = _first_half(heights)
        head = cap_mm(self._heading) + 3.8
        high = head + max(sum(heights[:half]), sum(heights[half:]))
        if top is None:
            return high
        baseline = top + cap_mm(self._heading)
        made.line_of_words(card.cautions_heading, "serif", self._heading, _SIDE_MM, baseline)
        rule = baseline + 1.9
        made.line((_SIDE_MM, rule, _SIDE_MM + self._inner, rule), width=0.2)
        for column, part in enumerate((slice(0, half), slice(half, None))):
            x, y = _SIDE_MM + column * (width + _COLUMN_GAP_MM), top + head
            for block, height in zip(blocks[part], heights[part], strict=True):
                made.line_of_words("–", "sans", self._caution, x, y + cap_mm(self._caution))
                made.lines(block, "sans", self._caution, x + 2.6, y)
                y += height
        return high


def _first_half(heights: Sequence[float]) -> int:
    """How many go into the first of two columns, so that the higher one is as low as can be."""
    whole = sum(heights)
    tops = [max(sum(heights[:n]), whole - sum(heights[:n])) for n in range(len(heights) + 1)]
    return tops.index(min(tops))
