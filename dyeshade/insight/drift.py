"""Drift of a piece: its readings over time, each beside one of them, and a verdict.

The verdict on a history asks one question of all its readings at once, so that a piece that has
not moved is said to have moved 5 times in 100 however often it was read. For two readings that is
the same question as the one their interval answers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chi2

from dyeshade.errors import DyeshadeError
from dyeshade.insight.components import Parts, parts_of
from dyeshade.insight.difference import (
    Difference,
    DifferenceOf,
    Measured,
    measured,
    stored_difference,
)
from dyeshade.insight.grades import change_difference, change_grade, change_half
from dyeshade.insight.interval import DifferenceInterval, difference_interval
from dyeshade.insight.solved_together import SolvedTogether
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


@dataclass(frozen=True)
class ChangeGrade:
    """Grey scale grade for change in colour (ISO 105-A05).

    Attributes
    ----------
    difference : float
        ΔE_F of the standard.
    half : str
        As "4-5".
    grade, worst, best : float
        5 (none) to 1: of the stated shades, and at the ends of the 95 % interval.
    """

    difference: float
    half: str
    grade: float
    worst: float
    best: float


@dataclass(frozen=True, eq=False)
class Change:
    """From one reading to another: how far, in which ways, and how sure that is."""

    difference: Difference
    size: DifferenceInterval
    parts: Parts
    grade: ChangeGrade

    @property
    def ways(self) -> tuple[str, ...]:
        """Sure ways (`components.WAYS`); none where the whole may be chance."""
        return self.parts.ways if self.size.significant else ()


@dataclass(frozen=True, eq=False)
class DriftPoint:
    """One reading of a piece over time.

    Attributes
    ----------
    reading : Reading
        With its time, state, Lab, covariances, u95 and sRGB.
    steps : tuple of Step
        Treatments since the reading before it (for the first: all before it).
    since_base, since_last : Change or None
        From the chosen reading, and from the reading before; None for that reading itself.
    """

    reading: Reading
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
    left_out : tuple of Reading
        Wet readings where the chosen one is dry, and the other way round.
    """

    history: History
    base_id: int
    points: tuple[DriftPoint, ...]
    verdict: str | None
    chance: float
    smallest_shown: float | None
    left_out: tuple[Reading, ...]


def change_of(difference: Difference) -> Change:
    """All that is said of one difference.

    Parameters
    ----------
    difference : Difference

    Returns
    -------
    Change
    """
    one, other, covariance = difference.lab_from, difference.lab_to, difference.covariance
    size = difference_interval(one, other, covariance)
    seen = change_difference(one, other)
    # The standard's difference is a multiple of CIEDE2000 here; so are its ends.
    ratio = seen / size.value if size.value > 1e-6 else 1.0
    grade = ChangeGrade(
        seen,
        change_half(seen),
        change_grade(seen),
        change_grade(ratio * size.high),
        change_grade(ratio * size.low),
    )
    return Change(difference, size, parts_of(one, other, covariance), grade)


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
    base = next(one for one in readings if one.reading.id == base_id)
    points: list[DriftPoint] = []
    before: Measured | None = None
    steps_before: tuple[Step, ...] = ()
    for one in readings:
        steps = history.before(one.reading)
        since_base = None if one is base else change_of(difference_of(base, one))
        since_last = None if before is None else change_of(difference_of(before, one))
        known = {step.treatment.id for step in steps_before}
        new = tuple(step for step in steps if step.treatment.id not in known)
        points.append(DriftPoint(one.reading, new, since_base, since_last))
        before, steps_before = one, steps
    chance = chance_of_none(readings, difference_of)
    last = points[-1] if points[-1].since_base is not None else points[0]
    return Drift(
        history,
        base_id,
        tuple(points),
        _verdict(points, chance),
        chance,
        last.since_base.size.smallest_shown if last.since_base else None,
        left_out,
    )


def chance_of_none(
    readings: Sequence[Measured], difference_of: DifferenceOf = stored_difference
) -> float:
    """How often readings of a piece that never moved would differ at least as much (0..1).

    A chi-square over the differences of all readings from the first. What two of these differences
    have in common follows from the differences of their readings from each other.
    """
    if len(readings) < 2:
        return 1.0
    first, *others = readings
    differences = [difference_of(first, one) for one in others]
    count = len(others)
    covariance = np.zeros((3 * count, 3 * count))
    for i in range(count):
        for j in range(i, count):
            block = differences[i].covariance
            if i != j:
                between = difference_of(others[i], others[j]).covariance
                block = (block + differences[j].covariance - between) / 2
            covariance[3 * i : 3 * i + 3, 3 * j : 3 * j + 3] = block
            covariance[3 * j : 3 * j + 3, 3 * i : 3 * i + 3] = block.T
    moved = np.concatenate([one.lab_to - one.lab_from for one in differences])
    values, axes = np.linalg.eigh(covariance)
    # Pairs told in different ways need not fit into one covariance to the last digit.
    values = np.maximum(values, 1e-3 * float(values.max()) + 1e-8)
    weighted = (axes.T @ moved) ** 2 / values
    return float(chi2.sf(weighted.sum(), 3 * count))


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
