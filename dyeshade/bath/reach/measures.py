"""How an addition is measured out: level quarter teaspoons, weighed grams, millilitres."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dyeshade.bath.additives import GRAMS, MILLILITRES, Additive
from dyeshade.bath.reach.log import MEASURED_SPREAD, SPOON, VOLUME, WEIGHED, Addition
from dyeshade.errors import DyeshadeError

QUARTER_TEASPOON, GRAM, MILLILITRE = "quarter_teaspoon", "gram", "millilitre"


@dataclass(frozen=True)
class Measure:
    """A way to measure something out.

    Attributes
    ----------
    additive : Additive
    kind : str
        `QUARTER_TEASPOON`, `GRAM` or `MILLILITRE`.
    step : float
        Least amount, and what all amounts are multiples of, in the additive's unit.
    """

    additive: Additive
    kind: str
    step: float

    def __post_init__(self) -> None:
        if not 0.0 < self.step < 1e4:
            raise DyeshadeError("measure_step", step=self.step)

    @property
    def measured(self) -> str:
        """As `Addition.measured`."""
        return {QUARTER_TEASPOON: SPOON, GRAM: WEIGHED, MILLILITRE: VOLUME}[self.kind]

    @property
    def spread(self) -> float:
        """Standard deviation of the logarithm of what is really in an amount."""
        return math.hypot(MEASURED_SPREAD[self.measured], self.additive.strength_spread)

    def largest(self, limit: float) -> Addition | None:
        """The largest amount up to a limit; None where not even one step fits."""
        if not math.isfinite(limit):
            return None
        count = math.floor(limit / self.step + 1e-9)
        # Nobody counts out hundreds of steps: large amounts are rounded down to two figures.
        if count > 100 and self.kind != QUARTER_TEASPOON:
            coarse = 10 ** (int(math.log10(count)) - 1)
            count = count // coarse * coarse
        return Addition(self.additive, count * self.step, self.measured) if count >= 1 else None


def quarter_teaspoons(additive: Additive, grams_each: float) -> Measure:
    """Level quarter teaspoons that weigh so much each."""
    if additive.unit != GRAMS:
        raise ValueError(additive.name)
    return Measure(additive, QUARTER_TEASPOON, grams_each)


def grams(additive: Additive, scale_step_g: float = 0.5) -> Measure:
    """Weighed, in steps that the dyer's scale shows well."""
    if additive.unit != GRAMS:
        raise ValueError(additive.name)
    return Measure(additive, GRAM, scale_step_g)


def millilitres(additive: Additive, step_ml: float = 1.0) -> Measure:
    """A liquid or stock solution, by syringe or measuring cup."""
    if additive.unit != MILLILITRES:
        raise ValueError(additive.name)
    return Measure(additive, MILLILITRE, step_ml)
