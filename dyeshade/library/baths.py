"""Dye baths: what is in them, what was added, their pH, and their exhaust baths."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from dyeshade.errors import DyeshadeError
from dyeshade.library.bath_records import (
    BathLine,
    BathPiece,
    BathPlanRecord,
    DayStep,
    DyestuffMove,
    LogReading,
)
from dyeshade.library.dye_records import Addition, Bath, BathDyestuff, DyestuffLot, PhReading
from dyeshade.library.edit import Edit, Reader
from dyeshade.library.pieces import keep_lot


@dataclass(frozen=True)
class WholeBath:
    """A bath with all that was written down of it.

    Attributes
    ----------
    bath : Bath
    dyestuffs : tuple of (DyestuffLot, ratio or None)
        In order; the ratio is the dyestuff's weight to the fibre's.
    additions : tuple of Addition
        In order.
    ph_readings : tuple of PhReading
        In the order in which they were read.
    """

    bath: Bath
    dyestuffs: tuple[tuple[DyestuffLot, float | None], ...] = ()
    additions: tuple[Addition, ...] = ()
    ph_readings: tuple[PhReading, ...] = ()

    def ph(self, which: str) -> float | None:
        """One of the bath's pH: "extraction", "bath_start" or "bath_end"; the last that was read.

        Where none was read at the start, the pH read after the last addition is the one at the
        start: the bath as made up.
        """
        read = [one.ph for one in self.ph_readings if one.which == which]
        if not read and which == "bath_start":
            read = [one.ph_after for one in self.additions if one.ph_after is not None]
        return read[-1] if read else None


def find_bath(reader: Reader, code: str) -> Bath:
    """The bath with a code, upper and lower case being the same.

    Raises
    ------
    DyeshadeError
        ``bath_unknown`` (bath)
    """
    found = reader.coded(Bath, code)
    if not found:
        raise DyeshadeError("bath_unknown", bath=code)
    return found[0]


def last_bath(reader: Reader) -> Bath | None:
    """The bath that was kept last, to be offered for the next piece."""
    found = reader.where(Bath, "id = (SELECT max(id) FROM bath)")
    return found[0] if found else None


def next_bath_code(reader: Reader, ahead: int = 0) -> str:
    """A code that no bath has, as "bath-007"; `ahead` codes were given already and not kept."""
    codes = [str(row[0]) for row in reader.rows("SELECT code FROM bath")]
    digits = [code[5:] for code in codes if code.lower().startswith("bath-")]
    numbers = [int(one) for one in digits if one.isascii() and one.isdigit() and len(one) < 7]
    return f"bath-{max(numbers, default=0) + 1 + ahead:03d}"


def exhaust_of(reader: Reader, bath: Bath) -> Bath:
    """The next bath in the same liquor, not kept yet: same vessel and water, one exhaust more."""
    return Bath(
        code=next_bath_code(reader),
        water=bath.water,
        vessel=bath.vessel,
        exhaust_number=bath.exhaust_number + 1,
        parent_bath_id=bath.id,
    )


def add_bath(
    edit: Edit,
    bath: Bath,
    dyestuffs: Sequence[tuple[DyestuffLot, float | None]] = (),
    additions: Sequence[Addition] = (),
) -> int:
    """Keep a new bath with its dyestuffs and additions.

    Parameters
    ----------
    edit : Edit
    bath : Bath
    dyestuffs : sequence of (DyestuffLot, ratio or None)
        A lot that says the same as a kept one is that one.
    additions : sequence of Addition
        Their `bath_id` and `place` are not looked at: their order here counts.

    Returns
    -------
    int
        The bath's id.

    Raises
    ------
    DyeshadeError
        ``bath_code_taken`` (bath)
    """
    _refuse_taken(edit, bath)
    bath_id = edit.add(bath)
    for place, (lot, ratio) in enumerate(dyestuffs, 1):
        lot_id = lot.id or keep_lot(edit, lot)
        edit.add(BathDyestuff(bath_id, lot_id, ratio, place))
    for addition in additions:
        add_addition(edit, replace(addition, bath_id=bath_id))
    return bath_id


def change_bath(edit: Edit, bath: Bath) -> None:
    """Put other contents into a kept bath. Raises as `add_bath`."""
    _refuse_taken(edit, bath)
    edit.change(bath)


def refuse_circle(edit: Edit, bath: Bath, parent: Bath) -> None:
    """See to it that a kept bath is not about to exhaust itself, nor one that exhausts it.

    Raises
    ------
    DyeshadeError
        ``bath_exhausts_itself`` (bath)
    """
    above: Bath | None = parent
    while above is not None:
        if above.id == bath.id:
            raise DyeshadeError("bath_exhausts_itself", bath=bath.code)
        above = None if above.parent_bath_id is None else edit.the(Bath, above.parent_bath_id)


def count_on(edit: Edit, bath: Bath) -> None:
    """Number the exhaust baths of a kept bath anew, and theirs."""
    for child in edit.where(Bath, "parent_bath_id = ?", (bath.id,)):
        numbered = replace(child, exhaust_number=bath.exhaust_number + 1)
        edit.change(numbered)
        count_on(edit, numbered)


def _refuse_taken(edit: Edit, bath: Bath) -> None:
    if any(one.id != bath.id for one in edit.coded(Bath, bath.code)):
        raise DyeshadeError("bath_code_taken", bath=bath.code)


def add_addition(edit: Edit, addition: Addition) -> int:
    """Keep an addition as the bath's last. Returns its id."""
    sql = "SELECT max(place) FROM addition WHERE bath_id = ?"
    last = edit.value(sql, (addition.bath_id,)) or 0
    return edit.add(replace(addition, place=last + 1))


