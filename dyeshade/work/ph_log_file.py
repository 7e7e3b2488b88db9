"""Reads the file in which a bath's way to a pH is logged.

The contract is ``schemas/bath_log.schema.json``; what is wrong is said with its place in the file,
since a person may have written it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from dyeshade.bath.additives import additive, stir_in
from dyeshade.bath.ceilings import FIBRES, PROTEIN, PhRange, ph_range
from dyeshade.bath.reach.log import (
    INSTRUMENTS,
    MEASURED_SPREAD,
    WEIGHED,
    Addition,
    BathLog,
    Check,
    Instrument,
    LogStep,
    Reading,
)
from dyeshade.bath.reach.measures import GRAM, MILLILITRE, QUARTER_TEASPOON, Measure
from dyeshade.bath.water import Water, water_contents
from dyeshade.errors import DyeshadeError

Entry = Mapping[str, object]

_MOST = 1e12


@dataclass(frozen=True)
class PhLog:
    """A bath on its way, with where it shall go.

    Attributes
    ----------
    log : BathLog
    target : float
    bears : PhRange
    measures : tuple of Measure
    temperature_c : float
        Of the bath.
    """

    log: BathLog
    target: float
    bears: PhRange
    measures: tuple[Measure, ...]
    temperature_c: float


def read_ph_log(path: str | Path) -> PhLog:
    """The log in a file.

    Parameters
    ----------
    path : str or Path

    Returns
    -------
    PhLog

    Raises
    ------
    DyeshadeError
        ``ph_log_missing``, ``ph_log_unreadable`` (reason), ``ph_log_wrong`` (place, needs), all
        with path; and what `water_contents`, `additive` and `ph_range` raise.
    """
    told = str(path)
    try:
        found = json.loads(Path(path).read_text(encoding="utf-8-sig"))
    except FileNotFoundError as error:
        raise DyeshadeError("ph_log_missing", path=told) from error
    except OSError as error:
        reason = error.strerror or "the disk did not give it"
        raise DyeshadeError("ph_log_unreadable", path=told, reason=reason) from error
    except (ValueError, RecursionError) as error:
        raise DyeshadeError("ph_log_unreadable", path=told, reason="it is no JSON") from error
    return _PhLogReader(told).whole(found)


class _PhLogReader:
    """Takes a file's contents apart, and knows its path for what is wrong."""

    def __init__(self, path: str) -> None:
        self.path = path

    def whole(self, found: object) -> PhLog:
        known = {"litres", "water", "holds", "temperature_c", "fibre", "ceiling", "floor"}
        entry = self._entry(found, "the file", known | {"target", "have", "checks", "steps"})
        water = self._entry(entry.get("water", {}), "water", {"alkalinity_mg_l", "ph"})
        contents = water_contents(
            Water(
                self._number(water, "alkalinity_mg_l", "water", 0.0),
                self._number(water, "ph", "water", 7.5),
            ),
            self._number(entry, "litres", "the file"),
        )
        for place, one in self._list(entry, "holds"):
            addition = self._addition(self._entry(one, place, {"add", "percent", "amount"}), place)
            contents = stir_in(contents, addition.additive, addition.amount)
        temperature_c = self._number(entry, "temperature_c", "the file", 25.0)
        steps = [self._step(one, place) for place, one in self._list(entry, "steps")]
        if not steps or steps[0].addition is not None:
            raise self._wrong("steps", 'a first step with "read" only: the liquor as it was')
        if any(one.addition is None for one in steps[1:]):
            raise self._wrong("steps", '"add" in every step after the first')
        checks = tuple(self._check(one, place) for place, one in self._list(entry, "checks"))
        have = tuple(self._measure(one, place) for place, one in self._list(entry, "have"))
        bears = ph_range(
            self._word(entry, "fibre", "the file", FIBRES, PROTEIN),
            temperature_c,
            self._number(entry, "ceiling", "the file") if "ceiling" in entry else None,
            self._number(entry, "floor", "the file") if "floor" in entry else None,
        )
        log = BathLog(contents, tuple(steps), checks)
        return PhLog(log, self._number(entry, "target", "the file"), bears, have, temperature_c)

    def _step(self, found: object, place: str) -> LogStep:
        entry = self._entry(found, place, {"add", "percent", "amount", "measured", "read"})
        readings = tuple(self._reading(one, at) for at, one in self._list(entry, "read", place))
        if "add" not in entry:
            return LogStep(None, readings)
        return LogStep(self._addition(entry, place), readings)

    def _addition(self, entry: Entry, place: str) -> Addition:
        name = self._word(entry, "add", place)
        percent = self._number(entry, "percent", place) if "percent" in entry else None
        measured = self._word(entry, "measured", place, tuple(MEASURED_SPREAD), WEIGHED)
        amount = self._number(entry, "amount", place)
        return Addition(additive(name, percent), amount, measured)

    def _reading(self, found: object, place: str) -> Reading:
        entry = self._entry(found, place, {"ph", "with", "error", "bias"})
        return Reading(self._number(entry, "ph", place), self._instrument(entry, place))

    def _check(self, found: object, place: str) -> Check:
        entry = self._entry(found, place, {"known_ph", "ph", "with", "error", "bias"})
        reading = Reading(self._number(entry, "ph", place), self._instrument(entry, place))
        return Check(self._number(entry, "known_ph", place), reading)

    def _instrument(self, entry: Entry, place: str) -> Instrument:
        known = {one.name: one for one in INSTRUMENTS}
        usual = known[self._word(entry, "with", place, tuple(known), INSTRUMENTS[0].name)]
        return Instrument(
            usual.name,
            self._number(entry, "error", place, usual.error),
            self._number(entry, "bias", place, usual.bias),
        )

    def _measure(self, found: object, place: str) -> Measure:
        entry = self._entry(found, place, {"add", "percent", "by", "step"})
        percent = self._number(entry, "percent", place) if "percent" in entry else None
        what = additive(self._word(entry, "add", place), percent)
        kinds = (MILLILITRE,) if what.unit == "mL" else (GRAM, QUARTER_TEASPOON)
        kind = self._word(entry, "by", place, kinds, kinds[0])
        return Measure(what, kind, self._number(entry, "step", place, 1.0))

    def _entry(self, found: object, place: str, known: set[str]) -> Entry:
        if not isinstance(found, dict):
            raise self._wrong(place, "an object")
        for key in found:
            if key not in known:
                raise self._wrong(place, f'no "{key}", which means nothing there')
        return found

    def _list(self, entry: Entry, key: str, within: str = "") -> list[tuple[str, object]]:
        found = entry.get(key, [])
        place = f"{within}, {key}" if within else key
        if not isinstance(found, list):
            raise self._wrong(place, "a list")
        return [(f"{place} {number}", one) for number, one in enumerate(found, 1)]

    def _number(self, entry: Entry, key: str, place: str, usual: float | None = None) -> float:
        found = entry.get(key, usual)
        if (
            not isinstance(found, int | float)
            or isinstance(found, bool)
            # Neither NaN nor a whole number beyond what a float holds is below it.
            or not abs(found) < _MOST
        ):
            raise self._wrong(place, f'a number as "{key}"')
        return float(found)

    def _word(
        self,
        entry: Entry,
        key: str,
        place: str,
        known: tuple[str, ...] = (),
        usual: str | None = None,
    ) -> str:
        found = entry.get(key, usual)
        if not isinstance(found, str) or (known and found not in known):
            needs = f'"{key}": ' + (" or ".join(known) if known else "a name")
            raise self._wrong(place, needs)
        return found

    def _wrong(self, place: str, needs: str) -> DyeshadeError:
        return DyeshadeError("ph_log_wrong", path=self.path, place=place, needs=needs)
