"""Labels for skeins that are sold: what they are made of, what dyed them, and their dye lot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Protocol

from dyeshade.paper.card_measures import PAPERS_MM
from dyeshade.paper.codes import qr_rects
from dyeshade.paper.compose import Composer, cap_mm, step_mm
from dyeshade.paper.cutting import cut_grid
from dyeshade.paper.paper_page import LaidPages, PaperPage
from dyeshade.paper.shade_card import PAPERS, Paper
from dyeshade.paper.typeset import balanced, wrapped
from dyeshade.sheet.tag import tag_text

WIDE_MM, HIGH_MM = 85.0, 50.0
_COLUMNS, _ROWS = 2, 5
_SIDE_MM: Final = 6.0
_HOLE_MM: Final = 5.0
_CODE_MM: Final = 13.0
_NAME_PT, _LINE_PT, _SMALL_PT = 14.0, 7.6, 6.2
_SHRINK: Final = 0.93


@dataclass(frozen=True)
class SkeinLabel:
    """What is known of a skein.

    Attributes
    ----------
    piece, name : str
        The piece's code, and its name where it has one.
    fibre, fibre_make : str
    weight_g : float or None
        Dry, after scouring.
    dyestuffs : tuple of str
        Of all its baths.
    lot : str
        The code of its last bath.
    dyed : date or None
    """

    piece: str
    name: str = ""
    fibre: str = ""
    fibre_make: str = ""
    weight_g: float | None = None
    dyestuffs: tuple[str, ...] = ()
    mordant: str = ""
    lot: str = ""
    dyed: date | None = None


@dataclass(frozen=True)
class LabelSheet:
    """How labels are printed.

    Attributes
    ----------
    paper : str
        "A4" or "Letter".
    maker : str
        Stands at the foot of each; may be "".
    contents : tuple of (fibre, words)
        The fibre content of skeins of a fibre as the law of the place wants it, as ("wool",
        "100 % wool"); for others stands the fibre's name as it was written down, with no claim
        that it is all.
    note : str
        A line more on each, as how to wash it.
    """

    paper: Paper = "A4"
    maker: str = ""
    contents: tuple[tuple[str, str], ...] = ()
    note: str = ""

    def __post_init__(self) -> None:
        if self.paper not in PAPERS:
            raise ValueError(f"paper {self.paper!r}")

    def content_of(self, fibre: str) -> str:
        """What stands for a fibre."""
        named = {name.strip().casefold(): words for name, words in self.contents}
        return named.get(fibre.strip().casefold(), fibre)


class LabelWords(Protocol):
    """The sentences of a label; paper only sets them."""

    def heading(self, label: SkeinLabel) -> str:
        """What the label is called by."""
        ...

    def lines(self, label: SkeinLabel, sheet: LabelSheet) -> tuple[str, ...]:
        """What is said of the skein, in the order of reading."""
        ...

    def foot(self, label: SkeinLabel) -> str:
        """The lot, in one line."""
        ...


def lay_out_labels(sheet: LabelSheet, labels: Sequence[SkeinLabel], words: LabelWords) -> LaidPages:
    """Lay labels out, two side by side, with lines and marks to cut along.

    Parameters
    ----------
    sheet : LabelSheet
    labels : sequence of SkeinLabel
        At least one.
    words : LabelWords
    """
    if not labels:
        raise ValueError("no labels")
    width, height = PAPERS_MM[sheet.paper]
    left, top = (width - _COLUMNS * WIDE_MM) / 2, (height - _ROWS * HIGH_MM) / 2
    pages: list[PaperPage] = []
    missing: dict[str, None] = {}
    for first in range(0, len(labels), _COLUMNS * _ROWS):
        part = labels[first : first + _COLUMNS * _ROWS]
        made = Composer((width, height))
        for number, label in enumerate(part):
            row, column = divmod(number, _COLUMNS)
            _draw(made, sheet, label, words, left + column * WIDE_MM, top + row * HIGH_MM)
        columns = min(_COLUMNS, len(part))
        rows = -(-len(part) // _COLUMNS)
        cut_grid(made, left, top, [WIDE_MM] * columns, [HIGH_MM] * rows, len(part))
        pages.append(made.page())
        missing |= dict.fromkeys(made.missing)
    return LaidPages("skein labels", sheet.maker, tuple(pages), "".join(missing))


def _draw(
    made: Composer,
    sheet: LabelSheet,
    label: SkeinLabel,
    words: LabelWords,
    left: float,
    top: float,
) -> None:
    inner = WIDE_MM - 2 * _SIDE_MM
    made.hole(left + WIDE_MM - _SIDE_MM - _HOLE_MM / 2 + 1, top + 3.4 + _HOLE_MM / 2, _HOLE_MM)
    made.fill(
        qr_rects(
            tag_text(label.piece),
            left + WIDE_MM - _SIDE_MM - _CODE_MM,
            top + HIGH_MM - _SIDE_MM - _CODE_MM,
            _CODE_MM,
        ),
        0.0,
    )
    said = [one for one in words.lines(label, sheet) if one]
    beside = inner - _CODE_MM - 4.0
    bottom = top + HIGH_MM - _SIDE_MM
    foot = [one for one in (words.foot(label), sheet.maker) if one]
    shrink = 1.0
    while True:
        name_pt, line_pt, small_pt = (shrink * one for one in (_NAME_PT, _LINE_PT, _SMALL_PT))
        heading = balanced(words.heading(label), "serif", name_pt, inner - _HOLE_MM - 3.0)
        lines = [part for one in said for part in wrapped(one, "sans", line_pt, beside)]
        feet = [part for one in foot for part in wrapped(one, "sans", small_pt, beside)]
        high = len(heading) * step_mm(name_pt, 1.1) + len(lines) * step_mm(line_pt)
        if high + len(feet) * step_mm(small_pt) + 3.5 <= HIGH_MM - 2 * _SIDE_MM or shrink < 0.35:
            break
        shrink *= _SHRINK
    x = left + _SIDE_MM
    y = made.lines(heading, "serif", name_pt, x, top + _SIDE_MM, 1.1, words.heading(label))
    made.lines(lines, "sans", line_pt, x, y + 1.6)
    if feet:
        first = bottom - (len(feet) - 1) * step_mm(small_pt) - cap_mm(small_pt)
        made.lines(feet, "sans", small_pt, x, first)
