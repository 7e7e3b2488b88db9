"""Makes tags and skein labels for pieces of the library."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from dyeshade.library.history import History, histories
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.paper.paper_page import LaidPages, write_pages_pdf
from dyeshade.paper.skein_labels import (
    LabelSheet,
    LabelWords,
    SkeinLabel,
    lay_out_labels,
)
from dyeshade.paper.tag_sheet import Tag, TagSheet
from dyeshade.paper.tags import lay_out_tags


@dataclass(frozen=True)
class MadePaper:
    """What was made: how many things on how many pages, and the characters that no font has."""

    count: int
    pages: int
    missing: str


def make_tags(
    library: Library, pieces: Sequence[str], sheet: TagSheet, out: str | Path, copies: int = 1
) -> MadePaper:
    """Write tags for pieces as a PDF.

    Parameters
    ----------
    library : Library
    pieces : sequence of str
        Codes of pieces, at least one; tags are in their order.
    sheet : TagSheet
    out : str or Path
        An older file there is replaced once the new one is whole.
    copies : int
        Tags for each piece.

    Raises
    ------
    DyeshadeError
        ``piece_unknown`` (piece, near), ``cannot_write`` (path, reason).
    """
    tags = [tag for tag in tags_of(library, pieces) for _ in range(copies)]
    return _written(lay_out_tags(sheet, tags), len(tags), out)


def tags_of(library: Library, pieces: Sequence[str]) -> tuple[Tag, ...]:
    """What tags of pieces say: their codes, and their name or else their fibre.

    Raises
    ------
    DyeshadeError
        ``piece_unknown`` (piece, near).
    """
    return tuple(
        Tag(one.piece.code, one.piece.name or (one.fibre.name if one.fibre else ""))
        for one in _histories(library, pieces)
    )


def make_labels(
    library: Library,
    pieces: Sequence[str],
    sheet: LabelSheet,
    out: str | Path,
    words: LabelWords,
) -> MadePaper:
    """Write skein labels for pieces as a PDF.

    Parameters and errors as `make_tags`.
    """
    labels = labels_of(library, pieces)
    return _written(lay_out_labels(sheet, labels, words), len(labels), out)


def labels_of(library: Library, pieces: Sequence[str]) -> tuple[SkeinLabel, ...]:
    """What skein labels of pieces say.

    Raises
    ------
    DyeshadeError
        ``piece_unknown`` (piece, near).
    """
    return tuple(skein_label(one) for one in _histories(library, pieces))


def skein_label(history: History) -> SkeinLabel:
    """A piece as its label shows it."""
    baths = [step for step in history.steps if step.bath is not None]
    last = baths[-1] if baths else None
    whole = last.bath if last else None
    started = last.treatment.started if last else None
    if whole is not None and started is None:
        started = whole.bath.started
    fibre, mordant = history.fibre, history.mordant
    dyed: date | None = None if started is None else started.date()
    return SkeinLabel(
        piece=history.piece.code,
        name=history.piece.name,
        fibre=fibre.name if fibre else "",
        fibre_make=fibre.make if fibre else "",
        weight_g=history.piece.weight_g,
        dyestuffs=tuple(
            dict.fromkeys(lot.name for one in baths if one.bath for lot, _ in one.bath.dyestuffs)
        ),
        mordant=mordant.name if mordant else "",
        lot=whole.bath.code if whole else "",
        dyed=dyed,
    )


def _histories(library: Library, pieces: Sequence[str]) -> list[History]:
    ids = [find_piece(library, code).id for code in pieces]
    found = histories(library, sorted(set(ids)))
    return [found[one] for one in ids]


def _written(laid: LaidPages, count: int, out: str | Path) -> MadePaper:
    write_pages_pdf(laid, out)
    return MadePaper(count, len(laid.pages), laid.missing)
