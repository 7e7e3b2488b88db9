"""Words of the trade for what records name in code: states, treatments, forms, which pH."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

STATES: Mapping[str, str] = {
    "wet": "wet",
    "dry": "dry",
    "after_rinse": "after a rinse, dry",
    "after_wash": "after a wash, dry",
    "after_light": "after light",
}
"""Words for each of `dyeshade.library.shade_records.STATES`."""

FORMS: Mapping[str, str] = {"fresh": "fresh", "dried": "dried", "extract": "extract"}
"""Words for each of `dyeshade.library.dye_records.FORMS`."""

TREATMENTS: Mapping[str, str] = {
    "scour": "scour",
    "tannin": "tannin",
    "mordant": "mordant",
    "bath": "bath",
    "dip": "dip",
    "overdye": "overdye",
    "afterbath": "afterbath",
    "rinse": "rinse",
    "wash": "wash",
    "light": "light",
    "rest": "rest",
}
"""Words for each of `dyeshade.library.dye_records.TREATMENTS`."""

WHICH_PH: Mapping[str, str] = {
    "extraction": "of the extraction",
    "bath_start": "of the bath at start",
    "bath_end": "of the bath at end",
    "after": "of the afterbath or dip",
    "rinse": "of the rinse water",
}
"""Words for each of `dyeshade.library.dye_records.WHICH_PH`, after "pH"."""

WHICH_PH_SHORT: Mapping[str, str] = {
    "extraction": "extraction",
    "bath_start": "bath, start",
    "bath_end": "bath, end",
    "after": "afterbath",
    "rinse": "rinse",
}
"""The same, short enough for a table."""

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def day_words(day: date) -> str:
    """A day as in "12 March 2026"."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def exhaust_words(number: int) -> str:
    """Which bath in one liquor: "first bath", "exhaust bath 1"."""
    return "first bath" if number == 0 else f"exhaust bath {number}"


def percent_words(ratio: float) -> str:
    """A ratio to the fibre as in "100 % wof"."""
    return f"{100 * ratio:.4g} % wof"


def ph_words(ph: float) -> str:
    """A pH as in "8.5", or "8.25" where it was read so."""
    return f"{ph:.2f}".rstrip("0") if round(ph, 2) != round(ph, 1) else f"{ph:.1f}"


def bath_called(code: str) -> str:
    """A bath after its code as in "bath D-7"; "bath-007" says itself what it is."""
    return code if code.lower().startswith("bath") else f"bath {code}"


def first_capital(words: str) -> str:
    """Words as they begin a line; the rest stays, as codes have capitals of their own."""
    return words[:1].upper() + words[1:]


def treatment_in(kind: str, code: str) -> str:
    """A treatment in a bath as in "overdye bath-007"."""
    return bath_called(code) if kind == "bath" else f"{TREATMENTS[kind]} {code}"


def listed(words: list[str], last: str = "and") -> str:
    """Words as in "lighter, redder and yellower"."""
    return f" {last} ".join(filter(None, (", ".join(words[:-1]), words[-1]))) if words else ""
