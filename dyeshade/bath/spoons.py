"""Level spoons: what so many of a powder weigh, and how many make a weight."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from dyeshade.bath.densities import BulkDensity, density_of
from dyeshade.bath.units import BY_SYMBOL
from dyeshade.errors import DyeshadeError

SPOONS = {"us": "US tsp", "metric": "metric tsp"}
"""Teaspoons, by the system that they are of."""

MOST_SPOONS = 12
"""Beyond these nobody counts level spoons truly: weigh it."""


def spoon_litres(symbol: str) -> float:
    """Litres in one spoon, as in "US tsp" or "metric tsp"."""
    return float(BY_SYMBOL[symbol].factor)


@dataclass(frozen=True)
class Weight:
    """A weight that is not sure: grams, and between which it lies 95 times in 100."""

    grams: float
    low_g: float
    high_g: float


def weight_of_spoons(count: float, litres: float, density: BulkDensity) -> Weight:
    """What level spoons weigh.

    Parameters
    ----------
    count : float
        Spoons; quarters count as a spoon of their own.
    litres : float
        Volume of one.
    density : BulkDensity
        With the dyer's own, the spread from spoon to spoon averages out over several; without it
        the whole range of powders is stated.
    """
    millilitres = count * litres * 1000
    grams = millilitres * density.usual
    if density.standard_uncertainty is None:
        return Weight(grams, millilitres * density.low, millilitres * density.high)
    each = (density.spoon_sd or 0.0) / math.sqrt(max(count, 1.0))
    both = grams * math.hypot(density.standard_uncertainty / density.usual, each)
    reach = density.coverage * both
    return Weight(grams, max(0.0, grams - reach), grams + reach)


def spoons_for(grams: float, litres: float, density: BulkDensity) -> Fraction:
    """Level spoons for a weight, to the nearest quarter of one."""
    return Fraction(round(4 * grams / (litres * 1000 * density.usual)), 4)


def show_spoons(count: Fraction) -> str:
    """A number of spoons as in "3 1/2"."""
    whole, part = divmod(count, 1)
    if part == 0:
        return str(whole)
    return f"{whole} {part}" if whole else str(part)


@dataclass(frozen=True)
class SpoonsAtHand:
    """The spoons that a dyer has, and what they have weighed with them.

    Attributes
    ----------
    spoon : str
        "US tsp" or "metric tsp".
    own : tuple of BulkDensity
        The dyer's own densities, taken before those of tables.
    """

    spoon: str
    own: tuple[BulkDensity, ...] = ()


@dataclass(frozen=True)
class Spoonfuls:
    """Level spoons that come nearest to a weight.

    Attributes
    ----------
    count : Fraction
        To a quarter.
    spoon : str
    weight : Weight
        What they weigh.
    own : bool
        Whether the dyer has weighed them.
    """

    count: Fraction
    spoon: str
    weight: Weight
    own: bool


def spoonfuls(grams: float, substance: str, at_hand: SpoonsAtHand) -> Spoonfuls | None:
    """Level spoons for a weight, or None where spoons make no sense.

    They make none of what no density is known of, below an eighth of a spoon, and above
    `MOST_SPOONS`.
    """
    try:
        density = density_of(substance, at_hand.own)
    except DyeshadeError:
        return None
    litres = spoon_litres(at_hand.spoon)
    count = spoons_for(grams, litres, density)
    if not 0 < count <= MOST_SPOONS:
        return None
    weight = weight_of_spoons(float(count), litres, density)
    return Spoonfuls(count, at_hand.spoon, weight, density.own)
