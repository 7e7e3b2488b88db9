"""Pieces and their treatments as a dyer says them, found in the library or made there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import TypeVar

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import IN_A_BATH, FibreLot, Mordant, PhReading, Piece, Treatment
from dyeshade.library.edit import Edit
from dyeshade.library.history import histories
from dyeshade.library.pieces import add_piece, change_piece, find_piece, keep_lot
from dyeshade.library.treatments import add_treatment, read_ph, treatments_of
from dyeshade.work.keep_baths import agree
from dyeshade.work.said import Said, SaidTreatment

Value = TypeVar("Value")

BEFORE_A_BATH = ("scour", "tannin", "mordant")
"""What readies a piece for its dye bath."""


def keep_piece(edit: Edit, code: str, said: Said) -> tuple[Piece, bool]:
    """The piece with a code, made where there is none, with what is said of it filled in.

    Returns
    -------
    Piece, bool
        The bool tells whether it was made.

    Raises
    ------
    DyeshadeError
        ``piece_said_otherwise`` (piece, what, kept, said)
    """
    known = _known(edit, code)
    piece = known or Piece(code.strip())
    filled = replace(
        piece,
        name=_joined(piece, "name", piece.name, said.name.strip()),
        weight_g=_joined(piece, "weight in g", piece.weight_g, said.weight_g),
        fibre_lot_id=_fibre(edit, piece, said),
        mordant_id=_mordant(edit, piece, said),
    )
    if known is None:
        return edit.the(Piece, add_piece(edit, filled)), True
    change_piece(edit, filled)
    return filled, False


def _known(edit: Edit, code: str) -> Piece | None:
    try:
        return find_piece(edit, code)
    except DyeshadeError as error:
        if error.code != "piece_unknown":
            raise
    return None


def _fibre(edit: Edit, piece: Piece, said: Said) -> int | None:
    kept = edit.the(FibreLot, piece.fibre_lot_id) if piece.fibre_lot_id else None
    name = _joined(piece, "fibre", kept.name if kept else "", said.fibre.strip())
    if not name:
        return None
    make = _joined(piece, "make of the fibre", kept.make if kept else "", said.fibre_make.strip())
    if kept and make == kept.make:
        return kept.id
    # Another lot, not a changed one: other pieces may be of the same.
    lot = replace(kept, make=make, id=0) if kept else FibreLot(name, make)
    return keep_lot(edit, lot)


def _mordant(edit: Edit, piece: Piece, said: Said) -> int | None:
    kept = edit.the(Mordant, piece.mordant_id) if piece.mordant_id else None
    name = _joined(piece, "mordant", kept.name if kept else "", said.mordant.strip())
    if not name:
        return None
    percent = _joined(
        piece, "mordant in % wof", kept.percent_wof if kept else None, said.mordant_percent_wof
    )
    if kept and percent == kept.percent_wof:
        return kept.id
    mordant = replace(kept, percent_wof=percent, id=0) if kept else Mordant(name, percent)
    return keep_lot(edit, mordant)


def keep_treatments(
    edit: Edit, piece: Piece, said: Said, read: datetime, bath_id: Callable[[str], int]
) -> int | None:
    """Keep what a piece is said to have gone through; what is kept already stays as it is.

    Parameters
    ----------
    edit : Edit
    piece : Piece
    said : Said
    read : datetime
        Of the reading: what is kept with a later date came after what is said.
    bath_id : callable
        Gives the id of the bath with a code.

    Returns
    -------
    int or None
        The last treatment of those said, None where none was.
    """
    kept = treatments_of(edit, piece.id)
    unmatched = list(kept)
    mentioned: list[int] = []
    for one in _steps(kept, said, bath_id):
        wanted = _treatment(piece.id, one, bath_id(one.bath) if one.bath else None)
        twin = next((old for old in unmatched if _same(edit, old, wanted, one.ph)), None)
        if twin is None:
            order = treatments_of(edit, piece.id)
            least = 1 + max((k for k, t in enumerate(order, 1) if t.id in mentioned), default=0)
            place = max(least, _place(order, wanted, {t.id for t in unmatched}, read))
            mentioned.append(add_treatment(edit, wanted, place, ph=one.ph))
        else:
            # Each kept step stands for one of those said: two dips stay two dips.
            unmatched.remove(twin)
            _fill(edit, twin, wanted, one.ph)
            mentioned.append(twin.id)
    ids = [one.id for one in treatments_of(edit, piece.id)]
    return max(mentioned, key=ids.index) if mentioned else None


def last_begun(edit: Edit, piece_id: int, time: datetime) -> int | None:
    """The last treatment that had begun by a time, as far as is known."""
    begun = histories(edit, [piece_id])[piece_id].begun_by(time)
    return begun[-1].treatment.id if begun else None


def _steps(
    kept: Sequence[Treatment], said: Said, bath_id: Callable[[str], int]
) -> list[SaidTreatment]:
    """Treatments said, the short way of naming a bath written out."""
    steps = list(said.treatments)
    if not said.bath or any(agree(one.bath, said.bath) for one in steps):
        return steps
    baths = [one for one in kept if one.kind in IN_A_BATH]
    known = [one.kind for one in baths if one.bath_id == bath_id(said.bath)]
    kind = known[-1] if known else "overdye" if baths else "bath"
    ready = [k for k, one in enumerate(steps, 1) if one.kind in BEFORE_A_BATH]
    steps.insert(ready[-1] if ready else 0, SaidTreatment(kind, said.bath))
    return steps


def _treatment(piece_id: int, said: SaidTreatment, bath_id: int | None) -> Treatment:
    return Treatment(
        piece_id,
        said.kind,
        bath_id,
        said.substance.strip(),
        said.amount,
        said.unit.strip(),
        said.started,
        said.minutes,
        said.temperature_c,
        said.note.strip(),
    )


def _same(edit: Edit, kept: Treatment, wanted: Treatment, ph: float | None) -> bool:
    """Whether a kept treatment can be the one that is said."""
    if (kept.kind, kept.bath_id) != (wanted.kind, wanted.bath_id):
        return False
    if not agree(kept.substance, wanted.substance):
        return False
    pairs = [
        (kept.amount, wanted.amount),
        (kept.unit or None, wanted.unit or None),
        (kept.started, wanted.started),
        (kept.minutes, wanted.minutes),
        (kept.temperature_c, wanted.temperature_c),
        (_ph_of(edit, kept), ph),
    ]
    return all(old is None or new is None or agree(old, new) for old, new in pairs)


def _fill(edit: Edit, kept: Treatment, wanted: Treatment, ph: float | None) -> None:
    """Write into a kept treatment what it did not say yet."""
    blank = {
        name: getattr(wanted, name)
        for name in ("amount", "unit", "started", "minutes", "temperature_c", "note")
        if getattr(kept, name) in (None, "")
    }
    edit.change(replace(kept, **blank))
    if ph is not None and _ph_of(edit, kept) is None:
        read_ph(edit, kept, ph)


def _ph_of(edit: Edit, treatment: Treatment) -> float | None:
    read = edit.where(PhReading, "treatment_id = ?", (treatment.id,), "read, id")
    return read[-1].ph if read else None


def _place(
    order: Sequence[Treatment], wanted: Treatment, unmatched: set[int], read: datetime
) -> int:
    """Where a new treatment stands, from 1: before what is kept that must have come later."""
    first = wanted.kind == "bath" and not any(one.kind in IN_A_BATH for one in order)
    readies = wanted.kind in BEFORE_A_BATH
    for place, one in enumerate(order, 1):
        if one.id not in unmatched:
            continue
        if (first or readies) and one.kind not in BEFORE_A_BATH:
            return place
        if one.started is not None and one.started > (wanted.started or read):
            return place
    return len(order) + 1


def _joined(piece: Piece, what: str, kept: Value, said: Value) -> Value:
    """What is kept and said together; where both say something, it must be the same."""
    if said is None or said == "":
        return kept
    if kept is None or kept == "":
        return said
    if not agree(kept, said):
        raise DyeshadeError(
            "piece_said_otherwise", piece=piece.code, what=what, kept=str(kept), said=str(said)
        )
    return kept
