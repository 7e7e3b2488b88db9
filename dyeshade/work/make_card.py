"""Makes a shade card: from the library's shades to a PDF."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from dyeshade.errors import DyeshadeError
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.library.find import FoundShade, ShadeQuery, find_shades, found_shades
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.paper.card_layout import lay_out_card, write_card_pdf
from dyeshade.paper.card_order import ordered_shades
from dyeshade.paper.shade_card import Card, CardDrift, CardDye, CardOrder, CardShade, CardWords
from dyeshade.work.drift import Drift
from dyeshade.work.piece_story import entries_of

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
        What is known of a shade besides its drift, as of fastness, in words, by the id of its
        reading.

    Returns
    -------
    MadeCard

    Raises
    ------
    DyeshadeError
        ``no_shades`` where there are none, ``record_gone`` (kind, id), ``cannot_write`` (path,
        reason); else as `dyeshade.library.faults.told`.
    """
    shades = card_shades(library, which, order, known)
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
) -> tuple[CardShade, ...]:
    """Some of a library's shades as a card shows them, in their order on it.

    Parameters and errors as `make_card`; none at all is no error here.
    """
    found = find_shades(library, which) if isinstance(which, ShadeQuery) else _by_id(library, which)
    notes, drifts = known or {}, drifts_of(library, found)
    shades = [
        card_shade(one, drifts.get(one.reading.id), tuple(notes.get(one.reading.id, ())))
        for one in found
    ]
    return ordered_shades(shades, order)


def drifts_of(library: Library, found: Sequence[FoundShade]) -> dict[int, Drift]:
    """Drift of shades since the first dry reading of their piece, by the id of the reading."""
    pieces = {one.history.piece.id: one for one in found}
    readings = Counter(one.piece_id for one in library.among(Reading, "piece_id", list(pieces)))
    drifts: dict[int, Drift] = {}
    together = SolvedTogether(library)
    for piece, one in pieces.items():
        if readings[piece] > 1:
            entries, _ = entries_of(library, one, together=together)
            drifts |= {e.reading.id: e.drift for e in entries if e.reading and e.drift}
    return drifts


def card_shade(
    found: FoundShade, drift: Drift | None = None, notes: tuple[str, ...] = ()
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
        else CardDrift(drift.since.read.date(), drift.delta_e, drift.u95, drift.towards),
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
