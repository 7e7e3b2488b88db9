"""What a dyer types for a bath, as texts.

Texts are kept as they are, so that nothing is lost while something of them is wrong.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import datetime

from dyeshade.bath.recipe import DRIED


@dataclass(frozen=True)
class TypedPiece:
    """Fibre in the pot: a piece by its id, or just a weight."""

    code: str = ""
    fibre: str = ""
    weight: str = ""


@dataclass(frozen=True)
class TypedDye:
    """A dyestuff; `ratio` as in "2:1" or "8 %"."""

    name: str = ""
    form: str = DRIED
    ratio: str = ""


@dataclass(frozen=True)
class TypedSubstance:
    """A mordant or assistant; `on` is a kind or group of fibre, or "" for all."""

    name: str = ""
    share: str = ""
    on: str = ""


@dataclass(frozen=True)
class TypedHave:
    """Something to move the pH with.

    Attributes
    ----------
    additive : str
        Short name, as in `dyeshade.bath.additives`.
    percent : str
        Of vinegar or a stock solution.
    by : str
        As `dyeshade.bath.reach.measures.Measure.kind`.
    step : str
        What is measured out at least: a weight or a volume; of a quarter teaspoon its weight.
    """

    additive: str = "soda_anhydrous"
    percent: str = ""
    by: str = "gram"
    step: str = ""


@dataclass(frozen=True)
class TypedStep:
    """A step of the dye day; when it was begun and ended is not typed but pressed."""

    treatment: str = "bath"
    what: str = ""
    temperature: str = ""
    minutes: str = ""
    started: datetime | None = None
    ended: datetime | None = None
    note: str = ""


@dataclass(frozen=True)
class TypedBath:
    """All that is typed for a bath.

    Attributes
    ----------
    exhaust_of : str
        Code of the bath whose liquor it uses, or "".
    left : str
        What that bath left of its dyestuff, as "40 %".
    taken : tuple of (str, str)
        What was truly weighed, by the line's key (`line_key`).
    degrees : str
        In what `alkalinity` is given, as in `dyeshade.bath.water`.
    raised : bool
        Whether the dyer means a ceiling above, or a floor below, common practice.
    alum : str
        Weight of alum still in the liquor before anything is added for its pH.
    """

    code: str = ""
    exhaust_of: str = ""
    left: str = ""
    pieces: tuple[TypedPiece, ...] = ()
    dyes: tuple[TypedDye, ...] = ()
    substances: tuple[TypedSubstance, ...] = ()
    liquor: str = ""
    pot: str = ""
    material: str = ""
    loose: bool = False
    foraged: bool = False
    taken: tuple[tuple[str, str], ...] = ()
    alkalinity: str = ""
    degrees: str = "mg_l"
    water_ph: str = ""
    temperature: str = ""
    target: str = ""
    ceiling: str = ""
    floor: str = ""
    raised: bool = False
    have: tuple[TypedHave, ...] = ()
    steps: tuple[TypedStep, ...] = ()
    note: str = ""
    alum: str = ""


def line_key(kind: str, name: str, form: str = "", on: str = "") -> str:
    """By what a line that is weighed out is known again."""
    return "|".join((kind, name.casefold(), form, on))


def is_blank(row: object, but: tuple[str, ...] = ()) -> bool:
    """Whether nothing was typed in a row; choices among given words do not count."""
    choices = {"form", "treatment", "additive", "by", "on", *but}
    return all(
        not str(getattr(row, one.name) or "").strip() or one.name in choices
        for one in fields(row)  # type: ignore[arg-type]
    )
