"""Lays a shade card out in pages: what stands where, each shade whole on one page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from dyeshade.paper.card_cell import SetCaption, set_caption
from dyeshade.paper.card_frame import Frame, make_frame, page_number
from dyeshade.paper.card_measures import Measures
from dyeshade.paper.card_page import CardPage, FibrePlace, Line, Swatch, draw_card_page, trim_marks
from dyeshade.paper.page import Page, Rect
from dyeshade.paper.shade_card import Caption, Card, CardShade, CardWords
from dyeshade.paper.typeset import SetText, missing_in
from dyeshade.whole_file import write_whole

_ABOVE_FIBRE_MM: Final = 2.5
_ABOVE_CAPTION_MM: Final = 3.6
_MOST_SPREAD_MM: Final = 9.0
_MOST_SPREAD_FIRST_MM: Final = 18.0
"""On a first page that holds fewer rows than the others, since the title stands there."""

_MOST_TALLER: Final = 0.4
"""By what share a swatch may be higher than its size says."""

_MOST_LOWER: Final = 0.2
"""By what share it may be lower."""

_TOUCH_MM: Final = 0.01
_LEAST_ROOM_MM: Final = 40.0
"""Height that a caption may always take, however high the rest of the page is."""


@dataclass(frozen=True)
class LaidCard:
    """A shade card in pages.

    Attributes
    ----------
    card : Card
    pages : tuple of CardPage
        In the order of printing; at least one.
    missing : str
        Characters that no font has; a box stands for each.
    """

    card: Card
    pages: tuple[CardPage, ...]
    missing: str


@dataclass(frozen=True)
class _Row:
    """Shades side by side, the captions of their front and of their back."""

    first: int
    shades: tuple[CardShade, ...]
    fronts: tuple[SetCaption, ...]
    backs: tuple[SetCaption, ...]
    height_mm: float


def lay_out_card(card: Card, shades: Sequence[CardShade], words: CardWords) -> LaidCard:
    """Lay a shade card out.

    Parameters
    ----------
    card : Card
    shades : sequence of CardShade
        In their order on the card.
    words : CardWords
        What is said of them.

    Returns
    -------
    LaidCard
    """
    measures = Measures(card)
    notes = words.notes(shades, card)
    frame = make_frame(measures, notes)
    rows = _rows(measures, frame, shades, words)
    gap = measures.sizes.row_gap_mm
    pages = _paged(frame, rows, gap)
    taller = _taller(measures, frame, pages)
    if taller:
        measures = replace(measures, taller_mm=taller)
        rows = [replace(row, height_mm=row.height_mm + taller) for row in rows]
        pages = _paged(frame, rows, gap)
    shorter = len(pages) > 2 and len(pages[0]) < len(pages[1])
    for number in range(len(pages) - 1):
        most = _MOST_SPREAD_FIRST_MM if shorter and number == 0 else _MOST_SPREAD_MM
        pages[number] = _spread(frame, pages[number], most)
    count = len(pages) * (2 if card.two_sided else 1)
    laid: list[CardPage] = []
    for number, placed in enumerate(pages):
        laid.append(_front(measures, frame, placed, number == 0))
        if card.two_sided:
            laid.append(_back(measures, frame, placed))
    if count > 1:
        laid = [
            _with_words(page, page_number(measures, words.page_number(number, count)))
            for number, page in enumerate(laid, start=1)
        ]
    said = [card.title, card.maker, *notes]
    for shade in shades:
        caption = words.caption(shade)
        said += [caption.heading, *caption.lines]
    return LaidCard(card, tuple(laid), missing_in(" ".join(said)))


def card_pdf(laid: LaidCard) -> bytes:
    """A card as the bytes of a PDF, the same for the same card."""
    title = laid.card.title or "shade card"
    page = Page(laid.pages[0].paper_mm, title, "sans", laid.card.maker, srgb=True)
    for number, card_page in enumerate(laid.pages):
        if number:
            page.next_page()
        draw_card_page(page, card_page)
    return page.to_pdf()


def write_card_pdf(laid: LaidCard, out: str | Path) -> None:
    """Write a card as a PDF; an older file there is replaced once the new one is whole.

    Raises
    ------
    DyeshadeError
        ``cannot_write`` (path, reason).
    """
    write_whole(card_pdf(laid), out)


def _rows(
    measures: Measures, frame: Frame, shades: Sequence[CardShade], words: CardWords
) -> list[_Row]:
    sizes, width = measures.sizes, measures.column_mm
    above = _caption_top(measures)
    most = max(frame.bottom_mm - frame.top_mm - above, _LEAST_ROOM_MM)

    def wrap(caption: Caption) -> SetCaption:
        return set_caption(caption, sizes.heading_pt, sizes.line_pt, width, most)

    rows: list[_Row] = []
    two_sided = measures.card.two_sided
    for first in range(0, len(shades), sizes.columns):
        part = tuple(shades[first : first + sizes.columns])
        whole = tuple(wrap(words.caption(shade)) for shade in part)
        fronts = tuple(wrap(words.short_caption(shade)) for shade in part) if two_sided else whole
        height = max(above + caption.height_mm for caption in fronts)
        if two_sided:
            height = max(height, *(caption.height_mm for caption in whole))
        rows.append(_Row(first, part, fronts, whole, height))
    return rows


def _paged(frame: Frame, rows: Iterable[_Row], gap: float) -> list[list[tuple[float, _Row]]]:
    """Rows with their tops, page by page."""
    pages: list[list[tuple[float, _Row]]] = [[]]
    y = frame.first_top_mm
    for row in rows:
        if y + row.height_mm > frame.bottom_mm and (pages[-1] or len(pages) == 1):
            pages.append([])
            y = frame.top_mm
        pages[-1].append((y, row))
        y += row.height_mm + gap
    return pages


def _taller(
    measures: Measures, frame: Frame, pages: Sequence[Sequence[tuple[float, _Row]]]
) -> float:
    """By how much all swatches can be higher on the same pages, in mm.

    Only where a page would else stay empty below its rows, moved apart as they may be. Below 0
    where lower ones let the first page, with its title, hold as many rows as the others.
    """
    if len(pages) == 1:
        return 0.0
    more = len(pages[0]) + 1
    if len(pages[1]) == more and len(pages) > 2:
        top, last = pages[0][-1]
        row = pages[1][0][1]
        lacks = top + last.height_mm + measures.sizes.row_gap_mm + row.height_mm - frame.bottom_mm
        if lacks / more <= _MOST_LOWER * measures.swatch_mm:
            return -lacks / more - _TOUCH_MM
    room = _MOST_TALLER * measures.swatch_mm
    for number, placed in enumerate(pages):
        if not placed:
            continue
        top, last = placed[-1]
        free = frame.bottom_mm - top - last.height_mm
        if number + 1 < len(pages):
            free -= (len(placed) - 1) * _MOST_SPREAD_MM
        room = min(room, free / len(placed))
    return max(room, 0.0)


def _spread(
    frame: Frame, placed: list[tuple[float, _Row]], most: float
) -> list[tuple[float, _Row]]:
    """Rows of a full page moved apart, so that what no further row could fill is between them."""
    if len(placed) < 2:
        return placed
    top, last = placed[-1]
    more = min((frame.bottom_mm - top - last.height_mm) / (len(placed) - 1), most)
    return [(y + number * more, row) for number, (y, row) in enumerate(placed)]


def _front(
    measures: Measures, frame: Frame, placed: Sequence[tuple[float, _Row]], first: bool
) -> CardPage:
    swatches: list[Swatch] = []
    fibre_places: list[FibrePlace] = []
    texts = [*(frame.head if first else frame.running), *frame.foot]
    for y, row in placed:
        for column, (shade, caption) in enumerate(zip(row.shades, row.fronts, strict=True)):
            x = measures.left(column)
            swatches.append(_swatch(measures, shade, row, column, y))
            if measures.card.fibre_place:
                top = y + measures.swatch_mm + _ABOVE_FIBRE_MM
                fibre_places.append(FibrePlace((x, top, measures.column_mm, measures.fibre_mm)))
            texts += caption.placed(x, y + _caption_top(measures))
    lines: list[Line] = list(frame.rules) if first else []
    if measures.card.fibre_place:
        lines += trim_marks(measures)
    return CardPage(
        measures.paper_mm, False, tuple(swatches), tuple(fibre_places), tuple(texts), tuple(lines)
    )


def _back(measures: Measures, frame: Frame, placed: Sequence[tuple[float, _Row]]) -> CardPage:
    """Captions behind their swatches, when the paper is turned over its long edge."""
    texts = [*frame.foot]
    for y, row in placed:
        for column, caption in enumerate(row.backs):
            x = measures.paper_mm[0] - measures.left(column) - measures.column_mm
            texts += caption.placed(x, y)
    return CardPage(measures.paper_mm, True, (), (), tuple(texts), ())


def _swatch(measures: Measures, shade: CardShade, row: _Row, column: int, y: float) -> Swatch:
    x, width = measures.left(column), measures.column_mm
    high, edge = measures.swatch_mm, measures.sizes.surround_mm
    inside: Rect = (x + edge, y + edge, width - 2 * edge, high - 2 * edge)
    cell: Rect = (x, y, width, row.height_mm)
    return Swatch(row.first + column, shade, (x, y, width, high), inside, cell)


def _caption_top(measures: Measures) -> float:
    """From a cell's top to its caption's."""
    fibre = measures.fibre_mm + _ABOVE_FIBRE_MM if measures.card.fibre_place else 0.0
    return measures.swatch_mm + fibre + _ABOVE_CAPTION_MM


def _with_words(page: CardPage, words: Sequence[SetText]) -> CardPage:
    return CardPage(
        page.paper_mm,
        page.back,
        page.swatches,
        page.fibre_places,
        (*page.words, *words),
        page.lines,
    )
