"""What a piece went through, in order."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from dyeshade.library.dye_records import AFTER_A_BATH, PhReading, Treatment
from dyeshade.library.edit import Edit, Reader
from dyeshade.library.shade_records import Reading
from dyeshade.library.trials import let_go_of_treatment, tested_apart


def treatments_of(reader: Reader, piece_id: int) -> list[Treatment]:
    """A piece's treatments in their order."""
    return reader.where(Treatment, "piece_id = ?", (piece_id,), "place, id")


def add_treatment(
    edit: Edit,
    treatment: Treatment,
    place: int | None = None,
    ph: float | None = None,
    ph_sd: float | None = None,
) -> int:
    """Keep a new treatment, as the last one or at a place (from 1); later ones move on.

    Parameters
    ----------
    edit : Edit
    treatment : Treatment
        Its own `place` is not looked at.
    place : int, optional
    ph, ph_sd : float, optional
        What was read in an afterbath, a dip or rinse water, and its standard uncertainty.

    Returns
    -------
    int
        Its id.
    """
    order = treatments_of(edit, treatment.piece_id)
    number = len(order) if place is None else min(max(place, 1) - 1, len(order))
    last = max((one.place for one in order), default=0)
    added = edit.add(replace(treatment, place=last + 1))
    if number < len(order):
        order.insert(number, edit.the(Treatment, added))
        _number_anew(edit, order)
    if ph is not None:
        read_ph(edit, edit.the(Treatment, added), ph, ph_sd, treatment.started)
    return added


def read_ph(
    edit: Edit,
    treatment: Treatment,
    ph: float,
    ph_sd: float | None = None,
    read: datetime | None = None,
    by: str = "",
) -> int:
    """Keep the pH of an afterbath, dip or rinse; the pH of a dye bath belongs to the bath.

    Returns
    -------
    int
        The reading's id.
    """
    if treatment.kind != "rinse" and treatment.kind not in AFTER_A_BATH:
        raise ValueError(f"a {treatment.kind} has no pH of its own")
    which = "rinse" if treatment.kind == "rinse" else "after"
    return edit.add(PhReading(which, ph, ph_sd, read, None, treatment.id, by))


def move_treatment(edit: Edit, treatment_id: int, place: int) -> None:
    """Move a treatment to another place (from 1) among its piece's.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    moved = edit.the(Treatment, treatment_id)
    order = [one for one in treatments_of(edit, moved.piece_id) if one.id != treatment_id]
    order.insert(max(place, 1) - 1, moved)
    _number_anew(edit, order)


def remove_treatment(edit: Edit, treatment_id: int) -> None:
    """Remove a treatment and its pH; readings after it are then after the one before it.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    treatment = edit.the(Treatment, treatment_id)
    order = [one.id for one in treatments_of(edit, treatment.piece_id)]
    # To name what only one half of the piece went through would make it a reading of that half.
    apart = tested_apart(edit)
    before = [one for one in order[: order.index(treatment_id)] if one not in apart]
    for reading in edit.where(Reading, "after_treatment_id = ?", (treatment_id,)):
        edit.change(replace(reading, after_treatment_id=before[-1] if before else None))
    for ph in edit.where(PhReading, "treatment_id = ?", (treatment_id,)):
        edit.remove(PhReading, ph.id)
    let_go_of_treatment(edit, treatment_id)
    edit.remove(Treatment, treatment_id)


def _number_anew(edit: Edit, order: list[Treatment]) -> None:
    for place, treatment in enumerate(order, 1):
        edit.change(replace(treatment, place=place))
