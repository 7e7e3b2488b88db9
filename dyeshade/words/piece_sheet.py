"""What a piece sheet says."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO

from PIL import Image

from dyeshade.paper.piece_sheet import HistoryRow, PieceSheet, PieceView
from dyeshade.words.dye_words import STATES, day_words, first_capital
from dyeshade.words.fastness_lines import known_words
from dyeshade.words.shade_lines import bath_lines, drift_words, piece_words, step_words
from dyeshade.words.shades import lab_words, sure_to
from dyeshade.work.make_piece_sheet import PieceLook, PieceTold
from dyeshade.work.piece_story import Entry

_FIGURES = (
    "L*, a*, b*: CIELAB for D65 and the 2° observer. Sure to: the colour difference (CIEDE2000) "
    "within which the true colour lies 95 times in 100. Moves are since the first dry reading."
)


def piece_sheet(told: PieceTold) -> PieceSheet:
    """A piece in words.

    Parameters
    ----------
    told : PieceTold
    """
    piece, latest = told.history.piece, told.latest
    title = piece.name or piece.code
    reading = None if latest is None else latest.reading
    return PieceSheet(
        code=piece.code,
        title=title,
        facts=tuple(_facts(told)),
        shade=None if reading is None else _rgb(reading.srgb),
        shade_lines=()
        if reading is None
        else (
            f"{day_words(reading.read)}, {STATES[reading.state]}",
            _lab(reading.lab),
            f"sure to {sure_to(reading.u95)}",
            *(() if reading.in_gamut else ("more vivid than can be printed",)),
        ),
        views=tuple(_view(look) for look in told.looks),
        history_heading="History",
        history=tuple(_rows(told.entries)),
        notes=(*_fastness(told), *(() if reading is None else (_FIGURES,))),
    )


def _fastness(told: PieceTold) -> Iterator[str]:
    for words in map(known_words, told.tests):
        if words:
            yield f"{first_capital(words)}."


def _facts(told: PieceTold) -> Iterator[str]:
    piece = told.history.piece
    # The title has said the name, or the code of a piece without one.
    called = ", ".join(filter(None, (piece.code, piece.name)))
    made = piece_words(told.history).removeprefix(called).removeprefix(": ")
    facts = ": ".join(filter(None, (f"piece {piece.code}" if piece.name else "", made)))
    if facts:
        yield facts
    if piece.note:
        yield piece.note


def _rows(entries: tuple[Entry, ...]) -> Iterator[HistoryRow]:
    for entry in entries:
        step, reading = entry.step, entry.reading
        if step is not None:
            day = step.treatment.started
            words = step_words(step)
            when = "" if day is None else day_words(day)
            # The day stands in a column of its own.
            first = words.replace(f", {when}", "", 1) if when else words
            bath = () if step.bath is None else tuple(bath_lines(step.bath)[1:])
            yield HistoryRow(when, (first, *bath))
        elif reading is not None:
            sure = sure_to(reading.u95).partition(":")[0]
            lines = [f"read {STATES[reading.state]}: {_lab(reading.lab)}, sure to {sure}"]
            if entry.drift is not None:
                lines.append(drift_words(entry.drift))
            if reading.note:
                lines.append(reading.note)
            yield HistoryRow(day_words(reading.read), tuple(lines), _rgb(reading.srgb))


def _view(look: PieceLook) -> PieceView:
    with Image.open(BytesIO(look.jpeg)) as picture:
        size = picture.size
    return PieceView(
        look.jpeg, size, f"{day_words(look.reading.read)}, {STATES[look.reading.state]}"
    )


def _lab(lab: tuple[float, float, float]) -> str:
    lightness, a, b = (round(value, 1) + 0.0 for value in lab)
    return lab_words((lightness, a, b)).replace("-", "−")


def _rgb(code: str) -> tuple[int, int, int]:
    red, green, blue = bytes.fromhex(code.removeprefix("#"))
    return red, green, blue
