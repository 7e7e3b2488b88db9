"""Drift of a piece: its readings over time, each beside one of them, and a verdict.

The verdict on a history asks one question of all its readings at once, so that a piece that has
not moved is said to have moved 5 times in 100 however often it was read. For two readings that is
the same question as the one their interval answers. Photos taken together count as one occasion.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import DyeshadeError
from dyeshade.insight.change import Change, change_of
from dyeshade.insight.difference import (
    DifferenceOf,
    Measured,
    measured,
    stored_difference,
)
from dyeshade.insight.occasions import Advice, advice_of, between, occasions_of
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.insight.unmoved import Told, chance
from dyeshade.library.history import History, Step, histories
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import readings_of
from dyeshade.library.shade_records import Reading
from dyeshade.library.trials import treated_apart

Array = NDArray[np.float64]

VERDICTS = ("moved", "not_seen_to_move", "still_moving", "settled")
"""What can be said of a history."""

SETTLED_WITHIN = 2.0
"""A piece has settled where its last step is surely below this CIEDE2000 (ours: just visible)."""


@dataclass(frozen=True, eq=False)
class DriftPoint:
    """An occasion on which a piece was read.

    Attributes
    ----------
    reading : Reading
        The first one, with its time, state, Lab, covariances, u95 and sRGB.
    readings : tuple of Reading
        All that were taken together; they count as one (`dyeshade.insight.occasions`).
    steps : tuple of Step
        Treatments since the occasion before it (for the first: all before it).
    since_base, since_last : Change or None
        From the occasion of the chosen reading, and from the one before; None for that one itself.
    """

    reading: Reading
    readings: tuple[Reading, ...]
    steps: tuple[Step, ...]
    since_base: Change | None
    since_last: Change | None


@dataclass(frozen=True, eq=False)
class Drift:
    """How a piece has moved.

    Attributes
    ----------
    history : History
    base_id : int
        The reading that the others are set beside.
    points : tuple of DriftPoint
        In the order of time; what came before the chosen reading among them.
    verdict : str or None
        Of `VERDICTS`; None with one reading.
    chance : float
        How often readings of a piece that never moved would differ as much (0..1).
    smallest_shown : float or None
        The smallest CIEDE2000 between the chosen reading and the latest that they would have shown
        9 times in 10.
    advice : Advice or None
        How more photos would show a change of 2; None where these would, or none could.
    left_out : tuple of Reading
        Wet readings where the chosen one is dry, and the other way round.
    """

    history: History
    base_id: int
    points: tuple[DriftPoint, ...]
    verdict: str | None
    chance: float
    smallest_shown: float | None
    advice: Advice | None
    left_out: tuple[Reading, ...]

    def chosen(self, point: DriftPoint) -> bool:
        """Whether the others are set beside this occasion."""
        return any(one.id == self.base_id for one in point.readings)


def drift_of(
    library: Library,
    piece: str,
    base_id: int | None = None,
    wet_too: bool = False,
    difference_of: DifferenceOf | None = None,
) -> Drift:
    """How a piece has moved.

    What shows only its treated half in a home fastness test that was set up is no reading of the
    whole piece and is left to that test, unless it is the one that others are set beside.

    Parameters
    ----------
    library : Library
    piece : str
        Its code.
    base_id : int, optional
        Id of the reading that the others are set beside; the first dry one unless told, or the
        first of all where there is none.
    wet_too : bool
        Whether wet readings may be set beside dry ones.
    difference_of : callable, optional
        Gives the difference of two readings; `dyeshade.insight.solved_together` unless told.

    Returns
    -------
    Drift

    Raises
    ------
    DyeshadeError
        ``piece_unknown``; ``piece_not_read`` (piece) where it has no reading;
        ``reading_of_another`` (piece, reading) where the chosen reading is none of its own.
    """
    found = find_piece(library, piece)
    halves = treated_apart(library, found.id) - {base_id}
    readings = [one for one in readings_of(library, found.id) if one.id not in halves]
    if not readings:
        raise DyeshadeError("piece_not_read", piece=found.code)
    dry = [one for one in readings if one.state != "wet"]
    base = (dry or readings)[0]
    if base_id is not None:
        chosen = [one for one in readings if one.id == base_id]
        if not chosen:
            raise DyeshadeError("reading_of_another", piece=found.code, reading=base_id)
        base = chosen[0]
    alike = [one for one in readings if wet_too or (one.state == "wet") == (base.state == "wet")]
    history = histories(library, [found.id])[found.id]
    return drift_between(
        history,
        measured(library, alike),
        base.id,
        tuple(one for one in readings if one not in alike),
        difference_of or SolvedTogether(library),
    )


def drift_between(
    history: History,
    readings: Sequence[Measured],
    base_id: int,
    left_out: tuple[Reading, ...] = (),
    difference_of: DifferenceOf = stored_difference,
) -> Drift:
    """Drift over readings that are at hand, in the order of their time. Else as `drift_of`."""
    occasions = occasions_of(history, readings)
    place = next(k for k, one in enumerate(occasions) if one.has(base_id))
    told = Told(occasions, difference_of)
    points: list[DriftPoint] = []
    done: set[int] = set()
    for k, one in enumerate(occasions):
        new = tuple(step for step in one.steps if step.treatment.id not in done)
        done = {step.treatment.id for step in one.steps}
        since_base = None if k == place else change_of(told(place, k))
        since_last = None if k == 0 else change_of(told(k - 1, k))
        taken = tuple(each.reading for each in one.readings)
        points.append(DriftPoint(one.first, taken, new, since_base, since_last))
    by_chance = chance(told)
    shown, advice = None, None
    if len(occasions) > 1:
        last = len(occasions) - 1 if place != len(occasions) - 1 else 0
        change = points[last].since_base
        assert change is not None
        shown = change.size.smallest_shown
        counts = (occasions[place].photos, occasions[last].photos)
        advice = advice_of(change.difference, *counts)
    return Drift(
        history,
        base_id,
        tuple(points),
        _verdict(points, by_chance),
        by_chance,
        shown,
        advice,
        left_out,
    )


def changes_since(
    history: History,
    readings: Sequence[Measured],
    base_id: int,
    difference_of: DifferenceOf = stored_difference,
) -> dict[int, Change]:
    """From one reading's occasion to those of others, by the ids of the others' readings.

    Parameters
    ----------
    history : History
    readings : sequence of Measured
        In the order of time.
    base_id : int
        Of one of them.
    difference_of : callable
        Of two readings.
    """
    occasions = occasions_of(history, readings)
    base = next(one for one in occasions if one.has(base_id))
    return {
        each.reading.id: change
        for one in occasions
        if one is not base
        for change in (change_of(between(base, one, difference_of)),)
        for each in one.readings
    }


def _verdict(points: Sequence[DriftPoint], chance: float) -> str | None:
    if len(points) < 2:
        return None
    if chance >= 0.05:
        return "not_seen_to_move"
    if len(points) == 2:
        return "moved"
    last = points[-1].since_last
    assert last is not None
    if last.size.significant:
        return "still_moving"
    return "settled" if last.size.high <= SETTLED_WITHIN else "moved"
