"""Makes a shade card: from the library's shades to a PDF."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from dyeshade.errors import DyeshadeError
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.library.find import FoundShade, ShadeQuery, find_shades, found_shades
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.library.trials import treated_apart
from dyeshade.paper.card_layout import lay_out_card, write_card_pdf
from dyeshade.paper.card_order import ordered_shades
from dyeshade.paper.shade_card import (
    Card,
    CardDrift,
    CardDye,
    CardFastness,
    CardOrder,
    CardShade,
    CardWords,
)
from dyeshade.work.piece_story import Moved, entries_of

if TYPE_CHECKING:
    from dyeshade.insight.fastness import HomeTest

Which = Sequence[int] | ShadeQuery
"""Shades by the ids of their readings, in an order of one's own, or by what is asked for."""


@dataclass(frozen=True)
class MadeCard:
    """What was made: how many shades and pages, and the characters that no font has."""

    shades: int
    pages: int
    missing: str


def make_card(
    library: Library,
    which: Which,
    order: CardOrder,
    card: Card,
    out: str | Path,
    words: CardWords,
    known: Mapping[int, Sequence[str]] | None = None,
    all_readings: bool = True,
) -> MadeCard:
    """Write a shade card of some of a library's shades as a PDF.

    Parameters
    ----------
    library : Library
    which : sequence of int or ShadeQuery
        Ids of readings, or what is asked for.
    order : str
        As `dyeshade.paper.card_order.ordered_shades`; "given" keeps the order of the ids, or that
        of reading.
    card : Card
    out : str or Path
        An older file there is replaced once the new one is whole.
    words : CardWords
        What is said of the shades.
    known : mapping of int to sequence of str, optional
        What is known of a shade besides its drift and fastness, in words, by the id of its
        reading.
    all_readings : bool
        Whether a piece that was read several times comes so often; else as `once_each`.

    Returns
    -------
    MadeCard

    Raises
    ------
    DyeshadeError
        ``no_shades`` where there are none, ``record_gone`` (kind, id), ``cannot_write`` (path,
        reason); else as `dyeshade.library.faults.told`.
    """
    shades = card_shades(library, which, order, known, all_readings)
    if not shades:
        raise DyeshadeError("no_shades")
    laid = lay_out_card(card, shades, words)
    write_card_pdf(laid, out)
    return MadeCard(len(shades), len(laid.pages), laid.missing)


def card_shades(
    library: Library,
    which: Which,
    order: CardOrder = "given",
    known: Mapping[int, Sequence[str]] | None = None,
    all_readings: bool = True,
) -> tuple[CardShade, ...]:
    """Some of a library's shades as a card shows them, in their order on it.

    Parameters and errors as `make_card`; none at all is no error here.
    """
    found = find_shades(library, which) if isinstance(which, ShadeQuery) else _by_id(library, which)
    if not all_readings:
        found = once_each(found, treated_apart(library))
    notes, together = known or {}, SolvedTogether(library)
    again = _read_again(library, found)
    drifts = drifts_of(library, again, together)
    fastness = {code: fastness_of(library, code, together) for code in again}
    shades = [
        replace(
            card_shade(one, drifts.get(one.reading.id), tuple(notes.get(one.reading.id, ()))),
            fastness=fastness.get(one.history.piece.code, ()),
        )
        for one in found
    ]
    return ordered_shades(shades, order)


def once_each(
    found: Sequence[FoundShade], halves: frozenset[int] = frozenset()
) -> list[FoundShade]:
    """Each piece once: as it was read last, dry where it was ever read so; else in their order.

    `halves` names readings of halves that were treated in home tests: they are no more than that.
    What has neither fibre nor bath, as a check standard, belongs on no card.
    """
    last: dict[int, FoundShade] = {}
    for one in found:
        history = one.history
        if history.fibre is None and not any(step.bath for step in history.steps):
            continue
        if one.reading.id in halves:
            continue
        kept = last.get(history.piece.id)
        if kept is None or _when(one) >= _when(kept):
            last[history.piece.id] = one
    wanted = {one.reading.id for one in last.values()}
    return [one for one in found if one.reading.id in wanted]


def _when(found: FoundShade) -> tuple[bool, datetime, int]:
    reading = found.reading
    return reading.state != "wet", reading.read, reading.id


def _read_again(library: Library, found: Sequence[FoundShade]) -> dict[str, FoundShade]:
    """One shade of each piece that was read several times, by the piece's code."""
    pieces = {one.history.piece.id: one for one in found}
    readings = Counter(one.piece_id for one in library.among(Reading, "piece_id", list(pieces)))
    return {one.history.piece.code: one for piece, one in pieces.items() if readings[piece] > 1}


def drifts_of(
    library: Library, pieces: Mapping[str, FoundShade], together: SolvedTogether
) -> dict[int, Moved]:
    """Drift of shades since the first dry reading of their piece, by the id of the reading."""
    drifts: dict[int, Moved] = {}
    for one in pieces.values():
        entries, _ = entries_of(library, one, together=together)
        drifts |= {e.reading.id: e.drift for e in entries if e.reading and e.drift}
    return drifts


def fastness_of(library: Library, piece: str, together: SolvedTogether) -> tuple[CardFastness, ...]:
    """What home tests of a piece have come to, of those that show how it changed."""
    # Takes a second to import, and the window begins with cards.
    from dyeshade.work.ask_fastness import known_fastness

    return tuple(
        CardFastness(test.kind, test.change.grade.half, _days(test))
        for test in known_fastness(library, piece, together)
        if test.change is not None
    )


def _days(test: HomeTest) -> int | None:
    return None if test.begun is None else (test.result.read.date() - test.begun.date()).days


def card_shade(
    found: FoundShade, drift: Moved | None = None, notes: tuple[str, ...] = ()
) -> CardShade:
    """A shade of the library as a card shows it."""
    reading, history, conditions = found.reading, found.history, found.conditions
    last = conditions.last_bath
    return CardShade(
        name=history.piece.name,
        piece=history.piece.code,
        lab=reading.lab,
        u95=reading.u95,
        srgb=_rgb(reading.srgb),
        in_gamut=reading.in_gamut,
        dyes=tuple(
            CardDye(dye.name, dye.part, dye.form, dye.ratio) for dye in (last.dyes if last else ())
        ),
        exhaust_number=last.exhaust_number if last else 0,
        earlier=tuple(tuple(dye.name for dye in bath.dyes) for bath in conditions.baths[:-1]),
        afters=conditions.afters,
        fibre=conditions.fibre,
        fibre_make=history.fibre.make if history.fibre else "",
        mordant=conditions.mordant,
        mordant_percent_wof=conditions.mordant_percent_wof,
        ph=conditions.ph(),
        ph_which=conditions.acted,
        state=reading.state,
        drift=None
        if drift is None
        else CardDrift(
            drift.since.read.date(),
            drift.change.size.value,
            drift.change.size.significant,
            drift.change.ways,
        ),
        notes=notes,
    )


def _by_id(library: Library, ids: Sequence[int]) -> list[FoundShade]:
    readings = {one.id: one for one in library.among(Reading, "id", ids)}
    for one in ids:
        if one not in readings:
            raise DyeshadeError("record_gone", kind="reading", id=one)
    return found_shades(library, [readings[one] for one in ids])


def _rgb(code: str) -> tuple[int, int, int]:
    red, green, blue = bytes.fromhex(code.removeprefix("#"))
    return red, green, blue
