"""A kept bath put right: everything as a form says it, blanks included."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher

from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import (
    WholeBath,
    add_addition,
    change_bath,
    count_on,
    find_bath,
    read_bath_ph,
    refuse_circle,
    remove_addition,
    remove_bath,
    whole_baths,
)
from dyeshade.library.dye_records import (
    IN_A_BATH,
    Addition,
    Bath,
    BathDyestuff,
    DyestuffLot,
    PhReading,
    Treatment,
)
from dyeshade.library.edit import Edit, Reader
from dyeshade.library.library import Library
from dyeshade.library.pieces import keep_lot
from dyeshade.work.keep_baths import BathsSaid
from dyeshade.work.known import bath_said
from dyeshade.work.said import SaidAddition, SaidBath, SaidDye

_OF_A_BATH = ("extraction", "bath_start", "bath_end")


@dataclass(frozen=True)
class ListedBath:
    """A bath as a list shows it.

    Attributes
    ----------
    whole : WholeBath
    exhausts : str
        Code of the bath that it exhausts, else "".
    pieces : int
        How many pieces were in it.
    """

    whole: WholeBath
    exhausts: str
    pieces: int


def listed_baths(reader: Reader) -> tuple[ListedBath, ...]:
    """All baths, the newest first."""
    baths = reader.where(Bath, order="id DESC")
    whole = whole_baths(reader, [bath.id for bath in baths])
    codes = {bath.id: bath.code for bath in baths}
    pieces: dict[int, set[int]] = {}
    for one in reader.where(Treatment, "bath_id IS NOT NULL"):
        assert one.kind in IN_A_BATH
        pieces.setdefault(one.bath_id or 0, set()).add(one.piece_id)
    return tuple(
        ListedBath(
            whole[bath.id],
            codes.get(bath.parent_bath_id or 0, ""),
            len(pieces.get(bath.id, ())),
        )
        for bath in baths
    )


def bath_form(reader: Reader, bath_id: int) -> SaidBath:
    """A bath as it was written down, for a form that puts it right.

    Unlike `dyeshade.work.known.said_of_bath` it holds no pH that follows from another.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    reader.the(Bath, bath_id)
    whole = whole_baths(reader, [bath_id])[bath_id]
    last = {one.which: one.ph for one in whole.ph_readings}
    return bath_said(
        reader, whole, tuple((which, last[which]) for which in _OF_A_BATH if which in last)
    )


def put_bath_right(library: Library, bath_id: int, said: SaidBath) -> bool:
    """Make a kept bath say what a form says, in one step of undo.

    Returns
    -------
    bool
        Whether anything was changed.

    Raises
    ------
    DyeshadeError
        ``record_gone``, ``bath_code_taken`` (bath), ``bath_unknown`` (bath) for the one that it
        exhausts, ``bath_exhausts_itself`` (bath); else as `Library.edit`.
    """
    with library.edit("change_bath") as edit:
        kept = edit.the(Bath, bath_id)
        number, parent_id = _exhausts(edit, kept, said)
        change_bath(
            edit,
            replace(
                kept,
                code=said.code.strip(),
                started=said.started,
                water=said.water.strip(),
                vessel=said.vessel.strip(),
                liquor_ratio=said.liquor_ratio,
                temperature_c=said.temperature_c,
                minutes=said.minutes,
                exhaust_number=number,
                parent_bath_id=parent_id,
                note=said.note.strip(),
            ),
        )
        count_on(edit, edit.the(Bath, bath_id))
        whole = whole_baths(edit, [bath_id])[bath_id]
        _put_dyes(edit, whole, said.dyes)
        _put_additions(edit, whole, said.additions)
        _put_ph(edit, whole, dict(said.phs))
    return bool(edit.changes)


def add_bath_said(library: Library, said: SaidBath) -> bool:
    """Keep a new bath, in one step of undo.

    Returns
    -------
    bool
        Whether anything was changed.

    Raises
    ------
    DyeshadeError
        ``bath_code_taken`` (bath), ``bath_unknown`` (bath); else as `Library.edit`.
    """
    with library.edit("add_bath") as edit:
        if edit.coded(Bath, said.code):
            raise DyeshadeError("bath_code_taken", bath=said.code)
        if said.exhaust_of:
            find_bath(edit, said.exhaust_of)
        BathsSaid(edit, [said]).keep_all()
    return bool(edit.changes)


