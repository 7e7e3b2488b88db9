"""What a plot of a bath on its way shows: readings, what is believed, what would come."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dyeshade.bath.ceilings import PhRange
from dyeshade.bath.reach.belief import Belief, after_addition
from dyeshade.bath.reach.log import Addition
from dyeshade.bath.reach.measures import Measure
from dyeshade.bath.reach.propose import Spread, spread_of

_POINTS = 25


@dataclass(frozen=True)
class ReadPoint:
    """A reading: after which addition (0 before any), its pH, how far it may be off."""

    step: int
    ph: float
    error: float
    instrument: str


@dataclass(frozen=True)
class NextPoint:
    """What a further amount would make, in the additive's unit."""

    amount: float
    ph: Spread


@dataclass(frozen=True)
class ReachPlot:
    """Everything that the plot shows.

    Attributes
    ----------
    read : tuple of ReadPoint
    believed : tuple of Spread
        After each addition, beginning with the liquor as it was; with all that is known now.
    to_come : tuple of NextPoint
        Empty where no measure was given.
    target, floor, ceiling : float
    """

    read: tuple[ReadPoint, ...]
    believed: tuple[Spread, ...]
    to_come: tuple[NextPoint, ...]
    target: float
    floor: float
    ceiling: float


def reach_plot(
    belief: Belief,
    target: float,
    bears: PhRange,
    measure: Measure | None = None,
    most: float = 0.0,
) -> ReachPlot:
    """The plot of a log.

    Parameters
    ----------
    belief : Belief
    target : float
    bears : PhRange
    measure : Measure, optional
        For the curve of what would come.
    most : float
        Where that curve ends, in the unit of the measure's additive.

    Returns
    -------
    ReachPlot
    """
    titration, numbers = belief.titration, belief.numbers
    steps = range(len(belief.log.steps))
    read = tuple(
        ReadPoint(k, one.ph, one.instrument.error, one.instrument.name)
        for k in steps
        for one in belief.log.steps[k].readings
    )
    believed = tuple(spread_of(titration.ph_after(numbers, k, belief.start_charge)) for k in steps)
    to_come: tuple[NextPoint, ...] = ()
    if measure is not None and most > 0.0:
        to_come = tuple(
            NextPoint(float(amount), _after(belief, measure, float(amount)))
            for amount in np.linspace(0.0, most, _POINTS)
        )
    return ReachPlot(read, believed, to_come, target, bears.floor, bears.ceiling)


def _after(belief: Belief, measure: Measure, amount: float) -> Spread:
    addition = Addition(measure.additive, amount, measure.measured)
    return spread_of(after_addition(belief, addition).ph)
