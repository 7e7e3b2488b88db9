"""What stands around the shades of a card: title and maker, running title, foot, page number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from dyeshade.paper.card_measures import (
    FOOT_MM,
    FOOT_PT,
    LEADING,
    LEAST_TITLE_PT,
    MAKER_PT,
    RUNNING_PT,
    SIDE_MM,
    TITLE_PT,
    TOP_MM,
    Measures,
)
from dyeshade.paper.card_page import Line, rule_under_title
from dyeshade.paper.page import CAP_HEIGHT, POINT_MM
from dyeshade.paper.typeset import SetText, Voice, balanced, set_line, width_mm, wrapped

_MOST_TITLE_LINES: Final = 3
_TITLE_LEADING: Final = 1.12
_ABOVE_MAKER: Final = 1.75
"""From the title's last baseline to the maker's, in sizes of the maker's letters."""

_RULE_MM: Final = 3.6
_UNDER_TITLE_MM: Final = 7.0
_MORE_ROOM_MM: Final = 4.0
_MOST_HEAD: Final = 0.4
"""Of the page's height; titles that need more are set smaller."""

_SHRINK: Final = 0.93
_NUMBER_ROOM_MM: Final = 30.0
_ABOVE_FOOT_MM: Final = 6.0


@dataclass(frozen=True)
class Frame:
    """What stands around the shades.

    Attributes
    ----------
    head, running : tuple of SetText
        Of the first page and of the others.
    rules : tuple of Line
        Of the first page.
    first_top_mm, top_mm : float
        Where the shades begin on the first page, and on the others.
    foot : tuple of SetText
    bottom_mm : float
        Where the shades end.
    """

    head: tuple[SetText, ...]
    rules: tuple[Line, ...]
    running: tuple[SetText, ...]
    foot: tuple[SetText, ...]
    first_top_mm: float
    top_mm: float
    bottom_mm: float


def make_frame(measures: Measures, notes: Sequence[str]) -> Frame:
    """Set what stands around the shades of a card.

    Parameters
    ----------
    measures : Measures
    notes : sequence of str
        What the foot of each page explains.
    """
    card, inner = measures.card, measures.inner_mm
    head, end = _head(measures)
    rules: tuple[Line, ...] = ()
    first_top = TOP_MM
    if head:
        rules = (rule_under_title(measures, end + _RULE_MM),)
        first_top = end + _RULE_MM + _UNDER_TITLE_MM
    # A running title only says which card this is; the title itself stands whole on page one.
    short = wrapped(card.title or card.maker, "sans", RUNNING_PT, inner - _MORE_ROOM_MM)
    running: tuple[SetText, ...] = ()
    top = TOP_MM
    if short:
        line = short[0] if len(short) == 1 else f"{short[0]} …"
        running = set_line(line, "sans", RUNNING_PT, SIDE_MM, TOP_MM)
        top += _UNDER_TITLE_MM - 1.0
    lines = [
        part for note in notes for part in wrapped(note, "sans", FOOT_PT, inner - _NUMBER_ROOM_MM)
    ]
    last = measures.paper_mm[1] - FOOT_MM
    step = LEADING * FOOT_PT * POINT_MM
    foot = tuple(
        text
        for number, line in enumerate(reversed(lines))
        for text in set_line(line, "sans", FOOT_PT, SIDE_MM, last - number * step)
    )
    high = (len(lines) - 1) * step + CAP_HEIGHT * FOOT_PT * POINT_MM if lines else 0.0
    bottom = last - high - _ABOVE_FOOT_MM
    return Frame(head, rules, running, foot, first_top, top, bottom)


def page_number(measures: Measures, words: str) -> tuple[SetText, ...]:
    """A page's number at its right foot."""
    x = SIDE_MM + measures.inner_mm - width_mm(words, "sans", FOOT_PT)
    return set_line(words, "sans", FOOT_PT, x, measures.paper_mm[1] - FOOT_MM)


def _head(measures: Measures) -> tuple[tuple[SetText, ...], float]:
    """Title and maker, and their last baseline in mm."""
    points = TITLE_PT
    while points > LEAST_TITLE_PT:
        if (
            len(wrapped(measures.card.title, "serif", points, measures.inner_mm))
            <= _MOST_TITLE_LINES
        ):
            break
        points -= 1.0
    maker_pt = MAKER_PT
    head, end = _set_head(measures, points, maker_pt)
    while end > _MOST_HEAD * measures.paper_mm[1]:
        points, maker_pt = points * _SHRINK, maker_pt * _SHRINK
        head, end = _set_head(measures, points, maker_pt)
    return head, end


def _set_head(
    measures: Measures, title_pt: float, maker_pt: float
) -> tuple[tuple[SetText, ...], float]:
    card, width = measures.card, measures.inner_mm
    placed: list[SetText] = []
    baseline = TOP_MM

    def write(lines: Sequence[str], voice: Voice, points: float, leading: float) -> None:
        nonlocal baseline
        for number, line in enumerate(lines):
            if placed:
                baseline += (leading if number else _ABOVE_MAKER) * points * POINT_MM
            else:
                baseline += CAP_HEIGHT * points * POINT_MM
            placed.extend(set_line(line, voice, points, SIDE_MM, baseline))

    write(balanced(card.title, "serif", title_pt, width), "serif", title_pt, _TITLE_LEADING)
    write(wrapped(card.maker, "sans", maker_pt, width), "sans", maker_pt, LEADING)
    return tuple(placed), baseline
