"""A kept piece, or a reading of it, put right: everything as a form says it, blanks included."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from dyeshade.library.baths import find_bath
from dyeshade.library.dye_records import (
    AFTER_A_BATH,
    FibreLot,
    Mordant,
    PhReading,
    Piece,
    Treatment,
    wall_time,
)
from dyeshade.library.edit import Edit, Reader
from dyeshade.library.history import History, histories
from dyeshade.library.library import Library
from dyeshade.library.pieces import (
    change_piece,
    find_piece,
    keep_lot,
    merge_pieces,
    remove_piece,
)
from dyeshade.library.shade_records import Reading
from dyeshade.library.treatments import add_treatment, read_ph, remove_treatment, treatments_of
from dyeshade.library.trials import remove_reading
from dyeshade.work.said import SaidTreatment

WITH_PH = (*AFTER_A_BATH, "rinse")
"""Treatments that have a pH of their own."""


@dataclass(frozen=True)
class PieceForm:
    """All that can be said of a piece.

    Attributes
    ----------
    treatments : tuple of (int, SaidTreatment)
        In order; the number is the kept treatment's id, 0 for a new one.
    """

    code: str
    name: str = ""
    fibre: str = ""
    fibre_make: str = ""
    mordant: str = ""
    mordant_percent_wof: float | None = None
    weight_g: float | None = None
    note: str = ""
    treatments: tuple[tuple[int, SaidTreatment], ...] = ()


@dataclass(frozen=True)
class ReadingForm:
    """What can be said of a reading besides its colour.

    Attributes
    ----------
    piece : str
        Code of the piece that it belongs to.
    after : int or None
        Id of the last treatment before it; None where the dates tell.
    """

    piece: str
    state: str
    read: datetime
    after: int | None = None
    note: str = ""


@dataclass(frozen=True)
class ListedPiece:
    """A piece as a list shows it, with how many readings it has."""

    history: History
    readings: int


def listed_pieces(reader: Reader) -> tuple[ListedPiece, ...]:
    """All pieces, the newest first; those without a reading among them."""
    ids = [piece.id for piece in reader.where(Piece, order="id DESC")]
    known = histories(reader, ids)
    rows = reader.rows("SELECT piece_id, count(*) FROM reading GROUP BY piece_id")
    counts: dict[int, int] = dict(rows)
    return tuple(ListedPiece(known[i], int(counts.get(i, 0))) for i in ids)


def piece_form(reader: Reader, piece_id: int) -> PieceForm:
    """A piece as it was written down.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    piece = reader.the(Piece, piece_id)
    history = histories(reader, [piece_id])[piece_id]
    fibre, mordant = history.fibre, history.mordant
    return PieceForm(
        piece.code,
        piece.name,
        fibre.name if fibre else "",
        fibre.make if fibre else "",
        mordant.name if mordant else "",
        mordant.percent_wof if mordant else None,
        piece.weight_g,
        piece.note,
        tuple(
            (
                step.treatment.id,
                SaidTreatment(
                    step.treatment.kind,
                    step.bath.bath.code if step.bath else "",
                    step.treatment.substance,
                    step.treatment.amount,
                    step.treatment.unit,
                    step.treatment.started,
                    step.treatment.minutes,
                    step.treatment.temperature_c,
                    step.ph,
                    step.treatment.note,
                ),
            )
            for step in history.steps
        ),
    )


def put_piece_right(library: Library, piece_id: int, form: PieceForm) -> bool:
    """Make a kept piece say what a form says, in one step of undo.

    Returns
    -------
    bool
        Whether anything was changed.

    Raises
    ------
    DyeshadeError
        ``record_gone``, ``piece_code_taken`` (piece), ``bath_unknown`` (bath); else as
        `Library.edit`.
    """
    with library.edit("change_piece") as edit:
        kept = edit.the(Piece, piece_id)
        change_piece(
            edit,
            replace(
                kept,
                code=form.code.strip(),
                name=form.name.strip(),
                fibre_lot_id=_fibre(edit, kept, form),
                mordant_id=_mordant(edit, kept, form),
                weight_g=form.weight_g,
                note=form.note.strip(),
            ),
        )
        _put_treatments(edit, piece_id, form.treatments)
    return bool(edit.changes)


