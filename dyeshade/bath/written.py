"""Lines as a dyer writes them down, read into values: "weld dried 2:1", "alum 15 % on wool"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from dyeshade.bath.fibres import GROUPS, find_fibre
from dyeshade.bath.pots import MATERIALS, Pot
from dyeshade.bath.quantities import parse_volume, parse_weight
from dyeshade.bath.ratios import parse_ratio
from dyeshade.bath.recipe import DRIED, FORMS, DyestuffShare, PieceInPot, SubstanceShare
from dyeshade.bath.substances import UsualRange, find_substance
from dyeshade.errors import DyeshadeError

_QUANTITY = re.compile(
    r"(?:^|\s)(?=[-−+]?\s?[.,]?[0-9¼½¾⅓⅔⅛⅜⅝⅞]|(?:half|one|two|three|four|five|six|seven|eight|nine|ten)"
    r"\s+to\s)",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class DyestuffAtHand:
    """A weight of a dyestuff, or its yield: what was written of it by name."""

    name: str
    form: str
    number: float


def parse_piece(text: str) -> PieceInPot:
    """A piece as "wool 240 g" or "W-014: wool 240 g".

    Raises
    ------
    DyeshadeError
        ``line_incomplete`` (text, example), ``fibre_unknown``, or as `quantities.parse_weight`.
    """
    name, colon, rest = text.rpartition(":")
    fibre, weight = _halves(rest if colon else text, text, "wool 240 g")
    return PieceInPot(find_fibre(fibre).name, parse_weight(weight).value, name.strip())


def parse_dyestuff(text: str) -> DyestuffShare:
    """A dyestuff as "weld dried 2:1", "weld two to one" or "cochineal 8 %".

    Raises
    ------
    DyeshadeError
        ``line_incomplete``, or as `ratios.parse_ratio`.
    """
    named, ratio = _halves(text, text, "weld dried 2:1")
    name, form = _form(named)
    return DyestuffShare(name, parse_ratio(ratio), form)


def parse_at_hand(text: str) -> DyestuffAtHand:
    """A weight of a dyestuff as "weld fresh 1.5 kg".

    Raises
    ------
    DyeshadeError
        ``line_incomplete``, or as `quantities.parse_weight`.
    """
    named, weight = _halves(text, text, "weld dried 400 g")
    return DyestuffAtHand(*_form(named), parse_weight(weight).value)


def parse_yield(text: str) -> DyestuffAtHand:
    """A yield as "weld dried 20 %": what is dried of fresh; "... extract 10 %": of dried.

    Raises
    ------
    DyeshadeError
        ``line_incomplete``, ``yield_above_all`` (text), or as `ratios.parse_ratio`.
    """
    named, share = _halves(text, text, "weld dried 20 %")
    found = parse_ratio(share, alone="percent")
    if found > 1:
        raise DyeshadeError("yield_above_all", text=text)
    return DyestuffAtHand(*_form(named), found)


def parse_substance(text: str) -> SubstanceShare:
    """A mordant or assistant as "alum 15 %" or "alum 15 % on wool".

    Raises
    ------
    DyeshadeError
        ``line_incomplete``, ``fibre_unknown``, or as `ratios.parse_ratio`.
    """
    before, on = _on(text)
    name, share = _halves(before, text, "alum 15 % on wool")
    return SubstanceShare(name, parse_ratio(share, alone="percent"), on)


def parse_usual(text: str) -> UsualRange:
    """A dyer's own range as "alum 8 to 12 % on wool".

    Raises
    ------
    DyeshadeError
        ``line_incomplete``, ``fibre_unknown``, or as `ratios.parse_ratio`.
    """
    example = "alum 8 to 12 % on wool"
    before, on = _on(text)
    name, span = _halves(before, text, example)
    low, joined, high = span.partition(" to ")
    if not joined:
        raise DyeshadeError("line_incomplete", text=text, example=example)
    known = find_substance(name)
    bounds = sorted(parse_ratio(one, alone="percent") for one in (low, high))
    return UsualRange(name if known is None else known.name, on, bounds[0], bounds[1], own=True)


def parse_pot(text: str) -> Pot:
    """A pot as "10 L", "3 US gal" or "enamel 10 L".

    Raises
    ------
    DyeshadeError
        ``pot_material_unknown`` (material, accepted), or as `quantities.parse_volume`.
    """
    match = _QUANTITY.search(text)
    material = " ".join(text[: match.start()].lower().split()) if match else ""
    volume = parse_volume(text[match.end() :] if match else text).value
    if material and material not in MATERIALS:
        raise DyeshadeError("pot_material_unknown", material=material, accepted=MATERIALS)
    return Pot(volume, material)


def _halves(text: str, whole: str, example: str) -> tuple[str, str]:
    """The name in front, and the quantity behind it."""
    match = _QUANTITY.search(text)
    if match is None or not text[: match.start()].strip():
        raise DyeshadeError("line_incomplete", text=whole, example=example)
    return " ".join(text[: match.start()].split()), text[match.end() :]


def _on(text: str) -> tuple[str, str]:
    """What stands before "on", and the kind or group of fibre behind it."""
    before, joined, on = text.rpartition(" on ")
    if not joined:
        return text, ""
    meant = on.strip().lower()
    return before, meant if meant in GROUPS else find_fibre(meant).name


def _form(named: str) -> tuple[str, str]:
    words = named.split()
    if len(words) > 1 and words[-1].lower() in FORMS:
        return " ".join(words[:-1]), words[-1].lower()
    return named, DRIED
