"""Reads the file that tells of many pieces and baths at once.

The contract is ``schemas/pieces.schema.json``; what is wrong is said with its place in the file,
since a person may have written it.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import FORMS, IN_A_BATH, TREATMENTS, WHICH_PH, wall_time
from dyeshade.library.shade_records import STATES
from dyeshade.work.pieces_said import PiecesSaid, SampleSaid
from dyeshade.work.said import Said, SaidAddition, SaidBath, SaidDye, SaidTreatment

_WITH_A_PH = ("afterbath", "dip", "rinse")


def read_pieces(path: str | Path) -> PiecesSaid:
    """Samples and baths of a pieces file.

    Parameters
    ----------
    path : str or Path

    Returns
    -------
    PiecesSaid

    Raises
    ------
    DyeshadeError
        ``pieces_missing``, ``pieces_unreadable`` (reason), ``pieces_not_json`` (line, column),
        ``pieces_unknown`` (key, place), ``pieces_lacks`` (key, place), ``pieces_wrong`` (key,
        place, wanted), ``pieces_twice`` (what); all carry path.
    """
    contents = _contents(Path(path), str(path))
    return _Reading(str(path)).whole(contents)


def _contents(path: Path, told: str) -> object:
    try:
        return json.loads(path.read_text(encoding="utf-8-sig"))
    except FileNotFoundError as error:
        raise DyeshadeError("pieces_missing", path=told) from error
    except OSError as error:
        reason = error.strerror or "the disk did not give it"
        raise DyeshadeError("pieces_unreadable", path=told, reason=reason) from error
    except UnicodeDecodeError as error:
        raise DyeshadeError("pieces_unreadable", path=told, reason="it is no text") from error
    except json.JSONDecodeError as error:
        raise DyeshadeError(
            "pieces_not_json", path=told, line=error.lineno, column=error.colno
        ) from error
    except (RecursionError, ValueError) as error:
        # Nested, or with a number, beyond what the parser takes.
        raise DyeshadeError("pieces_unreadable", path=told, reason="its JSON is odd") from error


class _Wrong(Exception):  # noqa: N818 - not told to anybody as it is
    """A value that is not what is wanted there; says what is."""


Take = Callable[[object], Any]
_MOST = 1e6


def _text(value: object) -> str:
    if isinstance(value, str) and value.strip() and value.isprintable():
        return value.strip()
    raise _Wrong("a text in one line")


def _number(least: float, most: float, wanted: str, above: bool = False) -> Take:
    def take(value: object) -> float:
        # JSON as Python reads it also knows true and NaN.
        if isinstance(value, int | float) and not isinstance(value, bool):
            number = float(value) if abs(value) < _MOST else math.inf
            if least <= number <= most and not (above and number == least):
                return number
        raise _Wrong(wanted)

    return take


def _one_of(choices: tuple[str, ...]) -> Take:
    def take(value: object) -> str:
        if isinstance(value, str) and value in choices:
            return value
        raise _Wrong(f"one of {', '.join(choices)}")

    return take


def _time(value: object) -> datetime:
    try:
        return wall_time(datetime.fromisoformat(str(value)))
    except ValueError as error:
        raise _Wrong("a time, as 2025-03-14T11:20") from error


_ABOVE_0 = _number(0.0, _MOST, "a number above 0", above=True)
_FROM_0 = _number(0.0, _MOST, "a number from 0 on")
_PH = _number(0.0, 14.0, "a pH from 0 to 14")
_CELSIUS = _number(-50.0, 300.0, "degrees Celsius")

_DYE: Mapping[str, Take] = {
    "name": _text,
    "part": _text,
    "form": _one_of(FORMS),
    "ratio": _ABOVE_0,
    "origin": _text,
}
_ADDITION: Mapping[str, Take] = {
    "substance": _text,
    "amount": _FROM_0,
    "unit": _text,
    "ph_after": _PH,
}
_PHS: Mapping[str, Take] = dict.fromkeys(WHICH_PH[:3], _PH)
_BATH: Mapping[str, Take] = {
    "code": _text,
    "exhaust_of": _text,
    "started": _time,
    "water": _text,
    "vessel": _text,
    "liquor_ratio": _ABOVE_0,
    "temperature_c": _CELSIUS,
    "minutes": _FROM_0,
    "note": _text,
}
_TREATMENT: Mapping[str, Take] = {
    "kind": _one_of(TREATMENTS),
    "bath": _text,
    "substance": _text,
    "amount": _FROM_0,
    "unit": _text,
    "started": _time,
    "minutes": _FROM_0,
    "temperature_c": _CELSIUS,
    "ph": _PH,
    "note": _text,
}
_SAID: Mapping[str, Take] = {
    "piece": _text,
    "name": _text,
    "fibre": _text,
    "fibre_make": _text,
    "mordant": _text,
    "mordant_percent_wof": _FROM_0,
    "weight_g": _ABOVE_0,
    "bath": _text,
    "state": _one_of(STATES),
    "read": _time,
    "note": _text,
}


class _Reading:
    """One file being read; knows its name for what is wrong in it."""

    def __init__(self, path: str) -> None:
        self._path = path

    def whole(self, contents: object) -> PiecesSaid:
        file = self._object(contents, "the file", {"note", "baths", "samples"})
        if "samples" not in file:
            raise DyeshadeError("pieces_lacks", path=self._path, key="samples", place="the file")
        samples = self._list(file, "samples", "the file")
        baths = self._list(file, "baths", "the file")
        read = PiecesSaid(
            tuple(self._sample(one, f"sample {k}") for k, one in enumerate(samples, 1)),
            tuple(self._bath(one, f"bath {k}") for k, one in enumerate(baths, 1)),
        )
        self._once([(one.photo, one.sample) for one in read.samples])
        self._once([one.code.casefold() for one in read.baths])
        return read

    def _sample(self, entry: object, place: str) -> SampleSaid:
        fields: dict[str, Take] = {"sample": _text, "photo": _text, **_SAID}
        read, more = self._fields(entry, place, fields, {"treatments"}, ("sample",))
        treatments = self._list(more, "treatments", place)
        steps = tuple(
            self._treatment(one, f"treatment {k} of {place}") for k, one in enumerate(treatments, 1)
        )
        sample, photo = read.pop("sample"), read.pop("photo", "")
        return SampleSaid(sample, Said(treatments=steps, **read), photo)

    def _treatment(self, entry: object, place: str) -> SaidTreatment:
        read, _ = self._fields(entry, place, _TREATMENT, set(), ("kind",))
        kind = read["kind"]
        for key, kinds in (("bath", IN_A_BATH), ("ph", _WITH_A_PH)):
            if key in read and kind not in kinds:
                raise DyeshadeError(
                    "pieces_wrong",
                    path=self._path,
                    key="kind",
                    place=place,
                    wanted=f"one of {', '.join(kinds)}, since it has a {key}",
                )
        return SaidTreatment(**read)

    def _bath(self, entry: object, place: str) -> SaidBath:
        more_keys = {"dyestuffs", "additions", "ph"}
        read, more = self._fields(entry, place, _BATH, more_keys, ("code",))
        dyes = [
            SaidDye(**self._fields(one, f"dyestuff {k} of {place}", _DYE, set(), ("name",))[0])
            for k, one in enumerate(self._list(more, "dyestuffs", place), 1)
        ]
        needed = ("substance", "amount", "unit")
        additions = [
            SaidAddition(
                **self._fields(one, f"addition {k} of {place}", _ADDITION, set(), needed)[0]
            )
            for k, one in enumerate(self._list(more, "additions", place), 1)
        ]
        phs, _ = self._fields(more.get("ph", {}), f"ph of {place}", _PHS, set(), ())
        return SaidBath(
            dyes=tuple(dyes), additions=tuple(additions), phs=tuple(phs.items()), **read
        )

    def _fields(
        self,
        entry: object,
        place: str,
        fields: Mapping[str, Take],
        more: set[str],
        needed: tuple[str, ...],
    ) -> tuple[dict[str, Any], dict[str, object]]:
        """Values that `fields` takes from an entry, and what is left for `more`."""
        given = self._object(entry, place, {*fields, *more})
        for key in needed:
            if key not in given:
                raise DyeshadeError("pieces_lacks", path=self._path, key=key, place=place)
        read = {}
        for key, value in given.items():
            if key in more:
                continue
            try:
                read[key] = fields[key](value)
            except _Wrong as wrong:
                raise DyeshadeError(
                    "pieces_wrong", path=self._path, key=key, place=place, wanted=str(wrong)
                ) from wrong
        return read, {key: given[key] for key in given if key in more}

    def _object(self, entry: object, place: str, known: set[str]) -> dict[str, object]:
        if not isinstance(entry, dict):
            raise DyeshadeError(
                "pieces_wrong", path=self._path, key=place, place="it", wanted="an object"
            )
        for key in entry:
            if key not in known:
                raise DyeshadeError("pieces_unknown", path=self._path, key=key, place=place)
        return entry

    def _list(self, entry: Mapping[str, object], key: str, place: str) -> list[object]:
        value = entry.get(key, [])
        if not isinstance(value, list):
            raise DyeshadeError(
                "pieces_wrong", path=self._path, key=key, place=place, wanted="a list"
            )
        return value

    def _once(self, names: list[Any]) -> None:
        for name in names:
            if names.count(name) > 1:
                what = name if isinstance(name, str) else " ".join(part for part in name if part)
                raise DyeshadeError("pieces_twice", path=self._path, what=what)
