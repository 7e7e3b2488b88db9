"""What the library knows already: to complete what is typed, and to fill in forms."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import WholeBath, find_bath, last_bath, next_bath_code, whole_baths
from dyeshade.library.dye_records import (
    Addition,
    Bath,
    DyestuffLot,
    FibreLot,
    Mordant,
    Piece,
    Treatment,
)
from dyeshade.library.edit import Reader
from dyeshade.library.history import History, Step, histories
from dyeshade.library.pieces import find_piece, known_names, next_piece_code
from dyeshade.library.shade_records import Reading
from dyeshade.work.said import Said, SaidAddition, SaidBath, SaidDye, SaidTreatment


@dataclass(frozen=True)
class KnownPiece:
    """A piece as a list shows it; fibre and mordant are names, "" where none was written down."""

    code: str
    name: str
    fibre: str
    mordant: str


@dataclass(frozen=True)
class Known:
    """Names and codes that were kept before.

    Attributes
    ----------
    pieces : tuple of KnownPiece
        In the order in which they were kept.
    fibres, mordants, dyestuffs, substances : tuple of str
        In alphabetical order; substances are those of treatments and additions.
    baths : tuple of str
        Codes, the newest first.
    last_bath : str
        The one to be offered, "" where there is none.
    next_piece, next_bath : str
        Codes that are free.
    """

    pieces: tuple[KnownPiece, ...]
    fibres: tuple[str, ...]
    mordants: tuple[str, ...]
    dyestuffs: tuple[str, ...]
    substances: tuple[str, ...]
    baths: tuple[str, ...]
    last_bath: str
    next_piece: str
    next_bath: str


def known_to(reader: Reader) -> Known:
    """All that a library can complete."""
    fibres = {one.id: one.name for one in reader.where(FibreLot)}
    mordants = {one.id: one.name for one in reader.where(Mordant)}
    last = last_bath(reader)
    used = [one.substance for one in reader.where(Treatment, "substance <> ''")]
    used += [one.substance for one in reader.where(Addition)]
    return Known(
        pieces=tuple(
            KnownPiece(
                one.code,
                one.name,
                fibres.get(one.fibre_lot_id or 0, ""),
                mordants.get(one.mordant_id or 0, ""),
            )
            for one in reader.where(Piece)
        ),
        fibres=known_names(reader, FibreLot),
        mordants=known_names(reader, Mordant),
        dyestuffs=known_names(reader, DyestuffLot),
        substances=tuple(sorted(set(used), key=str.casefold)),
        baths=tuple(one.code for one in reader.where(Bath, order="id DESC")),
        last_bath=last.code if last else "",
        next_piece=next_piece_code(reader),
        next_bath=next_bath_code(reader),
    )


def said_of_piece(reader: Reader, code: str) -> Said | None:
    """All that is kept of a piece, None where there is none with this code."""
    try:
        piece = find_piece(reader, code)
    except DyeshadeError as error:
        if error.code != "piece_unknown":
            raise
        return None
    history = histories(reader, [piece.id])[piece.id]
    return _said(history, history.steps)


def said_until(reader: Reader, reading: Reading) -> Said:
    """All that is kept of a reading: its piece, and what that went through until then."""
    history = histories(reader, [reading.piece_id])[reading.piece_id]
    said = _said(history, history.before(reading))
    return replace(said, state=reading.state, read=reading.read, note=reading.note)


def said_of_bath(reader: Reader, code: str) -> SaidBath | None:
    """All that is kept of a bath, None where there is none with this code."""
    try:
        bath = find_bath(reader, code)
    except DyeshadeError as error:
        if error.code != "bath_unknown":
            raise
        return None
    whole = whole_baths(reader, [bath.id])[bath.id]
    return bath_said(reader, whole, _phs(whole))


def bath_said(reader: Reader, whole: WholeBath, phs: tuple[tuple[str, float], ...]) -> SaidBath:
    """A kept bath as it is said, with these pH."""
    bath = whole.bath
    parent = reader.get(Bath, bath.parent_bath_id) if bath.parent_bath_id else None
    return SaidBath(
        bath.code,
        _dyes(whole),
        parent.code if parent else "",
        bath.started,
        bath.water,
        bath.vessel,
        bath.liquor_ratio,
        bath.temperature_c,
        bath.minutes,
        tuple(
            SaidAddition(one.substance, one.amount, one.unit, one.ph_after)
            for one in whole.additions
        ),
        phs,
        bath.note,
    )


def exhaust_after(reader: Reader, code: str) -> SaidBath:
    """The next exhaust bath of a bath, with a free code, the same dyes, water and vessel.

    Raises
    ------
    DyeshadeError
        ``bath_unknown`` (bath)
    """
    bath = find_bath(reader, code)
    whole = whole_baths(reader, [bath.id])[bath.id]
    return SaidBath(
        next_bath_code(reader), _dyes(whole), bath.code, water=bath.water, vessel=bath.vessel
    )


def _said(history: History, steps: Sequence[Step]) -> Said:
    fibre, mordant = history.fibre, history.mordant
    return Said(
        piece=history.piece.code,
        name=history.piece.name,
        fibre=fibre.name if fibre else "",
        fibre_make=fibre.make if fibre else "",
        mordant=mordant.name if mordant else "",
        mordant_percent_wof=mordant.percent_wof if mordant else None,
        weight_g=history.piece.weight_g,
        bath=next((s.bath.bath.code for s in reversed(steps) if s.bath), ""),
        treatments=tuple(_treatments(steps)),
    )


def _treatments(steps: Iterable[Step]) -> Iterable[SaidTreatment]:
    for step in steps:
        one = step.treatment
        yield SaidTreatment(
            one.kind,
            step.bath.bath.code if step.bath else "",
            one.substance,
            one.amount,
            one.unit,
            one.started,
            one.minutes,
            one.temperature_c,
            step.ph,
            one.note,
        )


def _dyes(whole: WholeBath) -> tuple[SaidDye, ...]:
    return tuple(
        SaidDye(lot.name, lot.part, lot.form, ratio, lot.origin) for lot, ratio in whole.dyestuffs
    )


def _phs(whole: WholeBath) -> tuple[tuple[str, float], ...]:
    values = ((which, whole.ph(which)) for which in ("extraction", "bath_start", "bath_end"))
    return tuple((which, ph) for which, ph in values if ph is not None)
