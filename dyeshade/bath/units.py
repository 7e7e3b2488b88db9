"""Units of weight, volume and temperature that dyers write, and what they are in SI.

Factors are exact fractions, so that nothing is lost on the way there and back.

References
----------
NIST Special Publication 811 (2008), Guide for the Use of the International System of Units,
appendix B.8. Exact are there: pound (avoirdupois) 0.453 592 37 kg, inch 2.54 cm, and
t/degC = (t/degF - 32) / 1.8.
NIST Handbook 44, appendix C: 1 lb = 16 oz; 1 US gallon = 231 cubic inches = 4 liquid quarts
= 8 liquid pints = 16 cups = 128 fluid ounces = 256 tablespoons = 768 teaspoons.
The metric teaspoon of 5 ml and tablespoon of 15 ml are those of 21 CFR 101.9(b)(5)(viii); spoons
that are sold as measures in metric countries have the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

WEIGHT, VOLUME, TEMPERATURE = "weight", "volume", "temperature"
METRIC, US = "metric", "us"
SYSTEMS = (METRIC, US)


@dataclass(frozen=True)
class Unit:
    """A unit.

    Attributes
    ----------
    symbol : str
        As it is shown: "g", "lb", "US tsp".
    kind : str
        `WEIGHT`, `VOLUME` or `TEMPERATURE`.
    system : str
        `METRIC` or `US`.
    factor : Fraction
        Grams, litres or kelvins in one of it.
    spellings : tuple of str
        What people write for it, in lower case without full stops.
    zero : Fraction
        What its 0 is in degrees C; of weights and volumes 0.
    """

    symbol: str
    kind: str
    system: str
    factor: Fraction
    spellings: tuple[str, ...]
    zero: Fraction = Fraction(0)


_POUND = Fraction("453.59237")
_GALLON = 231 * Fraction("2.54") ** 3 / 1000
_TEASPOON = _GALLON / 768

UNITS: tuple[Unit, ...] = (
    Unit("g", WEIGHT, METRIC, Fraction(1), ("g", "gr", "gm", "gram", "grams", "gramme", "grammes")),
    Unit(
        "kg",
        WEIGHT,
        METRIC,
        Fraction(1000),
        ("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"),
    ),
    Unit("mg", WEIGHT, METRIC, Fraction(1, 1000), ("mg", "milligram", "milligrams")),
    Unit("oz", WEIGHT, US, _POUND / 16, ("oz", "ozs", "ounce", "ounces")),
    Unit("lb", WEIGHT, US, _POUND, ("lb", "lbs", "pound", "pounds", "#")),
    Unit("L", VOLUME, METRIC, Fraction(1), ("l", "ltr", "litre", "litres", "liter", "liters")),
    Unit(
        "ml",
        VOLUME,
        METRIC,
        Fraction(1, 1000),
        ("ml", "cc", "millilitre", "millilitres", "milliliter", "milliliters"),
    ),
    Unit(
        "US gal",
        VOLUME,
        US,
        _GALLON,
        ("us gal", "gal", "gals", "gallon", "gallons", "us gallon", "us gallons"),
    ),
    Unit(
        "US qt",
        VOLUME,
        US,
        _GALLON / 4,
        ("us qt", "qt", "qts", "quart", "quarts", "us quart", "us quarts"),
    ),
    Unit(
        "US pt",
        VOLUME,
        US,
        _GALLON / 8,
        ("us pt", "pt", "pts", "pint", "pints", "us pint", "us pints"),
    ),
    Unit("US cup", VOLUME, US, _GALLON / 16, ("us cup", "us cups", "cup", "cups")),
    Unit(
        "US fl oz",
        VOLUME,
        US,
        _GALLON / 128,
        ("us fl oz", "fl oz", "floz", "fluid ounce", "fluid ounces"),
    ),
    Unit("US tbsp", VOLUME, US, 3 * _TEASPOON, ("us tbsp", "us tablespoon", "us tablespoons")),
    Unit("US tsp", VOLUME, US, _TEASPOON, ("us tsp", "us teaspoon", "us teaspoons")),
    Unit(
        "metric tbsp",
        VOLUME,
        METRIC,
        Fraction(15, 1000),
        ("metric tbsp", "metric tablespoon", "metric tablespoons"),
    ),
    Unit(
        "metric tsp",
        VOLUME,
        METRIC,
        Fraction(5, 1000),
        ("metric tsp", "metric teaspoon", "metric teaspoons"),
    ),
    Unit(
        "°C",
        TEMPERATURE,
        METRIC,
        Fraction(1),
        ("°c", "c", "deg c", "degc", "degrees c", "degree c", "celsius"),
    ),
    Unit(
        "°F",
        TEMPERATURE,
        US,
        Fraction(5, 9),
        ("°f", "f", "deg f", "degf", "degrees f", "degree f", "fahrenheit"),
        zero=Fraction(-160, 9),
    ),
)
"""Every unit that is understood."""

SPOON_WORDS = {
    "tsp": "tsp",
    "tsps": "tsp",
    "teaspoon": "tsp",
    "teaspoons": "tsp",
    "tbsp": "tbsp",
    "tbsps": "tbsp",
    "tablespoon": "tbsp",
    "tablespoons": "tbsp",
}
"""Spoons that might be US or metric: who writes one must be asked which."""

BY_SYMBOL = {unit.symbol: unit for unit in UNITS}
_BY_SPELLING = {spelling: unit for unit in UNITS for spelling in unit.spellings}


def find_unit(written: str, kind: str, spoons: str | None = None) -> Unit | None:
    """The unit that somebody wrote, or None for one that is not known or of another kind.

    Parameters
    ----------
    written : str
    kind : str
        Of what: `WEIGHT`, `VOLUME` or `TEMPERATURE`.
    spoons : str, optional
        Which spoons the dyer has, `METRIC` or `US`; without it a bare "tsp" is no unit.
    """
    word = " ".join(written.lower().replace(".", "").split())
    if spoons is not None and word in SPOON_WORDS:
        word = f"{spoons} {SPOON_WORDS[word]}"
    unit = _BY_SPELLING.get(word)
    return unit if unit is not None and unit.kind == kind else None


def accepted(kind: str) -> tuple[str, ...]:
    """Symbols of the units of a kind, for who wrote another."""
    return tuple(unit.symbol for unit in UNITS if unit.kind == kind)


def spellings(kind: str) -> tuple[str, ...]:
    """All that may be written for units of a kind."""
    return tuple(text for unit in UNITS if unit.kind == kind for text in unit.spellings)


def in_si(number: Fraction, unit: Unit) -> Fraction:
    """A number of a unit in grams, litres or degrees C, exactly."""
    return number * unit.factor + unit.zero


def from_si(value: Fraction, unit: Unit) -> Fraction:
    """Grams, litres or degrees C as a number of a unit, exactly."""
    return (value - unit.zero) / unit.factor
