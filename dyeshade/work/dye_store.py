"""The store of dyestuffs in the library: lots that come in, what is left of them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from dyeshade.bath.amounts import DYESTUFF
from dyeshade.bath.quantities import parse_weight
from dyeshade.bath.ratios import parse_ratio
from dyeshade.bath.recipe import DRIED, DyestuffShare
from dyeshade.bath.store import BOUGHT, USED, WEIGHED, Enough, Left, enough_for, left_of
from dyeshade.errors import DyeshadeError
from dyeshade.library.bath_records import DyestuffMove
from dyeshade.library.bath_room import BathRoom
from dyeshade.library.dye_records import DyestuffLot, wall_time
from dyeshade.library.edit import Edit
from dyeshade.library.library import Library
from dyeshade.work.kept_plan import own_figures
from dyeshade.work.plan_bath import OwnFigures


@dataclass(frozen=True)
class TypedLot:
    """A lot as it is typed."""

    name: str = ""
    form: str = DRIED
    weight: str = ""
    origin: str = ""
    since: date | None = None


def lots_left(own: OwnFigures) -> tuple[Left, ...]:
    """What is left of each lot, by name and the oldest first."""
    lots = sorted(own.lots, key=lambda lot: (lot.name.casefold(), lot.since or date.max, lot.ident))
    return tuple(left_of(lot, own.moves) for lot in lots)


def put_in_store(library: Library, typed: TypedLot, now: datetime | None = None) -> int:
    """Put a lot into the store; a lot of its own, however much it resembles another.

    Raises
    ------
    DyeshadeError
        ``name_needed``, or as `parse_weight`, or as `Library.edit`.
    """
    if not typed.name.strip():
        raise DyeshadeError("name_needed")
    grams = parse_weight(typed.weight).value
    at = wall_time(now or datetime.now())
    with library.edit("put_in_store") as edit:
        lot = DyestuffLot(
            " ".join(typed.name.split()),
            form=typed.form,
            origin=typed.origin.strip(),
            lot_date=typed.since or at.date(),
        )
        lot_id = edit.add(lot)
        edit.add(DyestuffMove(lot_id, BOUGHT, grams, None, at))
    return lot_id


def weigh_lot(library: Library, lot_id: int, weight: str, now: datetime | None = None) -> None:
    """Say what a lot weighs now, whatever was reckoned; nothing may be left.

    Raises
    ------
    DyeshadeError
        As `parse_weight`; ``record_gone``; else as `Library.edit`.
    """
    grams = parse_weight(weight, zero=True).value
    with library.edit("weigh_lot") as edit:
        at = wall_time(now or datetime.now())
        edit.add(DyestuffMove(lot_id, WEIGHED, grams, None, at))


def is_enough(own: OwnFigures, name: str, form: str, ratio: str, fibre: str) -> Enough:
    """Whether the store holds enough: "240 g at two to one".

    Raises
    ------
    DyeshadeError
        ``name_needed``, ``not_in_store``, or as `parse_weight` and `parse_ratio`.
    """
    if not name.strip():
        raise DyeshadeError("name_needed")
    grams = parse_weight(fibre).value
    share = DyestuffShare(" ".join(name.split()), parse_ratio(ratio), form)
    for one in own.yields:
        if one.name.casefold() == share.name.casefold():
            share = (
                DyestuffShare(share.name, share.ratio, form, one.number, share.extract_yield)
                if one.form == DRIED
                else DyestuffShare(share.name, share.ratio, form, share.drying_yield, one.number)
            )
    return enough_for(grams, share, own.lots, own.moves)


def take_for_bath(edit: Edit, room: BathRoom, at: datetime) -> None:
    """Take from the store what a bath has used, the oldest lot first, as far as it goes."""
    own = own_figures(edit)
    for line in room.lines:
        counted = line.planned if line.actual is None else line.actual
        if line.kind != DYESTUFF or counted <= 0:
            continue
        try:
            found = enough_for(
                counted, DyestuffShare(line.name, 1.0, line.form), own.lots, own.moves
            )
        except DyeshadeError:
            # Nothing of it is in the store.
            continue
        for lot, grams in found.take:
            edit.add(DyestuffMove(lot.ident, USED, grams, room.bath.id, at))
