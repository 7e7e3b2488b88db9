"""What a dyer types for a weight, a volume or a temperature, as a number in SI.

"1 lb 4 oz", "2.5 kg", "1,5 kg", "3 1/2 tsp", "250", "140 F". What cannot be understood is refused
with what is wrong, where it stands in the text and what would be understood.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from fractions import Fraction

from dyeshade.bath.units import (
    BY_SYMBOL,
    METRIC,
    SPOON_WORDS,
    TEMPERATURE,
    VOLUME,
    WEIGHT,
    Unit,
    accepted,
    find_unit,
    in_si,
    spellings,
)
from dyeshade.errors import DyeshadeError

MOST = {WEIGHT: 1_000_000, VOLUME: 100_000}
"""Grams and litres beyond which a slip of the finger is more likely than a dye house."""
BATH_C = (0.0, 105.0)
"""Degrees C between which a bath is liquid and in an open pot."""

_FRACTIONS = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_GLYPHS = "".join(_FRACTIONS)
_NUMBER = re.compile(
    rf"(?P<sign>[-−–+]?)\s*"
    rf"(?P<number>[0-9]+(?:\s*-\s*|\s+)[0-9]+\s*/\s*[0-9]+|[0-9]+\s*/\s*[0-9]+"
    rf"|[0-9]+\s*[{_GLYPHS}]|[{_GLYPHS}]|[.,]?[0-9][0-9.,]*)"
)
_UNIT = re.compile(rf"[^0-9{_GLYPHS}]*?(?=\s*[-−–+]?\s*[0-9{_GLYPHS}]|\s+[.,][0-9]|$)")
_JOINING = re.compile(r"\s*(?:,|\+|&|\band)\s*$", re.IGNORECASE)
_LONGEST = 24


@dataclass(frozen=True)
class Quantity:
    """A quantity that was typed.

    Attributes
    ----------
    value : float
        Grams, litres or degrees C.
    exact : Fraction
        The same without rounding.
    unit : Unit
        In which it was written; the first where there are several, as in "1 lb 4 oz".
    unit_written : bool
        False where a number stood alone and the unit was taken for granted.
    """

    value: float
    exact: Fraction
    unit: Unit
    unit_written: bool


def parse_weight(text: str, unit: str = "g", zero: bool = False) -> Quantity:
    """A weight in grams.

    Parameters
    ----------
    text : str
    unit : str
        Symbol of the unit of a number that stands alone.
    zero : bool
        Whether nothing at all is an answer.

    Raises
    ------
    DyeshadeError
        ``quantity_missing``, ``quantity_no_number``, ``quantity_bad_number``,
        ``quantity_comma_unsure``, ``quantity_negative``, ``quantity_zero``,
        ``quantity_too_large``, ``quantity_unit_unknown``, ``quantity_unit_missing``,
        ``quantity_unit_order``, ``quantity_other_kind``. Facts: text, position
        (from 0) and length of the trouble in it, and what the sentence needs.
    """
    return _amount(text, WEIGHT, unit, zero, None)


def parse_volume(
    text: str, unit: str = "L", zero: bool = False, spoons: str | None = None
) -> Quantity:
    """A volume in litres; `spoons` says which ones the dyer has, "metric" or "us".

    Raises
    ------
    DyeshadeError
        As `parse_weight`; ``quantity_which_spoon`` for a "tsp" where `spoons` is not known.
    """
    return _amount(text, VOLUME, unit, zero, spoons)


def parse_temperature(text: str, unit: str = "°C") -> Quantity:
    """A temperature of a bath in degrees C.

    Raises
    ------
    DyeshadeError
        As `parse_weight`; ``quantity_no_bath_temperature`` for ice and for steam.
    """
    parts = _parts(text, TEMPERATURE, None)
    if len(parts) > 1:
        raise DyeshadeError(
            "quantity_bad_number", **_at(text, parts[1].start, len(text)), written=text
        )
    part = parts[0]
    used = part.unit or BY_SYMBOL[unit]
    celsius = in_si(part.number, used)
    if not BATH_C[0] <= celsius <= BATH_C[1]:
        low, high = (float((Fraction(limit) - used.zero) / used.factor) for limit in BATH_C)
        raise DyeshadeError(
            "quantity_no_bath_temperature",
            **_at(text, part.start, len(text)),
            symbol=used.symbol,
            low=round(low),
            high=round(high),
        )
    return Quantity(float(celsius), celsius, used, part.unit is not None)


def parse_number(text: str) -> Fraction:
    """A number alone: "2", "0,5", "1 1/2".

    Raises
    ------
    DyeshadeError
        As `parse_weight`.
    """
    stripped = _told(text)
    match = _NUMBER.match(text, len(text) - len(text.lstrip()))
    if match is None:
        raise DyeshadeError("quantity_no_number", **_at(text, 0, len(text)))
    if match.end() != len(text.rstrip()):
        raise DyeshadeError(
            "quantity_bad_number", **_at(text, match.end(), len(text)), written=stripped
        )
    number = _value(text, match)
    if number < 0:
        raise DyeshadeError("quantity_negative", **_at(text, match.start(), match.end()))
    return number


@dataclass(frozen=True)
class _Part:
    number: Fraction
    unit: Unit | None
    start: int
    end: int


def _amount(text: str, kind: str, unit: str, zero: bool, spoons: str | None) -> Quantity:
    parts = _parts(text, kind, spoons)
    total = Fraction(0)
    before: Unit | None = None
    for part in parts:
        used = part.unit or BY_SYMBOL[unit]
        if part.unit is None and len(parts) > 1:
            raise DyeshadeError(
                "quantity_unit_missing",
                **_at(text, part.start, part.end),
                written=text[part.start : part.end],
                accepted=accepted(kind),
            )
        if part.number < 0:
            raise DyeshadeError("quantity_negative", **_at(text, part.start, part.end))
        if before is not None and used.factor >= before.factor:
            raise DyeshadeError(
                "quantity_unit_order",
                **_at(text, part.start, part.end),
                unit=used.symbol,
                before=before.symbol,
            )
        before = used
        total += in_si(part.number, used)
    first = parts[0].unit or BY_SYMBOL[unit]
    start, end = parts[0].start, parts[-1].end
    if total == 0 and not zero:
        raise DyeshadeError("quantity_zero", **_at(text, start, end))
    if total > MOST[kind]:
        raise DyeshadeError(
            "quantity_too_large",
            **_at(text, start, end),
            kind=kind,
            most=MOST[kind] // 1000 if kind == WEIGHT else MOST[kind],
        )
    return Quantity(float(total), total, first, parts[0].unit is not None)


def _parts(text: str, kind: str, spoons: str | None) -> list[_Part]:
    _told(text)
    end_of_text = len(text.rstrip())
    at = len(text) - len(text.lstrip())
    parts: list[_Part] = []
    while at < end_of_text:
        match = _NUMBER.match(text, at)
        if match is None:
            raise DyeshadeError("quantity_no_number", **_at(text, at, end_of_text))
        number = _value(text, match)
        follows = _UNIT.match(text, match.end())
        assert follows is not None
        written = _JOINING.sub("", follows.group())
        unit_at = match.end() + len(written) - len(written.lstrip())
        written = written.strip()
        unit = _unit(text, written, unit_at, kind, spoons) if written else None
        parts.append(_Part(number, unit, match.start(), unit_at + len(written)))
        at = follows.end()
        at += len(text[at:]) - len(text[at:].lstrip())
    return parts


def _unit(text: str, written: str, at: int, kind: str, spoons: str | None) -> Unit:
    unit = find_unit(written, kind, spoons)
    if unit is not None:
        return unit
    end = at + len(written)
    if kind == VOLUME and written.lower().rstrip(".") in SPOON_WORDS:
        raise DyeshadeError(
            "quantity_which_spoon",
            **_at(text, at, end),
            spoon=SPOON_WORDS[written.lower().rstrip(".")],
        )
    for other in (WEIGHT, VOLUME, TEMPERATURE):
        if find_unit(written, other, METRIC) is not None:
            raise DyeshadeError(
                "quantity_other_kind",
                **_at(text, at, end),
                unit=written,
                kind=kind,
                other=other,
                accepted=accepted(kind),
            )
    near = difflib.get_close_matches(written.lower(), spellings(kind), n=1, cutoff=0.6)
    close = find_unit(near[0], kind) if near else None
    raise DyeshadeError(
        "quantity_unit_unknown",
        **_at(text, at, end),
        unit=written[:_LONGEST],
        accepted=accepted(kind),
        near=None if close is None else close.symbol,
    )


def _value(text: str, match: re.Match[str]) -> Fraction:
    written = match["number"]
    for glyph, spelled in _FRACTIONS.items():
        written = written.replace(glyph, " " + spelled)
    try:
        if len(written) > _LONGEST:
            raise ValueError(written)
        if "/" in written:
            whole, _, part = (
                re.sub(r"\s*/\s*", "/", written).strip().replace("-", " ").rpartition(" ")
            )
            number = Fraction(whole.strip() or 0) + Fraction(part)
        else:
            number = Fraction(_with_point(text, written, match.start("number")))
    except (ValueError, ZeroDivisionError):
        raise DyeshadeError(
            "quantity_bad_number",
            **_at(text, match.start(), match.end()),
            written=match["number"][:_LONGEST],
        ) from None
    return -number if match["sign"] in ("-", "−", "–") else number


def _with_point(text: str, written: str, at: int) -> str:
    """The number with a decimal point, whichever of comma and point its writer uses."""
    if re.fullmatch(r"[1-9][0-9]{0,2}(,[0-9]{3})+\.[0-9]+", written):
        return written.replace(",", "")
    if re.fullmatch(r"[1-9][0-9]{0,2}(\.[0-9]{3})+,[0-9]+", written):
        return written.replace(".", "").replace(",", ".")
    if re.fullmatch(r"[1-9][0-9]{0,2}(,[0-9]{3})+", written):
        # A thousand to some, and one to others.
        raise DyeshadeError(
            "quantity_comma_unsure",
            **_at(text, at, at + len(written)),
            written=written,
            decimal=written.replace(",", "."),
            thousands=written.replace(",", ""),
        )
    return written.replace(",", ".")


def _told(text: str) -> str:
    stripped = text.strip()
    if not stripped:
        raise DyeshadeError("quantity_missing", text=text, position=0, length=0)
    return stripped


def _at(text: str, start: int, end: int) -> dict[str, object]:
    return {"text": text, "position": start, "length": max(0, end - start)}
