"""The dye day: steps with their times, a timer that needs no running program, and its end.

A timer is a beginning and planned minutes; how much is left follows from the clock, so that it
survives closing the program.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from dyeshade.bath.fibres import is_on
from dyeshade.errors import DyeshadeError
from dyeshade.library.bath_records import BathPiece, DayStep
from dyeshade.library.bath_room import BathRoom, bath_room
from dyeshade.library.baths import read_bath_ph
from dyeshade.library.dye_records import (
    Bath,
    FibreLot,
    Mordant,
    PhReading,
    Piece,
    Treatment,
    wall_time,
)
from dyeshade.library.edit import Edit
from dyeshade.library.library import Library
from dyeshade.library.pieces import add_piece, keep_lot, next_piece_code
from dyeshade.library.treatments import add_treatment, treatments_of
from dyeshade.work.bath_typed import TypedBath, TypedStep
from dyeshade.work.dye_store import take_for_bath
from dyeshade.work.read_bath import parse_positive

BEFORE, AFTER = ("scour", "tannin", "mordant"), ("afterbath", "rinse", "wash", "rest")


@dataclass(frozen=True)
class Timer:
    """A step under way.

    Attributes
    ----------
    place : int
        Of the step.
    ends : datetime or None
        None where no minutes were planned.
    left_s : float
        Seconds to go; below 0 since when it is over.
    """

    place: int
    ends: datetime | None
    left_s: float


def timers(steps: Sequence[TypedStep], now: datetime) -> tuple[Timer, ...]:
    """The timers of all steps under way."""
    found = []
    for place, step in enumerate(steps):
        if step.started is None or step.ended is not None:
            continue
        minutes = _minutes(step)
        if minutes is None:
            found.append(Timer(place, None, (step.started - now).total_seconds()))
        else:
            ends = step.started + timedelta(minutes=minutes)
            found.append(Timer(place, ends, (ends - now).total_seconds()))
    return tuple(found)


def ends_of(step: DayStep) -> datetime | None:
    """When a kept step that was begun is over by its plan; None where no time was planned."""
    if step.started is None or step.minutes is None:
        return None
    return step.started + timedelta(minutes=step.minutes)


def begun(typed: TypedBath, place: int, now: datetime) -> TypedBath:
    """With a step begun; the step before it that was under way is over with that."""
    at = wall_time(now)
    steps = list(typed.steps)
    for k in range(place):
        if steps[k].started is not None and steps[k].ended is None:
            steps[k] = replace(steps[k], ended=at)
    steps[place] = replace(steps[place], started=at, ended=None)
    return replace(typed, steps=tuple(steps))


def ended(typed: TypedBath, place: int, now: datetime) -> TypedBath:
    """With a step ended."""
    steps = list(typed.steps)
    steps[place] = replace(steps[place], ended=wall_time(now))
    return replace(typed, steps=tuple(steps))


def usual_steps() -> tuple[TypedStep, ...]:
    """A day to begin with; common practice, no source."""
    return (
        TypedStep("bath", "heat slowly", "", "45"),
        TypedStep("bath", "simmer, not boil", "80 °C", "60"),
        TypedStep("bath", "cool in the bath", "", "60"),
        TypedStep("rinse", "until the water runs clear", "", ""),
    )


@dataclass(frozen=True)
class Finished:
    """What came out of a pot: codes of all pieces, and of those that are new."""

    pieces: tuple[str, ...]
    new: tuple[str, ...]


def finish_bath(
    library: Library,
    bath_id: int,
    now: datetime | None = None,
    ph_end: float | None = None,
    ph_by: str = "",
    ph_error: float | None = None,
) -> Finished:
    """What was done becomes the bath conditions of the pieces that came out; one step of undo.

    The bath takes its beginning, its highest temperature and the time that it was kept there from
    the day, its pH from the log. Each piece gets, in order: what was done before (mordants of the
    pot too, where it had none), the bath, what was done after. Dyestuffs that are in the store
    are taken from it, the oldest lot first.

    Parameters
    ----------
    library : Library
    bath_id : int
        Of a bath that was planned.
    now : datetime, optional
    ph_end : float, optional
        The pH of the bath at its end, read with `ph_by`, which may be off by `ph_error`.

    Raises
    ------
    DyeshadeError
        ``no_fibre`` where nothing is in the pot, ``bath_finished`` (bath), ``record_gone``; else
        as `Library.edit`.
    """
    at = wall_time(now or datetime.now())
    with library.edit("finish_bath") as edit:
        room = bath_room(edit, bath_id)
        if not room.pieces or room.plan is None:
            raise DyeshadeError("no_fibre")
        if room.plan.finished is not None:
            raise DyeshadeError("bath_finished", bath=room.bath.code)
        _write_conditions(edit, room, at)
        _write_ph(edit, room, at, ph_end, ph_by, ph_error)
        codes, new = [], []
        for row in room.pieces:
            piece, made = _piece(edit, row)
            edit.change(replace(row, code=piece.code))
            _treat(edit, room, piece, row, at)
            codes.append(piece.code)
            if made:
                new.append(piece.code)
        take_for_bath(edit, room, at)
        edit.change(replace(room.plan, finished=at))
    return Finished(tuple(codes), tuple(new))


def _write_conditions(edit: Edit, room: BathRoom, at: datetime) -> None:
    in_bath = [one for one in room.steps if one.treatment in ("bath", "overdye")]
    done = [one for one in in_bath if one.started is not None] or in_bath
    starts = [one.started for one in done if one.started is not None]
    warm = [one for one in done if one.temperature_c is not None]
    bath = replace(room.bath, started=min(starts, default=room.bath.started or at))
    if warm:
        hottest = max(one.temperature_c or 0.0 for one in warm)
        minutes = 0.0
        for one in warm:
            if one.temperature_c == hottest:
                if one.started is not None and one.ended is not None:
                    minutes += (one.ended - one.started).total_seconds() / 60
                else:
                    minutes += one.minutes or 0.0
        bath = replace(bath, temperature_c=hottest, minutes=round(minutes, 1) or None)
    edit.change(bath)


def _write_ph(
    edit: Edit,
    room: BathRoom,
    at: datetime,
    ph_end: float | None,
    by: str,
    error: float | None,
) -> None:
    kept = {one.which for one in edit.where(PhReading, "bath_id = ?", (room.bath.id,))}
    logged = [one.id for one in room.additions if one.additive]
    last = logged[-1] if logged else None
    read = [one for one in room.readings if one.addition_id == last and one.known_ph is None]
    if read and "bath_start" not in kept:
        mean = round(sum(one.ph for one in read) / len(read), 2)
        sd = min(one.error for one in read) / 3**0.5
        read_bath_ph(
            edit, room.bath.id, "bath_start", mean, round(sd, 3), read[-1].read, read[-1].instrument
        )
    if ph_end is not None:
        sd_end = None if error is None else round(error / 3**0.5, 3)
        read_bath_ph(edit, room.bath.id, "bath_end", ph_end, sd_end, at, by)


def _piece(edit: Edit, row: BathPiece) -> tuple[Piece, bool]:
    found = edit.coded(Piece, row.code) if row.code.strip() else []
    if found:
        piece = found[0]
        if piece.weight_g is None or piece.fibre_lot_id is None:
            fibre = piece.fibre_lot_id or keep_lot(edit, FibreLot(row.fibre))
            piece = replace(piece, weight_g=piece.weight_g or row.weight_g, fibre_lot_id=fibre)
            edit.change(piece)
        return piece, False
    code = row.code.strip() or next_piece_code(edit, row.fibre)
    fibre = keep_lot(edit, FibreLot(row.fibre))
    made = add_piece(edit, Piece(code, "", fibre, None, row.weight_g))
    return edit.the(Piece, made), True


def _treat(edit: Edit, room: BathRoom, piece: Piece, row: BathPiece, at: datetime) -> None:
    if any(one.bath_id == room.bath.id for one in treatments_of(edit, piece.id)):
        return
    mordants = [
        line
        for line in room.lines
        if line.kind == "mordant" and is_on(line.on_fibre, row.fibre) and line.actual != 0
    ]
    done = [one for one in room.steps if one.started is not None] or list(room.steps)
    for step in done:
        if step.treatment in BEFORE and not (step.treatment == "mordant" and mordants):
            _add_step(edit, piece, step)
    mordanted = next((one for one in done if one.treatment == "mordant"), None)
    for line in mordants:
        counted = line.planned if line.actual is None else line.actual
        percent = round(100 * line.share * counted / line.planned, 2)
        add_treatment(
            edit,
            Treatment(
                piece.id,
                "mordant",
                None,
                line.name,
                percent,
                "% wof",
                None if mordanted is None else mordanted.started,
                None if mordanted is None else _lasted(mordanted),
                None if mordanted is None else mordanted.temperature_c,
            ),
        )
        if piece.mordant_id is None:
            piece = replace(piece, mordant_id=keep_lot(edit, Mordant(line.name, percent)))
            edit.change(piece)
    bath = edit.the(Bath, room.bath.id)
    kind = next((one.treatment for one in done if one.treatment in ("bath", "overdye")), "bath")
    notes = [one.note for one in done if one.treatment == kind and one.note]
    add_treatment(
        edit, Treatment(piece.id, kind, bath.id, started=bath.started, note="; ".join(notes))
    )
    for step in done:
        if step.treatment in AFTER or step.treatment == "dip":
            _add_step(edit, piece, step)


def _add_step(edit: Edit, piece: Piece, step: DayStep) -> None:
    add_treatment(
        edit,
        Treatment(
            piece.id,
            step.treatment,
            started=step.started,
            minutes=_lasted(step),
            temperature_c=step.temperature_c,
            note=", ".join(filter(None, (step.what, step.note))),
        ),
    )


def _lasted(step: DayStep) -> float | None:
    if step.started is None or step.ended is None:
        return step.minutes
    return round((step.ended - step.started).total_seconds() / 60, 1)


def _minutes(step: TypedStep) -> float | None:
    try:
        return parse_positive(step.minutes) if step.minutes.strip() else None
    except DyeshadeError:
        return None
