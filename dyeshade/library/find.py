"""Shades asked for by the conditions of their baths."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from typing import cast

from dyeshade.library.conditions import (
    BathConditions,
    Dye,
    Tolerance,
    are_repeats,
    conditions_of,
)
from dyeshade.library.dye_records import FORMS, WHICH_PH, Piece, require
from dyeshade.library.history import History, histories
from dyeshade.library.library import Library
from dyeshade.library.readings import NEWEST
from dyeshade.library.shade_records import STATES, Reading

_SLACK = 1e-9
"""Typed bounds are decimal fractions: 0.3 asked for and 0.1 + 0.2 kept are the same."""


@dataclass(frozen=True)
class ShadeQuery:
    """What is asked for; None asks for anything. Names are whole names, upper case or lower.

    Attributes
    ----------
    dyestuff, part, form : str or None
        Of one dyestuff in any of the baths before the reading.
    ratio_least, ratio_most : float or None
        That dyestuff's weight to the fibre's (1.0 = 100 % wof).
    exhaust_number : int or None
        Of the last bath; 0 is a first bath.
    fibre, mordant : str or None
        Of the piece; "" asks for pieces of which none was written down.
    ph_least, ph_most : float or None
    ph_which : str or None
        One of `WHICH_PH`; None means the pH that acted last.
    from_day, to_day : date or None
        Days of the reading, both included.
    state : str or None
    piece : str or None
        The piece's code.
    every_version : bool
        False leaves out what a newer method has read anew from the same photo.
    """

    dyestuff: str | None = None
    part: str | None = None
    form: str | None = None
    ratio_least: float | None = None
    ratio_most: float | None = None
    exhaust_number: int | None = None
    fibre: str | None = None
    mordant: str | None = None
    ph_least: float | None = None
    ph_most: float | None = None
    ph_which: str | None = None
    from_day: date | None = None
    to_day: date | None = None
    state: str | None = None
    piece: str | None = None
    every_version: bool = False

    def __post_init__(self) -> None:
        require(self.form is None or self.form in FORMS, f"form {self.form!r}")
        require(self.state is None or self.state in STATES, f"state {self.state!r}")
        require(self.ph_which is None or self.ph_which in WHICH_PH, f"which pH {self.ph_which!r}")


@dataclass(frozen=True)
class FoundShade:
    """A reading with its piece and the conditions that it came from."""

    reading: Reading
    history: History
    conditions: BathConditions

    @property
    def bath_code(self) -> str:
        """Code of the last bath before the reading, "" where there is none."""
        steps = self.history.before(self.reading)
        codes = [step.bath.bath.code for step in steps if step.bath is not None]
        return codes[-1] if codes else ""


def find_shades(library: Library, query: ShadeQuery | None = None) -> list[FoundShade]:
    """All shades that a query asks for, in the order of their reading.

    Raises
    ------
    DyeshadeError
        As `dyeshade.library.faults.told`.
    """
    asked = query or ShadeQuery()
    if asked.piece is not None:
        asked = replace(asked, piece=next((p.code for p in library.coded(Piece, asked.piece)), ""))
    condition, values = _narrowed(asked)
    readings = library.where(Reading, condition, values, "read, id")
    return [found for found in found_shades(library, readings) if _fits(found.conditions, asked)]


def found_shades(library: Library, readings: Iterable[Reading]) -> list[FoundShade]:
    """Readings with their pieces and conditions."""
    listed = list(readings)
    known = _histories_of(library, {reading.piece_id for reading in listed})
    memo = cast(
        dict[tuple[int, tuple[int, ...]], BathConditions], library.memo.setdefault("conditions", {})
    )
    found = []
    for reading in listed:
        history = known[reading.piece_id]
        steps = history.before(reading)
        place = (reading.piece_id, tuple(step.treatment.id for step in steps))
        if place not in memo:
            memo[place] = conditions_of(history, steps)
        found.append(FoundShade(reading, history, memo[place]))
    return found


def repeats_of(
    library: Library, reading_id: int, tolerance: Tolerance | None = None
) -> list[FoundShade]:
    """Other readings in the same state, from equal conditions; those of the same piece among them.

    Raises
    ------
    DyeshadeError
        ``record_gone``
    """
    reading = library.the(Reading, reading_id)
    ours = found_shades(library, [reading])[0].conditions
    fibre, mordant = ours.fibre, ours.mordant
    dyes = ours.last_bath.dyes if ours.last_bath else ()
    dyestuff = dyes[0].name if dyes else None
    query = ShadeQuery(dyestuff=dyestuff, fibre=fibre, mordant=mordant, state=reading.state)
    return [
        found
        for found in find_shades(library, query)
        if found.reading.id != reading_id and are_repeats(ours, found.conditions, tolerance)
    ]


def _histories_of(library: Library, piece_ids: set[int]) -> dict[int, History]:
    # Another window may have saved since: its changes must not be overlooked.
    library.forget_if_changed_elsewhere()
    known = cast(dict[int, History], library.memo.setdefault("histories", {}))
    unknown = sorted(piece_ids - known.keys())
    if unknown:
        known.update(histories(library, unknown))
    return known


def _narrowed(query: ShadeQuery) -> tuple[str, list[object]]:
    """What SQL can tell by its indexes; the conditions themselves are looked at afterwards."""
    parts: list[str] = []
    values: list[object] = []

    def narrow(sql: str, *given: object) -> None:
        parts.append(sql)
        values.extend(given)

    if not query.every_version:
        narrow(NEWEST)
    if query.from_day is not None:
        narrow("read >= ?", query.from_day.isoformat())
    if query.to_day is not None:
        narrow("read <= ?", datetime.combine(query.to_day, time.max).isoformat())
    if query.state is not None:
        narrow("state = ?", query.state)
    if query.piece is not None:
        narrow("piece_id = (SELECT id FROM piece WHERE code = ?)", query.piece.strip())
    for column, name in (("fibre_lot", query.fibre), ("mordant", query.mordant)):
        if name == "":
            narrow(f"piece_id IN (SELECT id FROM piece WHERE {column}_id IS NULL)")
        elif name is not None and name.isascii():
            # SQLite knows no other small letters than those of ASCII: others are looked at later.
            narrow(
                f"piece_id IN (SELECT piece.id FROM {column} AS made JOIN piece"
                f" ON piece.{column}_id = made.id WHERE made.name = ? COLLATE NOCASE)",
                name.strip(),
            )
    if query.dyestuff is not None and query.dyestuff.isascii():
        narrow(
            "piece_id IN (SELECT piece_id FROM dyestuff_lot JOIN bath_dyestuff"
            " ON dyestuff_lot_id = dyestuff_lot.id JOIN treatment USING (bath_id)"
            " WHERE dyestuff_lot.name = ? COLLATE NOCASE)",
            query.dyestuff.strip(),
        )
    if query.exhaust_number is not None:
        narrow(
            "piece_id IN (SELECT piece_id FROM bath JOIN treatment ON bath_id = bath.id"
            " WHERE exhaust_number = ?)",
            query.exhaust_number,
        )
    if query.ph_least is not None or query.ph_most is not None:
        least = 0.0 if query.ph_least is None else query.ph_least - _SLACK
        most = 14.0 if query.ph_most is None else query.ph_most + _SLACK
        narrow(_PH_READ, *(least, most, query.ph_which) * 2, least, most)
    return " AND ".join(parts) or "1", values


_PH_READ = """piece_id IN (
    SELECT piece_id FROM ph_reading JOIN treatment ON treatment.id = treatment_id
        WHERE ph BETWEEN ? AND ? AND which = ifnull(?, which)
    UNION SELECT piece_id FROM ph_reading JOIN treatment USING (bath_id)
        WHERE ph BETWEEN ? AND ? AND which = ifnull(?, which)
    UNION SELECT piece_id FROM addition JOIN treatment USING (bath_id)
        WHERE ph_after BETWEEN ? AND ?)"""
"""SQL: a pH within bounds was read of the piece or of a bath that it was in."""


def _fits(conditions: BathConditions, query: ShadeQuery) -> bool:
    if query.exhaust_number is not None:
        last = conditions.last_bath
        if last is None or last.exhaust_number != query.exhaust_number:
            return False
    for asked, name in ((query.fibre, conditions.fibre), (query.mordant, conditions.mordant)):
        if asked is not None and asked.strip().casefold() != name.casefold():
            return False
    of_dye = (query.dyestuff, query.part, query.form, query.ratio_least, query.ratio_most)
    if any(one is not None for one in of_dye):
        dyes = (dye for bath in conditions.baths for dye in bath.dyes)
        if not any(_dye_fits(dye, query) for dye in dyes):
            return False
    if query.ph_least is None and query.ph_most is None and query.ph_which is None:
        return True
    return _between(conditions.ph(query.ph_which), query.ph_least, query.ph_most)


def _dye_fits(dye: Dye, query: ShadeQuery) -> bool:
    for asked, name in ((query.dyestuff, dye.name), (query.part, dye.part)):
        if asked is not None and asked.strip().casefold() != name.casefold():
            return False
    if query.form is not None and dye.form != query.form:
        return False
    if query.ratio_least is None and query.ratio_most is None:
        return True
    return _between(dye.ratio, query.ratio_least, query.ratio_most)


def _between(value: float | None, least: float | None, most: float | None) -> bool:
    if value is None:
        return False
    above = least is None or value >= least - _SLACK
    return above and (most is None or value <= most + _SLACK)