def put_reading_right(library: Library, reading_id: int, form: ReadingForm) -> bool:
    """Make a kept reading say what a form says, in one step of undo.

    Returns
    -------
    bool
        Whether anything was changed.

    Raises
    ------
    DyeshadeError
        ``record_gone``, ``piece_unknown`` (piece, near); else as `Library.edit`.
    """
    with library.edit("change_reading") as edit:
        kept = edit.the(Reading, reading_id)
        piece = find_piece(edit, form.piece)
        own = {one.id for one in treatments_of(edit, piece.id)}
        edit.change(
            replace(
                kept,
                piece_id=piece.id,
                state=form.state,
                read=wall_time(form.read),
                after_treatment_id=form.after if form.after in own else None,
                note=form.note.strip(),
            )
        )
    return bool(edit.changes)


def remove_readings(library: Library, reading_ids: Sequence[int]) -> bool:
    """Remove readings, in one step of undo; their pieces and photos stay.

    Returns
    -------
    bool
        Whether anything was changed.

    Raises
    ------
    DyeshadeError
        ``record_gone``; else as `Library.edit`.
    """
    with library.edit("remove_readings") as edit:
        for reading_id in reading_ids:
            remove_reading(edit, reading_id)
    return bool(edit.changes)


def remove_kept_piece(library: Library, piece_id: int) -> bool:
    """Remove a piece with its readings and treatments, in one step of undo.

    Returns
    -------
    bool
        Whether anything was changed.

    Raises
    ------
    DyeshadeError
        ``record_gone``; else as `Library.edit`.
    """
    with library.edit("remove_piece") as edit:
        remove_piece(edit, piece_id)
    return bool(edit.changes)


def merge_two_pieces(library: Library, kept_id: int, other_code: str) -> bool:
    """Make one piece of two that are one, in one step of undo.

    Returns
    -------
    bool
        Whether anything was changed.

    Raises
    ------
    DyeshadeError
        ``record_gone``, ``piece_unknown`` (piece, near); else as `Library.edit`.
    """
    with library.edit("merge_pieces") as edit:
        merge_pieces(edit, kept_id, find_piece(edit, other_code).id)
    return bool(edit.changes)


def _fibre(edit: Edit, piece: Piece, form: PieceForm) -> int | None:
    kept = edit.the(FibreLot, piece.fibre_lot_id) if piece.fibre_lot_id else None
    name, make = form.fibre.strip(), form.fibre_make.strip()
    if not name:
        return None
    if kept is not None and (name, make) == (kept.name, kept.make):
        return kept.id
    # Another lot, not a changed one: other pieces may be of the same.
    return keep_lot(edit, FibreLot(name, make))


def _mordant(edit: Edit, piece: Piece, form: PieceForm) -> int | None:
    kept = edit.the(Mordant, piece.mordant_id) if piece.mordant_id else None
    name, percent = form.mordant.strip(), form.mordant_percent_wof
    if not name:
        return None
    if kept is not None and (name, percent) == (kept.name, kept.percent_wof):
        return kept.id
    return keep_lot(edit, Mordant(name, percent))


def _put_treatments(edit: Edit, piece_id: int, said: Sequence[tuple[int, SaidTreatment]]) -> None:
    kept = {one.id: one for one in treatments_of(edit, piece_id)}
    wanted = {treatment_id for treatment_id, _ in said}
    for treatment_id in kept:
        if treatment_id not in wanted:
            remove_treatment(edit, treatment_id)
    for place, (treatment_id, one) in enumerate(said, 1):
        bath_id = find_bath(edit, one.bath).id if one.bath else None
        record = Treatment(
            piece_id,
            one.kind,
            bath_id,
            one.substance.strip(),
            one.amount,
            one.unit.strip(),
            one.started,
            one.minutes,
            one.temperature_c,
            one.note.strip(),
            place,
        )
        if treatment_id in kept:
            _put_ph(edit, kept[treatment_id], one)
            edit.change(replace(record, id=treatment_id))
        else:
            treatment_id = add_treatment(edit, record)
            edit.change(replace(edit.the(Treatment, treatment_id), place=place))
        _read_ph(edit, edit.the(Treatment, treatment_id), one.ph)


def _put_ph(edit: Edit, kept: Treatment, said: SaidTreatment) -> None:
    """Take away pH that no longer belongs to a treatment."""
    same_kind = (kept.kind == "rinse") == (said.kind == "rinse") and said.kind in WITH_PH
    if said.ph is None or not same_kind:
        for one in edit.where(PhReading, "treatment_id = ?", (kept.id,)):
            edit.remove(PhReading, one.id)


def _read_ph(edit: Edit, treatment: Treatment, ph: float | None) -> None:
    if ph is None:
        return
    known = edit.where(PhReading, "treatment_id = ?", (treatment.id,), "read, id")
    if not known:
        read_ph(edit, treatment, ph, read=treatment.started)
    elif known[-1].ph != ph:
        edit.change(replace(known[-1], ph=ph))
