"""Reads what a dyer types for a bath into values.

Each trouble is named by its field, as "pieces.0.weight", to be answered beside it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

from dyeshade.bath.fibres import GROUPS, find_fibre
from dyeshade.bath.pots import Pot
from dyeshade.bath.quantities import (
    parse_number,
    parse_temperature,
    parse_volume,
    parse_weight,
)
from dyeshade.bath.ratios import parse_liquor_ratio, parse_ratio
from dyeshade.bath.recipe import DyestuffShare, PieceInPot, Recipe, SubstanceShare
from dyeshade.bath.substances import find_substance
from dyeshade.bath.water import check_ph
from dyeshade.errors import DyeshadeError
from dyeshade.work.bath_typed import TypedBath, is_blank

T = TypeVar("T")


@dataclass(frozen=True)
class Wrong:
    """A field that cannot be read, and why."""

    field: str
    error: DyeshadeError


@dataclass(frozen=True)
class ReadStep:
    """A step of the day in values."""

    treatment: str
    what: str
    temperature_c: float | None
    minutes: float | None


@dataclass(frozen=True)
class ReadBath:
    """What was typed, in values; what cannot be read is left out and stands in `wrong`.

    Attributes
    ----------
    code : str
    pieces : tuple of PieceInPot
    recipe : Recipe
    pot : Pot or None
    left_share : float or None
    taken : dict of str to float
        Grams, of water litres.
    steps : tuple of ReadStep
    wrong : tuple of Wrong
    """

    code: str
    pieces: tuple[PieceInPot, ...]
    recipe: Recipe
    pot: Pot | None
    left_share: float | None
    taken: dict[str, float]
    steps: tuple[ReadStep, ...]
    wrong: tuple[Wrong, ...]


class TypedReader:
    """Reads texts one after the other and notes what is wrong with them."""

    def __init__(self) -> None:
        self.wrong: list[Wrong] = []

    def read(self, field: str, text: str, parse: Callable[[str], T]) -> T | None:
        """The value of a field; None where nothing was typed or it cannot be read."""
        return self.need(field, text, parse) if text.strip() else None

    def need(self, field: str, text: str, parse: Callable[[str], T]) -> T | None:
        """The value of a field that must not be empty."""
        try:
            return parse(text)
        except DyeshadeError as error:
            self.wrong.append(Wrong(field, error))
        return None

    def name(self, field: str, text: str) -> str:
        """A name that must be there."""
        if not text.strip():
            self.wrong.append(Wrong(field, DyeshadeError("name_needed")))
        return " ".join(text.split())


def parse_share(text: str) -> float:
    """A share of something of which no more than all is left. Raises as `parse_ratio`."""
    share = parse_ratio(text, alone="percent")
    if share > 1:
        raise DyeshadeError("yield_above_all", text=text)
    return share


def parse_ph(text: str) -> float:
    """A pH.

    Raises
    ------
    DyeshadeError
        ``ph_off_scale``, or as `parse_number`.
    """
    ph = float(parse_number(text))
    check_ph(ph)
    return ph


def parse_positive(text: str) -> float:
    """A number alone. Raises as `parse_number`."""
    return float(parse_number(text))


def read_typed(typed: TypedBath) -> ReadBath:
    """Read everything that is typed for a bath but what concerns its pH."""
    reader = TypedReader()
    code = reader.name("code", typed.code)
    pieces = _pieces(reader, typed)
    recipe = Recipe(
        _dyes(reader, typed),
        _substances(reader, typed),
        reader.read("liquor", typed.liquor, parse_liquor_ratio),
    )
    litres = reader.read("pot", typed.pot, lambda text: parse_volume(text).value)
    left = None
    if typed.exhaust_of:
        left = reader.need("left", typed.left, parse_share)
    taken: dict[str, float] = {}
    for key, text in typed.taken:
        value = reader.read(f"taken.{key}", text, partial(_taken, key))
        if value is not None:
            taken[key] = value
    return ReadBath(
        code,
        pieces,
        recipe,
        None if litres is None else Pot(litres, typed.material),
        left,
        taken,
        _steps(reader, typed),
        tuple(reader.wrong),
    )


def _taken(key: str, text: str) -> float:
    parse = parse_volume if key.startswith("water|") else parse_weight
    return parse(text, zero=True).value


def _pieces(reader: TypedReader, typed: TypedBath) -> tuple[PieceInPot, ...]:
    found = []
    seen: set[str] = set()
    for place, row in enumerate(typed.pieces):
        if is_blank(row, ("fibre",)):
            continue
        code = row.code.strip()
        if code and code.casefold() in seen:
            error = DyeshadeError("piece_twice", piece=code)
            reader.wrong.append(Wrong(f"pieces.{place}.code", error))
        seen.add(code.casefold())
        fibre = reader.need(f"pieces.{place}.fibre", row.fibre, find_fibre)
        weight = reader.need(f"pieces.{place}.weight", row.weight, parse_weight)
        if fibre is not None and weight is not None:
            found.append(PieceInPot(fibre.name, weight.value, code))
    return tuple(found)


def _dyes(reader: TypedReader, typed: TypedBath) -> tuple[DyestuffShare, ...]:
    found = []
    for place, row in enumerate(typed.dyes):
        if is_blank(row):
            continue
        name = reader.name(f"dyes.{place}.name", row.name)
        ratio = reader.need(f"dyes.{place}.ratio", row.ratio, parse_ratio)
        if name and ratio is not None:
            found.append(DyestuffShare(name, ratio, row.form))
    return tuple(found)


def _substances(reader: TypedReader, typed: TypedBath) -> tuple[SubstanceShare, ...]:
    found = []
    for place, row in enumerate(typed.substances):
        if is_blank(row):
            continue
        name = reader.name(f"substances.{place}.name", row.name)
        # Chrome is refused where it is typed.
        reader.read(f"substances.{place}.name", name, find_substance)
        share = reader.need(
            f"substances.{place}.share", row.share, lambda text: parse_ratio(text, alone="percent")
        )
        on = reader.read(f"substances.{place}.on", row.on, _on)
        if name and share is not None:
            found.append(SubstanceShare(name, share, on or ""))
    if any(wrong.error.code == "mordant_not_supported" for wrong in reader.wrong):
        return ()
    return tuple(found)


def _on(text: str) -> str:
    word = text.strip().lower()
    return word if word in GROUPS else find_fibre(word).name


def _steps(reader: TypedReader, typed: TypedBath) -> tuple[ReadStep, ...]:
    return tuple(
        ReadStep(
            row.treatment,
            " ".join(row.what.split()),
            reader.read(
                f"steps.{place}.temperature",
                row.temperature,
                lambda text: parse_temperature(text).value,
            ),
            reader.read(f"steps.{place}.minutes", row.minutes, parse_positive),
        )
        for place, row in enumerate(typed.steps)
    )