def read_bath_ph(
    edit: Edit,
    bath_id: int,
    which: str,
    ph: float,
    ph_sd: float | None = None,
    read: datetime | None = None,
    by: str = "",
) -> int:
    """Keep a pH of a bath; `which` is "extraction", "bath_start" or "bath_end". Returns its id."""
    return edit.add(PhReading(which, ph, ph_sd, read, bath_id, None, by))


def whole_baths(reader: Reader, bath_ids: Sequence[int]) -> dict[int, WholeBath]:
    """Baths with all that belongs to them, by id."""
    baths = {bath.id: bath for bath in reader.among(Bath, "id", bath_ids)}
    in_baths = reader.among(BathDyestuff, "bath_id", bath_ids, "bath_id, place, id")
    lot_ids = sorted({one.dyestuff_lot_id for one in in_baths})
    lots = {lot.id: lot for lot in reader.among(DyestuffLot, "id", lot_ids)}
    dyestuffs: dict[int, list[tuple[DyestuffLot, float | None]]] = {}
    for one in in_baths:
        dyestuffs.setdefault(one.bath_id, []).append((lots[one.dyestuff_lot_id], one.ratio))
    additions: dict[int, list[Addition]] = {}
    for addition in reader.among(Addition, "bath_id", bath_ids, "bath_id, place, id"):
        additions.setdefault(addition.bath_id, []).append(addition)
    read: dict[int, list[PhReading]] = {}
    for ph in reader.among(PhReading, "bath_id", bath_ids, "bath_id, read, id"):
        assert ph.bath_id is not None
        read.setdefault(ph.bath_id, []).append(ph)
    return {
        i: WholeBath(
            bath,
            tuple(dyestuffs.get(i, ())),
            tuple(additions.get(i, ())),
            tuple(read.get(i, ())),
        )
        for i, bath in baths.items()
    }


def remove_addition(edit: Edit, addition_id: int) -> None:
    """Remove an addition; what was read after it was read after the one before.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    gone = edit.the(Addition, addition_id)
    before = edit.where(
        Addition,
        "bath_id = ? AND place < ? AND additive <> ''",
        (gone.bath_id, gone.place),
        "place, id",
    )
    after = before[-1].id if before else None
    for one in edit.where(LogReading, "addition_id = ?", (addition_id,)):
        edit.change(replace(one, addition_id=after))
    edit.remove(Addition, addition_id)


def remove_bath(edit: Edit, bath_id: int) -> None:
    """Remove a bath with its plan, log, day and pH readings; its dyestuffs' lots stay.

    What it had used of the lots is back in the store.

    Raises
    ------
    DyeshadeError
        ``still_used`` where a piece was in it or another bath exhausts it; ``record_gone``.
    """
    for kind in (LogReading, BathPlanRecord, BathPiece, BathLine, DayStep, DyestuffMove):
        for one in edit.where(kind, "bath_id = ?", (bath_id,)):
            edit.remove(kind, one.id)
    for addition in edit.where(Addition, "bath_id = ?", (bath_id,)):
        edit.remove(Addition, addition.id)
    for dyestuff in edit.where(BathDyestuff, "bath_id = ?", (bath_id,)):
        edit.remove(BathDyestuff, dyestuff.id)
    for ph in edit.where(PhReading, "bath_id = ?", (bath_id,)):
        edit.remove(PhReading, ph.id)
    edit.remove(Bath, bath_id)
