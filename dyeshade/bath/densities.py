"""Bulk density of powders: from tables until the dyer has weighed ten level spoons of their own.

How much of a powder a spoon takes up depends on how coarse and how settled it is; ranges are wide
for that reason.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from dyeshade.bath.substances import find_substance
from dyeshade.errors import DyeshadeError

TEN = 10
NORMAL_95 = 1.959964
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
    coverage : float
        Standard uncertainties on either side that hold 95 times in 100.
    """

    substance: str
    low: float
    usual: float
    high: float
    source: str
    standard_uncertainty: float | None = None
    spoon_sd: float | None = None
    coverage: float = NORMAL_95

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


def density_of(substance: str, own: Sequence[BulkDensity] = ()) -> BulkDensity:
    """The density of a substance: the dyer's own, else that of the tables.

    Raises
    ------
    DyeshadeError
        ``density_unknown`` (substance); ``mordant_not_supported``.
    """
    known = find_substance(substance)
    for one in reversed(own):
        if one.substance == substance or (known is not None and one.substance == known.name):
            return one
    usual = None if known is None else usual_density(known.name)
    if usual is None:
        raise DyeshadeError("density_unknown", substance=substance)
    return usual


def usual_density(substance: str) -> BulkDensity | None:
    """The density of a substance by its name in `substances`, or None."""
    return next((one for one in DENSITIES if one.substance == substance), None)


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
    adds a variance of d^2 / 12), G.3.2 (Student's t for few readings).
    """
    # Slow to import, and needed only where somebody has weighed their spoons.
    from scipy.special import stdtrit

    if len(grams) < 2 or min(grams) <= 0 or litres <= 0 or balance_step_g < 0:
        raise ValueError("two spoons or more, each above 0 g")
    count = len(grams)
    mean = sum(grams) / count
    variance = sum((one - mean) ** 2 for one in grams) / (count - 1)
    uncertainty = math.sqrt((variance + balance_step_g**2 / 12) / count)
    coverage = float(stdtrit(count - 1, 0.975))
    return _own(substance, mean, uncertainty, math.sqrt(variance) / mean, litres, coverage)


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
    both = math.hypot(from_spoons, from_balance)
    return _own(substance, mean, both, LEVEL_SD, litres, NORMAL_95)


def _own(
    substance: str, mean_g: float, u_g: float, spoon_sd: float, litres: float, coverage: float
) -> BulkDensity:
    millilitres = litres * 1000
    density, u = mean_g / millilitres, u_g / millilitres
    # So few spoons that the range would reach 0 say nothing about it.
    low = max(density - coverage * u, 1e-3 * density)
    high = density + coverage * u
    return BulkDensity(substance, low, density, high, "own spoons weighed", u, spoon_sd, coverage)
