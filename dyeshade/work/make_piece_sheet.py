"""Makes piece sheets: a piece's photos, its history, and its readings with their drift."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from dyeshade.errors import DyeshadeError
from dyeshade.insight.fastness import HomeTest
from dyeshade.library.find import FoundShade, found_shades
from dyeshade.library.history import History, histories
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.shade_records import KeptPhoto, Reading
from dyeshade.library.trials import readings_of_whole
from dyeshade.paper.paper_page import LaidPages, write_pages_pdf
from dyeshade.paper.piece_sheet import PieceSheet, lay_out_piece_sheets
from dyeshade.paper.shade_card import Paper
from dyeshade.work.ask_fastness import known_fastness
from dyeshade.work.cut_out import CutOut, cut_out
from dyeshade.work.make_tags import MadePaper
from dyeshade.work.piece_story import Entry, entries_of
from dyeshade.work.side_by_side import Warm


@dataclass(frozen=True)
class PieceLook:
    """A reading with its photo, as a JPEG in sRGB."""

    reading: Reading
    jpeg: bytes


@dataclass(frozen=True)
class PieceTold:
    """All that a piece's sheet shows, as values.

    Attributes
    ----------
    history : History
    latest : FoundShade or None
        The latest reading, of those that are not wet where there are any.
    entries : tuple of Entry
        Treatments and readings in order, readings with their drift.
    looks : tuple of PieceLook
        The first reading and the latest, where their photos are there.
    tests : tuple of HomeTest
        What its home fastness tests have come to.
    """

    history: History
    latest: FoundShade | None
    entries: tuple[Entry, ...]
    looks: tuple[PieceLook, ...]
    tests: tuple[HomeTest, ...] = ()


PieceWords = Callable[[PieceTold], PieceSheet]
"""Words a piece's sheet."""


def make_piece_sheets(
    library: Library,
    pieces: Sequence[str],
    out: str | Path,
    words: PieceWords,
    paper: Paper = "A4",
    warm: Warm | None = None,
) -> MadePaper:
    """Write piece sheets as a PDF.

    Parameters
    ----------
    library : Library
    pieces : sequence of str
        Codes of pieces, at least one.
    out : str or Path
        An older file there is replaced once the new one is whole.
    words : PieceWords
    paper : str
        "A4" or "Letter".
    warm : Warm, optional
        A process that stays ready to cut photos out.

    Raises
    ------
    DyeshadeError
        ``piece_unknown`` (piece, near), ``cannot_write`` (path, reason).
    """
    laid = laid_piece_sheets(library, pieces, words, paper, warm)
    write_pages_pdf(laid, out)
    return MadePaper(len(pieces), len(laid.pages), laid.missing)


def laid_piece_sheets(
    library: Library,
    pieces: Sequence[str],
    words: PieceWords,
    paper: Paper = "A4",
    warm: Warm | None = None,
) -> LaidPages:
    """The same, not written yet; for a preview."""
    sheets = [words(piece_told(library, code, warm)) for code in pieces]
    return lay_out_piece_sheets(sheets, paper)


def piece_told(library: Library, code: str, warm: Warm | None = None) -> PieceTold:
    """All that is known of a piece.

    Raises
    ------
    DyeshadeError
        ``piece_unknown`` (piece, near).
    """
    piece = find_piece(library, code)
    readings = sorted(readings_of_whole(library, piece.id), key=lambda one: (one.read, one.id))
    if not readings:
        history = histories(library, [piece.id])[piece.id]
        return PieceTold(history, None, tuple(Entry(step=one) for one in history.steps), ())
    dry = [one for one in readings if one.state != "wet"] or readings
    latest = found_shades(library, [dry[-1]])[0]
    entries, _ = entries_of(library, latest)
    shown = dict.fromkeys((dry[0].id, dry[-1].id))
    by_id = {one.id: one for one in readings}
    looks = [_look(library, by_id[one], warm) for one in shown]
    return PieceTold(
        latest.history,
        latest,
        entries,
        tuple(one for one in looks if one),
        known_fastness(library, piece.code),
    )


def _look(library: Library, reading: Reading, warm: Warm | None) -> PieceLook | None:
    if reading.photo_id is None:
        return None
    photo = library.the(KeptPhoto, reading.photo_id)
    file = library.folder / photo.relative_path
    if not file.is_file():
        return None
    try:
        return PieceLook(reading, cut_out(CutOut(str(file), reading.outline_px), warm))
    except DyeshadeError:
        # A photo that cannot be read any more leaves a sheet without it.
        return None
