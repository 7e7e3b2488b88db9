"""What to do next: add so much, read again, or stop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from dyeshade.bath.ceilings import PhRange
from dyeshade.bath.reach.belief import Belief, after_addition
from dyeshade.bath.reach.log import Addition, Reading
from dyeshade.bath.reach.measures import Measure
from dyeshade.bath.water import check_ph
from dyeshade.cie.white import FloatArray
from dyeshade.errors import DyeshadeError, Notice

ADD, READ_AGAIN, DONE = "add", "read_again", "done"
SURE = 0.995
"""Share of the possible liquors that must stay within what the fibre bears. 0.975 would do for one
addition; a bath takes several, and the study asks for 99 in 100 baths."""
NEAR_SHARE = 0.55
"""A bath counts as near its target within this share of how far a reading may be off."""
NEAR_LEAST, NEAR_MOST = 0.12, 0.275
READ_TWICE_FROM = 0.25
"""Of an instrument that may be off by so much, two readings are asked for before adding."""
READ_BELOW_SHARE = 0.7
"""Where doubt allows less than this share of what is wanted, a second reading is asked for."""
READ_AT_MOST = 2
"""Readings after one addition that are asked for."""


@dataclass(frozen=True)
class Spread:
    """A pH as far as it is known: median, and between what it lies with 95 %."""

    median: float
    low: float
    high: float


@dataclass(frozen=True)
class Advice:
    """What to do next.

    Attributes
    ----------
    action : str
        `ADD`, `READ_AGAIN` or `DONE`.
    now : Spread
        The bath's pH now.
    addition : Addition or None
        What to add; None unless `action` is `ADD`.
    measure : Measure or None
        How it is measured out.
    after : Spread or None
        The pH after it.
    notices : tuple of Notice
    """

    action: str
    now: Spread
    addition: Addition | None = None
    measure: Measure | None = None
    after: Spread | None = None
    notices: tuple[Notice, ...] = ()


def advise(belief: Belief, target: float, bears: PhRange, measures: Sequence[Measure]) -> Advice:
    """What to do next to bring a bath to a pH.

    The addition is the largest practical one after which the bath is as likely below the target as
    above it (coming from below), and which keeps a share of `SURE` of them within what the fibre
    bears.

    Parameters
    ----------
    belief : Belief
    target : float
    bears : PhRange
    measures : sequence of Measure
        What the dyer has, upwards and downwards.

    Returns
    -------
    Advice

    Raises
    ------
    DyeshadeError
        ``ph_off_scale``; ``target_beyond_fibre`` where the fibre does not bear the target;
        ``nothing_read`` where there is no reading at all; ``nothing_to_add`` where nothing of what
        the dyer has leads the right way.
    """
    check_ph(target)
    if not bears.floor <= target <= bears.ceiling:
        raise DyeshadeError(
            "target_beyond_fibre", target=target, floor=bears.floor, ceiling=bears.ceiling
        )
    if not any(step.readings for step in belief.log.steps):
        raise DyeshadeError("nothing_read")
    now = spread_of(belief.ph)
    readings = belief.log.steps[-1].readings
    near = near_target(belief)
    up = target > now.median
    may_read = len(readings) < READ_AT_MOST
    if abs(now.median - target) <= near:
        if may_read and _worth_reading(belief, target, near):
            return Advice(READ_AGAIN, now)
        return Advice(DONE, now)
    right_way = [one for one in measures if one.additive.raises_ph is up]
    best, share = _largest(belief, target, bears, right_way)
    if may_read and (_coarse(readings) or best is None or share < READ_BELOW_SHARE):
        return Advice(READ_AGAIN, now)
    if best is None:
        return Advice(DONE, now, notices=(Notice("step_too_coarse", {"target": target}),))
    addition, measure = best
    after = spread_of(after_addition(belief, addition).ph)
    return Advice(ADD, now, addition, measure, after)


def spread_of(ph: FloatArray) -> Spread:
    """Median and 95 % interval."""
    low, median, high = np.percentile(ph, [2.5, 50.0, 97.5])
    return Spread(float(median), float(low), float(high))


def near_target(belief: Belief) -> float:
    """Within what distance of the target a bath counts as there."""
    error = min(one.instrument.error for step in belief.log.steps for one in step.readings)
    return min(max(NEAR_SHARE * error, NEAR_LEAST), NEAR_MOST)


def _worth_reading(belief: Belief, target: float, near: float) -> bool:
    """Whether a further reading would tell much more of where a bath is that seems there."""
    within = np.mean(np.abs(belief.ph - target) <= 2.0 * near)
    return bool(within < 0.9)


def _largest(
    belief: Belief, target: float, bears: PhRange, measures: Sequence[Measure]
) -> tuple[tuple[Addition, Measure] | None, float]:
    """The largest practical addition, and what share of what is wanted of it the fibre allows."""
    best: tuple[Addition, Measure] | None = None
    share, leads_there = 0.0, False
    for measure in measures:
        wanted, allowed = limits(belief, target, bears, measure)
        if not np.isfinite(wanted):
            continue
        leads_there = True
        found = measure.largest(min(wanted, allowed))
        if found is not None and (best is None or found.mol > best[0].mol):
            best = (found, measure)
            # A step fits, so that more than nothing is wanted.
            share = min(1.0, allowed / wanted)
    if not leads_there:
        raise DyeshadeError("nothing_to_add", target=target)
    return best, share


def limits(belief: Belief, target: float, bears: PhRange, measure: Measure) -> tuple[float, float]:
    """The amount that half of the liquors want, and the one that a share of `SURE` bears."""
    wanted, at_edge = (
        belief.titration.amount_for(
            belief.numbers, belief.start_charge, measure.additive, measure.spread, ph
        )
        for ph in (target, bears.ceiling if measure.additive.raises_ph else bears.floor)
    )
    # Without interpolation, since liquors that never come there want infinitely much.
    half, few = 0.5, 1.0 - SURE
    return (
        float(np.quantile(wanted, half, method="lower")),
        float(np.quantile(at_edge, few, method="lower")),
    )


def _coarse(readings: Sequence[Reading]) -> bool:
    """Whether the instrument is such that one reading is none."""
    return not readings or min(one.instrument.error for one in readings) >= READ_TWICE_FROM
