"""Baths as a dyer says them, found in the library or made there."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import (
    WholeBath,
    add_addition,
    add_bath,
    change_bath,
    count_on,
    find_bath,
    read_bath_ph,
    refuse_circle,
    whole_baths,
)
from dyeshade.library.dye_records import Addition, Bath, BathDyestuff, DyestuffLot
from dyeshade.library.edit import Edit
from dyeshade.library.pieces import keep_lot
from dyeshade.work.said import SaidAddition, SaidBath, SaidDye

Value = TypeVar("Value")


def agree(kept: object, said: object) -> bool:
    """Whether two values say the same: texts but for upper case, numbers as far as typed."""
    if isinstance(kept, str) and isinstance(said, str):
        return kept.strip().casefold() == said.strip().casefold()
    if isinstance(kept, int | float) and isinstance(said, int | float):
        return math.isclose(kept, said, rel_tol=1e-9)
    return kept == said


class BathsSaid:
    """Gives the id of each bath that is named, and makes it at the first time.

    Parameters
    ----------
    edit : Edit
    said : sequence of SaidBath
        Baths that are described; a code that is in neither is made without a description.
    """

    def __init__(self, edit: Edit, said: Sequence[SaidBath]) -> None:
        self._edit = edit
        self._said = {_plain(one.code): one for one in said}
        if len(self._said) < len(said):
            raise ValueError("a bath is described twice")
        self._ids: dict[str, int] = {}
        self._under_way: set[str] = set()
        self.new: list[str] = []
        """Codes of baths that were made."""

    def keep_all(self) -> None:
        """Keep every bath that is described. Raises as `id_of`."""
        for one in self._said.values():
            self.id_of(one.code)

    def id_of(self, code: str) -> int:
        """The id of the bath with a code.

        Raises
        ------
        DyeshadeError
            ``bath_said_otherwise`` (bath, what, kept, said) where the library says something else
            of it; ``bath_exhausts_itself`` (bath).
        """
        plain = _plain(code)
        if plain not in self._ids:
            if plain in self._under_way:
                raise DyeshadeError("bath_exhausts_itself", bath=code)
            self._under_way.add(plain)
            said = self._said.get(plain) or SaidBath(code.strip())
            known = self._known(said.code)
            self._ids[plain] = self._make(said) if known is None else self._fill(known, said)
        return self._ids[plain]

    def _known(self, code: str) -> Bath | None:
        try:
            return find_bath(self._edit, code)
        except DyeshadeError as error:
            if error.code != "bath_unknown":
                raise
        return None

    def _make(self, said: SaidBath) -> int:
        bath = Bath(
            said.code.strip(),
            said.started,
            said.water.strip(),
            said.vessel.strip(),
            said.liquor_ratio,
            said.temperature_c,
            said.minutes,
            note=said.note.strip(),
        )
        dyes: list[tuple[DyestuffLot, float | None]] = [(lot_of(d), d.ratio) for d in said.dyes]
        if said.exhaust_of:
            first = self._whole(self.id_of(said.exhaust_of))
            number = first.bath.exhaust_number + 1
            bath = replace(bath, exhaust_number=number, parent_bath_id=first.bath.id)
            dyes = dyes or list(first.dyestuffs)
        additions = [_addition(0, one) for one in said.additions]
        bath_id = add_bath(self._edit, bath, dyes, additions)
        for which, ph in said.phs:
            read_bath_ph(self._edit, bath_id, which, ph)
        self.new.append(bath.code)
        return bath_id

    def _fill(self, known: Bath, said: SaidBath) -> int:
        """Write into a kept bath what it did not say yet."""
        filled = replace(
            known,
            started=_joined(known, "started", known.started, said.started),
            water=_joined(known, "water", known.water, said.water.strip()),
            vessel=_joined(known, "vessel", known.vessel, said.vessel.strip()),
            liquor_ratio=_joined(known, "liquor ratio", known.liquor_ratio, said.liquor_ratio),
            temperature_c=_joined(known, "temperature", known.temperature_c, said.temperature_c),
            minutes=_joined(known, "minutes", known.minutes, said.minutes),
            note=known.note or said.note.strip(),
        )
        if said.exhaust_of:
            first = self._edit.the(Bath, self.id_of(said.exhaust_of))
            number = known.exhaust_number or None
            number = _joined(known, "exhaust number", number, first.exhaust_number + 1)
            parent = _joined(known, "exhausted bath", known.parent_bath_id, first.id)
            refuse_circle(self._edit, known, first)
            filled = replace(filled, exhaust_number=number or 0, parent_bath_id=parent)
        change_bath(self._edit, filled)
        count_on(self._edit, filled)
        whole = self._whole(known.id)
        self._fill_dyes(whole, said)
        self._fill_additions(whole, said)
        for which, ph in said.phs:
            if _joined(known, f"pH ({which})", whole.ph(which), ph) != whole.ph(which):
                read_bath_ph(self._edit, known.id, which, ph)
        return known.id

    def _fill_dyes(self, whole: WholeBath, said: SaidBath) -> None:
        if not whole.dyestuffs:
            for place, dye in enumerate(said.dyes, 1):
                lot_id = keep_lot(self._edit, lot_of(dye))
                self._edit.add(BathDyestuff(whole.bath.id, lot_id, dye.ratio, place))
            return
        if said.dyes:
            kept = [lot.name for lot, _ in whole.dyestuffs]
            named = [dye.name for dye in said.dyes]
            _joined(whole.bath, "dyestuff", " + ".join(kept), " + ".join(named))
        in_bath = self._edit.where(
            BathDyestuff, "bath_id = ?", (whole.bath.id,), order="bath_id, place, id"
        )
        for (lot, ratio), dye, row in zip(whole.dyestuffs, said.dyes, in_bath, strict=False):
            _joined(whole.bath, "form", lot.form, dye.form)
            part = _joined(whole.bath, "part", lot.part, dye.part.strip())
            origin = _joined(whole.bath, "origin", lot.origin, dye.origin.strip())
            ratio = _joined(whole.bath, "ratio", ratio, dye.ratio)
            # Another lot, not a changed one: other baths may have been made from the same.
            lot_id = keep_lot(self._edit, replace(lot, part=part, origin=origin, id=0))
            self._edit.change(replace(row, dyestuff_lot_id=lot_id, ratio=ratio))

    def _fill_additions(self, whole: WholeBath, said: SaidBath) -> None:
        for kept, one in zip(whole.additions, said.additions, strict=False):
            for what, before, now in (
                ("addition", kept.substance, one.substance),
                ("amount added", kept.amount, one.amount),
                ("unit of an addition", kept.unit, one.unit),
            ):
                _joined(whole.bath, what, before, now)
            ph = _joined(whole.bath, "pH after an addition", kept.ph_after, one.ph_after)
            self._edit.change(replace(kept, ph_after=ph))
        for one in said.additions[len(whole.additions) :]:
            add_addition(self._edit, _addition(whole.bath.id, one))

    def _whole(self, bath_id: int) -> WholeBath:
        return whole_baths(self._edit, [bath_id])[bath_id]


def lot_of(dye: SaidDye) -> DyestuffLot:
    """The lot that a dyestuff is said to be of."""
    return DyestuffLot(dye.name.strip(), dye.part.strip(), dye.form or "dried", dye.origin.strip())


def _addition(bath_id: int, said: SaidAddition) -> Addition:
    return Addition(bath_id, said.substance.strip(), said.amount, said.unit.strip(), said.ph_after)


def _joined(bath: Bath, what: str, kept: Value, said: Value) -> Value:
    """What is kept and said together; where both say something, it must be the same."""
    if said is None or said == "":
        return kept
    if kept is None or kept == "":
        return said
    if not agree(kept, said):
        raise DyeshadeError(
            "bath_said_otherwise", bath=bath.code, what=what, kept=str(kept), said=str(said)
        )
    return kept


def _plain(code: str) -> str:
    return code.strip().casefold()
