"""What is typed for a bath's pH, read into values."""

from __future__ import annotations

from dataclasses import dataclass

from dyeshade.bath.additives import GRAMS, Additive, additive
from dyeshade.bath.ceilings import PROTEIN, OwnBounds, PhRange, range_for_all
from dyeshade.bath.densities import density_of
from dyeshade.bath.fibres import find_fibre
from dyeshade.bath.quantities import (
    parse_number,
    parse_temperature,
    parse_volume,
    parse_weight,
)
from dyeshade.bath.reach.log import METER, STRIP, Instrument
from dyeshade.bath.reach.measures import GRAM, MILLILITRE, QUARTER_TEASPOON, Measure
from dyeshade.bath.spoons import SpoonsAtHand, spoon_litres
from dyeshade.bath.water import MOST_ALKALINITY_MG_L, alkalinity_mg_l
from dyeshade.errors import DyeshadeError
from dyeshade.work.bath_typed import TypedBath, TypedHave
from dyeshade.work.read_bath import TypedReader, Wrong, parse_ph, parse_positive

ROOM_TEMPERATURE_C = 25.0
USUAL_STEP = {GRAM: "1 g", MILLILITRE: "5 ml"}
"""What is measured out where nothing was typed."""

SPOONED_AS = {
    "soda_anhydrous": "soda ash",
    "soda_monohydrate": "soda ash",
    "soda_decahydrate": "washing soda",
    "soda_opened": "washing soda",
    "hydrogen_carbonate": "baking soda",
    "citric_anhydrous": "citric acid",
    "citric_monohydrate": "citric acid",
    "cream_of_tartar": "cream of tartar",
    "alum": "alum",
}
"""By which name of `bath.densities` a spoon of an additive is weighed."""


@dataclass(frozen=True)
class ReadPh:
    """What is typed for a bath's pH, in values; None for what is not typed or cannot be read."""

    temperature_c: float | None
    alkalinity_mg_l: float | None
    water_ph: float | None
    target: float | None
    ceiling: float | None
    floor: float | None
    measures: tuple[Measure, ...]
    wrong: tuple[Wrong, ...]
    alum_g: float | None = None


def usual_have() -> tuple[TypedHave, ...]:
    """What is asked for where nothing was chosen: a soda stock upwards, vinegar downwards."""
    return (
        TypedHave("soda_anhydrous_stock", "10", "millilitre", "1 ml"),
        TypedHave("vinegar", "5", "millilitre", "5 ml"),
    )


def read_ph_typed(typed: TypedBath, spoons: SpoonsAtHand | None = None) -> ReadPh:
    """Read what is typed for a bath's pH.

    Parameters
    ----------
    typed : TypedBath
    spoons : SpoonsAtHand, optional
        The dyer's, for what a quarter teaspoon weighs where that is not typed.
    """
    reader = TypedReader()
    measures = []
    for place, row in enumerate(typed.have):
        found = _measure(reader, f"have.{place}", row, spoons or SpoonsAtHand("metric tsp"))
        if found is not None:
            measures.append(found)
    alum = reader.read("alum", typed.alum, lambda text: parse_weight(text, zero=True).value)
    return ReadPh(
        reader.read("temperature", typed.temperature, lambda text: parse_temperature(text).value),
        reader.read("alkalinity", typed.alkalinity, lambda text: _alkalinity(text, typed.degrees)),
        reader.read("water_ph", typed.water_ph, parse_ph),
        reader.read("target", typed.target, parse_ph),
        reader.read("ceiling", typed.ceiling, parse_ph),
        reader.read("floor", typed.floor, parse_ph),
        tuple(measures),
        wrong=tuple(reader.wrong),
        alum_g=alum,
    )


def bears(read: ReadPh, typed: TypedBath, fibres: tuple[str, ...]) -> PhRange:
    """What the most delicate fibre in the pot bears, or what the dyer has set instead.

    See `dyeshade.bath.ceilings.range_for_all`; what is beyond common practice is confirmed by
    `TypedBath.raised`.
    """
    at = ROOM_TEMPERATURE_C if read.temperature_c is None else read.temperature_c
    kinds = sorted({find_fibre(one).bears_as for one in fibres}) or [PROTEIN]
    return range_for_all(kinds, at, own_bounds(read, typed))


def own_bounds(read: ReadPh, typed: TypedBath) -> OwnBounds:
    """The bounds that a dyer has set for a bath."""
    return OwnBounds(read.ceiling, read.floor, typed.raised)


def _measure(
    reader: TypedReader, place: str, row: TypedHave, spoons: SpoonsAtHand
) -> Measure | None:
    percent = reader.read(f"{place}.percent", row.percent, parse_positive)
    what = reader.need(f"{place}.percent", row.additive, lambda name: additive(name, percent))
    if what is None:
        return None
    kind = row.by if (row.by == MILLILITRE) == (what.unit != GRAMS) else None
    if kind is None:
        kind = GRAM if what.unit == GRAMS else MILLILITRE
    step = _step(reader, f"{place}.step", row.step, kind, what, spoons)
    return None if step is None else Measure(what, kind, step)


def _step(
    reader: TypedReader, field: str, text: str, kind: str, what: Additive, spoons: SpoonsAtHand
) -> float | None:
    if kind == MILLILITRE:
        text = text.strip() or USUAL_STEP[MILLILITRE]
        return reader.need(field, text, lambda one: 1000 * parse_volume(one, "ml").value)
    if kind == QUARTER_TEASPOON and not text.strip():
        density = density_of(SPOONED_AS[what.substance], spoons.own)
        return 250 * spoon_litres(spoons.spoon) * density.usual
    return reader.need(field, text.strip() or USUAL_STEP[GRAM], lambda one: parse_weight(one).value)


def _alkalinity(text: str, degrees: str) -> float:
    value = alkalinity_mg_l(parse_positive(text), degrees)
    if value > MOST_ALKALINITY_MG_L:
        raise DyeshadeError("water_alkalinity", mg_l=round(value), most=MOST_ALKALINITY_MG_L)
    return value


def amount_typed(measure: Measure, text: str) -> float:
    """An amount as it is measured out, in the additive's unit.

    Parameters
    ----------
    measure : Measure
    text : str
        "3" quarter teaspoons, "2.5 g" or "12 ml"; of a weight and a volume the unit may be left
        out.

    Raises
    ------
    DyeshadeError
        ``quantity_zero``, or as `dyeshade.bath.quantities.parse_weight`.
    """
    if measure.kind == QUARTER_TEASPOON:
        count = parse_number(text)
        if count == 0:
            raise DyeshadeError("quantity_zero", text=text, position=0, length=len(text))
        return float(count) * measure.step
    if measure.kind == MILLILITRE:
        return 1000 * parse_volume(text, "ml").value
    return parse_weight(text).value


def instrument_typed(
    ph: str, by: str, error: str, known_ph: str
) -> tuple[float, Instrument, float | None]:
    """A reading: its pH, what it was read with, and the known pH where that was checked.

    Raises
    ------
    DyeshadeError
        ``ph_off_scale``, ``reading_error``, or as `parse_number`.
    """
    read = parse_ph(ph)
    usual = METER if by == METER.name else STRIP
    off = parse_positive(error) if error.strip() else usual.error
    known = parse_ph(known_ph) if known_ph.strip() else None
    return read, Instrument(usual.name, off, usual.bias), known