def remove_kept_bath(library: Library, bath_id: int) -> bool:
    """Remove a bath that no piece was in, in one step of undo.

    Returns
    -------
    bool
        Whether anything was changed.

    Raises
    ------
    DyeshadeError
        ``still_used``, ``record_gone``; else as `Library.edit`.
    """
    with library.edit("remove_bath") as edit:
        remove_bath(edit, bath_id)
    return bool(edit.changes)


def _exhausts(edit: Edit, kept: Bath, said: SaidBath) -> tuple[int, int | None]:
    """Exhaust number and parent."""
    if not said.exhaust_of:
        # A number without a bath that it counts from was written down so; it stays.
        return (kept.exhaust_number, None) if kept.parent_bath_id is None else (0, None)
    parent = find_bath(edit, said.exhaust_of)
    refuse_circle(edit, kept, parent)
    return parent.exhaust_number + 1, parent.id


def _put_dyes(edit: Edit, whole: WholeBath, said: Sequence[SaidDye]) -> None:
    rows = edit.where(BathDyestuff, "bath_id = ?", (whole.bath.id,), "place, id")
    for row in rows[len(said) :]:
        edit.remove(BathDyestuff, row.id)
    for place, dye in enumerate(said, 1):
        old = rows[place - 1] if place <= len(rows) else None
        lot = edit.the(DyestuffLot, old.dyestuff_lot_id) if old else None
        lot_id = _lot(edit, lot, dye)
        if old is None:
            edit.add(BathDyestuff(whole.bath.id, lot_id, dye.ratio, place))
        else:
            edit.change(replace(old, dyestuff_lot_id=lot_id, ratio=dye.ratio, place=place))


def _lot(edit: Edit, kept: DyestuffLot | None, said: SaidDye) -> int:
    """The lot that is meant. Another one, not a changed one: other baths may be of the same."""
    wanted = (said.name.strip(), said.part.strip(), said.form or "dried", said.origin.strip())
    if kept is not None and wanted == (kept.name, kept.part, kept.form, kept.origin):
        return kept.id
    return keep_lot(edit, DyestuffLot(*wanted))


def _put_additions(edit: Edit, whole: WholeBath, said: Sequence[SaidAddition]) -> None:
    wanted = [
        Addition(whole.bath.id, one.substance.strip(), one.amount, one.unit.strip(), one.ph_after)
        for one in said
    ]
    # What is said as it was kept is the one that was kept, wherever it stands now: what was read
    # after it in the log stays with it.
    rows: dict[int, Addition] = {}
    gone: list[Addition] = []
    matcher = SequenceMatcher(None, [*map(_alike, whole.additions)], [*map(_alike, wanted)], False)
    for _, first, end, place, last in matcher.get_opcodes():
        rows |= dict(zip(range(place, last), whole.additions[first:end], strict=False))
        gone += whole.additions[first:end][last - place :]
    for extra in reversed(gone):
        remove_addition(edit, extra.id)
    for place, addition in enumerate(wanted):
        row = rows.get(place)
        made = add_addition(edit, addition) if row is None else row.id
        now = edit.the(Addition, made) if row is None else _put_addition(row, addition)
        edit.change(replace(now, place=place + 1))


def _alike(one: Addition) -> tuple[object, ...]:
    return one.substance, one.amount, one.unit, one.ph_after


def _put_addition(row: Addition, said: Addition) -> Addition:
    """A kept addition as it is said now; of another substance, it is none of the way to a pH."""
    if (row.substance, row.unit) == (said.substance, said.unit):
        return replace(row, amount=said.amount, ph_after=said.ph_after)
    return replace(said, id=row.id, place=row.place, added=row.added)


def _put_ph(edit: Edit, whole: WholeBath, said: dict[str, float]) -> None:
    for which in _OF_A_BATH:
        kept = [one for one in whole.ph_readings if one.which == which]
        if which not in said:
            for one in kept:
                edit.remove(PhReading, one.id)
        elif not kept:
            read_bath_ph(edit, whole.bath.id, which, said[which])
        elif kept[-1].ph != said[which]:
            edit.change(replace(kept[-1], ph=said[which]))
