"""Level spoons: what a spoon of a powder weighs, and how sure that is.

A spoon measures volume; what it weighs depends on how coarse and how settled the powder is. Ranges
are wide for that reason, until the dyer has weighed ten level spoons of their own powder.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from dyeshade.bath.units import BY_SYMBOL

TEN = 10
LEVEL_SD = 0.05
"""Relative standard deviation of one level spoon to the next, where only ten together were weighed:
an assumption."""


@dataclass(frozen=True)
class BulkDensity:
    """Grams in a millilitre of a powder as a spoon takes it up.

    Attributes
    ----------
    substance : str
    low, usual, high : float
        g/ml. Of the dyer's own powder `low` and `high` hold 95 times in 100.
    source : str
        Where the figures come from.
    standard_uncertainty : float or None
        g/ml; of the dyer's own powder.
    spoon_sd : float or None
        Relative standard deviation from spoon to spoon; of the dyer's own powder.
    """

    substance: str
    low: float
    usual: float
    high: float
    source: str
    standard_uncertainty: float | None = None
    spoon_sd: float | None = None

    def __post_init__(self) -> None:
        if not 0 < self.low <= self.usual <= self.high:
            raise ValueError(f"not in order: {self.low}, {self.usual}, {self.high}")

    @property
    def own(self) -> bool:
        """Whether the dyer has weighed it."""
        return self.standard_uncertainty is not None


_TABLES = "tables of the bulk density of materials for hoppers and bags, widened for level spoons"
_MEMORY = "from memory, no source"

DENSITIES: tuple[BulkDensity, ...] = (
    # Lumpy alum 0.88 and 0.96, pulverized 0.75 and 0.80 g/ml.
    BulkDensity("alum", 0.70, 0.88, 1.05, _TABLES),
    BulkDensity("aluminium acetate", 0.30, 0.55, 0.90, _MEMORY),
    BulkDensity("cream of tartar", 0.60, 0.75, 1.00, _MEMORY),
    BulkDensity("citric acid", 0.75, 0.90, 1.05, _MEMORY),
    BulkDensity("iron", 0.85, 1.05, 1.25, _MEMORY),
    # Bluestone in bags 1.52 g/ml at the most.
    BulkDensity("copper", 1.00, 1.25, 1.52, _TABLES),
    BulkDensity("chalk", 0.50, 0.85, 1.15, _TABLES),
    # Light 0.50 to 0.75 (IS 251:1998), dense 1.00 to 1.05 g/ml (makers' data sheets).
    BulkDensity("soda ash", 0.50, 0.80, 1.10, "IS 251:1998 (light); makers' data sheets (dense)"),
    BulkDensity("washing soda", 0.70, 0.90, 1.10, _MEMORY),
    # Bicarbonate of soda 0.69, in bags 0.88; level kitchen spoons up to 1.2 g/ml.
    BulkDensity("baking soda", 0.69, 0.95, 1.20, _TABLES),
    BulkDensity("tannin", 0.25, 0.45, 0.70, _MEMORY),
)
"""Densities until the dyer weighs their own. Lye and lime are left out: they are weighed."""


def usual_density(substance: str) -> BulkDensity | None:
    """The density of a substance by its name in `substances`, or None."""
    return next((one for one in DENSITIES if one.substance == substance), None)


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
    return Weight(grams, max(0.0, grams - 1.96 * both), grams + 1.96 * both)


def spoons_for(grams: float, litres: float, density: BulkDensity) -> Fraction:
    """Level spoons for a weight, to the nearest quarter of one."""
    return Fraction(round(4 * grams / (litres * 1000 * density.usual)), 4)


def show_spoons(count: Fraction) -> str:
    """A number of spoons as in "3 1/2"."""
    whole, part = divmod(count, 1)
    if part == 0:
        return str(whole)
    return f"{whole} {part}" if whole else str(part)


def own_density(
    substance: str, grams: Sequence[float], litres: float, balance_step_g: float
) -> BulkDensity:
    """The density of the dyer's own powder from level spoons weighed one by one.

    Parameters
    ----------
    substance : str
    grams : sequence of float
        Weight of each spoon: ten, at least two.
    litres : float
        What the spoon is called, as in 0.005: its true volume drops out where it measures again.
    balance_step_g : float
        Smallest step that the balance shows.

    Returns
    -------
    BulkDensity

    References
    ----------
    JCGM 100:2008 (GUM), 4.2.3 (mean of repeated readings) and F.2.2.1 (a step of the display d
    adds a variance of d^2 / 12).
    """
    if len(grams) < 2 or min(grams) <= 0 or litres <= 0 or balance_step_g < 0:
        raise ValueError("two spoons or more, each above 0 g")
    count = len(grams)
    mean = sum(grams) / count
    variance = sum((one - mean) ** 2 for one in grams) / (count - 1)
    uncertainty = math.sqrt((variance + balance_step_g**2 / 12) / count)
    return _own(substance, mean, uncertainty, math.sqrt(variance) / mean, litres)


def own_density_of_ten(
    substance: str, grams: float, litres: float, balance_step_g: float, count: int = TEN
) -> BulkDensity:
    """The density of the dyer's own powder from ten level spoons weighed together.

    How spoons differ is not seen then: `LEVEL_SD` is taken. The balance is read twice, empty and
    full, so that its step counts twice.
    """
    if grams <= 0 or litres <= 0 or balance_step_g < 0 or count < 1:
        raise ValueError("a weight above 0 g of one spoon or more")
    mean = grams / count
    from_spoons = LEVEL_SD * mean / math.sqrt(count)
    from_balance = balance_step_g / math.sqrt(6) / count
    return _own(substance, mean, math.hypot(from_spoons, from_balance), LEVEL_SD, litres)


def _own(substance: str, mean_g: float, u_g: float, sd: float, litres: float) -> BulkDensity:
    millilitres = litres * 1000
    density, u = mean_g / millilitres, u_g / millilitres
    # So few spoons that the range would reach 0 say nothing about it.
    low = max(density - 1.96 * u, 1e-3 * density)
    return BulkDensity(substance, low, density, density + 1.96 * u, "own spoons weighed", u, sd)
