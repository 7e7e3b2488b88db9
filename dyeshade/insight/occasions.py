"""Photos of a piece that were taken together, and what they say as one.

What a photo has for itself (its angle, its exposure, where the piece lay) averages over several;
what the light of the day, and the camera in it, do to a cloth whose spectrum is none of the sheet's
colours' does not, however many photos are taken. `Difference.lasting` holds the two apart.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import product

import numpy as np
from numpy.typing import NDArray

from dyeshade.insight.difference import Difference, DifferenceOf, Measured, set_up_of
from dyeshade.insight.interval import smallest_shown
from dyeshade.library.history import History, Step
from dyeshade.library.shade_records import Reading

Array = NDArray[np.float64]

WITHIN = timedelta(hours=1)
"""Photos of one occasion follow its first this soon (ours)."""

WANTED_SHOWN = 2.0
"""A change in CIEDE2000 that readings should show (ours: just visible)."""

MOST_PHOTOS = 4
"""Photos of an occasion that are advised at most."""


@dataclass(frozen=True, eq=False)
class Occasion:
    """Readings of one piece taken together: one set-up, one state, nothing done between.

    Attributes
    ----------
    readings : tuple of Measured
    steps : tuple of Step
        What the piece had gone through.
    """

    readings: tuple[Measured, ...]
    steps: tuple[Step, ...]

    @property
    def first(self) -> Reading:
        """The reading that stands for them."""
        return self.readings[0].reading

    @property
    def photos(self) -> int:
        """How many photos they are of."""
        known = [one.reading.photo_id for one in self.readings]
        return len({one for one in known if one is not None}) + known.count(None)

    def has(self, reading_id: int) -> bool:
        """Whether a reading is among them."""
        return any(one.reading.id == reading_id for one in self.readings)


@dataclass(frozen=True)
class Advice:
    """How photos could show a smaller change.

    Attributes
    ----------
    photos : int
        Photos of an occasion.
    each_time : bool
        Whether both occasions need so many; else the next one.
    shown : float
        CIEDE2000 that would then be shown 9 times in 10.
    """

    photos: int
    each_time: bool
    shown: float


def occasions_of(history: History, readings: Sequence[Measured]) -> list[Occasion]:
    """Occasions in the order of their first readings.

    Parameters
    ----------
    history : History
    readings : sequence of Measured
        In the order of time.
    """
    found: list[list[Measured]] = []
    steps: list[tuple[Step, ...]] = []
    for one in readings:
        before = history.before(one.reading)
        for group, done in zip(found, steps, strict=True):
            if _together(group[0], one) and _ids(done) == _ids(before):
                group.append(one)
                break
        else:
            found.append([one])
            steps.append(before)
    return [Occasion(tuple(group), done) for group, done in zip(found, steps, strict=True)]


def _together(first: Measured, later: Measured) -> bool:
    ours, theirs = first.reading, later.reading
    return (
        ours.photo_id is not None
        and theirs.photo_id is not None
        and ours.state == theirs.state
        and theirs.read - ours.read <= WITHIN
        and set_up_of(first) == set_up_of(later)
    )


def _ids(steps: Sequence[Step]) -> list[int]:
    return [step.treatment.id for step in steps]


def between(
    one: Occasion, other: Occasion, difference_of: DifferenceOf, quick: bool = False
) -> Difference:
    """The difference of two occasions.

    Parameters
    ----------
    one, other : Occasion
    difference_of : callable
        Of two readings.
    quick : bool
        One pair of photos stands for all: where its covariance alone is wanted.

    Returns
    -------
    Difference
    """
    ours, theirs = one.readings, other.readings
    # Each photo as often as any other, and no more pairs than that takes.
    if quick:
        pairs = [(ours[0], theirs[0])]
    elif len(ours) == len(theirs):
        pairs = list(zip(ours, theirs, strict=True))
    else:
        pairs = list(product(ours, theirs))
    told = [difference_of(a, b) for a, b in pairs]
    first = next((one for one in told if one.how != "together"), told[0])
    single = Difference(
        np.mean([one.lab_from for one in told], axis=0),
        np.mean([one.lab_to for one in told], axis=0),
        np.mean([one.covariance for one in told], axis=0),
        first.how,
        first.apart,
        np.mean([one.lasting for one in told], axis=0),
    )
    return with_photos(single, one.photos, other.photos)


def with_photos(single: Difference, ours: int, theirs: int) -> Difference:
    """What stands for one photo each, as so many photos each would have told it.

    Parameters
    ----------
    single : Difference
    ours, theirs : int
        Photos of the earlier and of the later occasion.
    """
    share = (1 / ours + 1 / theirs) / 2
    covariance = share * single.covariance + (1 - share) * single.lasting
    return replace(single, covariance=covariance)


def single_of(told: Difference, ours: int, theirs: int) -> Difference:
    """The other way round: what one photo each would have told."""
    share = (1 / ours + 1 / theirs) / 2
    covariance = (told.covariance - (1 - share) * told.lasting) / share
    return replace(told, covariance=covariance)


def advice_of(told: Difference, ours: int, theirs: int) -> Advice | None:
    """How many photos would show a change of `WANTED_SHOWN`; None where these do, or none would."""

    def shown(one: Difference) -> float:
        return smallest_shown((one.lab_from + one.lab_to) / 2, one.covariance)

    if shown(told) <= WANTED_SHOWN:
        return None
    single = single_of(told, ours, theirs)
    ways: tuple[tuple[bool, Callable[[int], int]], ...] = (
        (False, lambda count: ours),
        (True, lambda count: count),
    )
    for each_time, before in ways:
        for count in range(2, MOST_PHOTOS + 1):
            size = shown(with_photos(single, before(count), count))
            if size <= WANTED_SHOWN:
                return Advice(count, each_time, size)
    return None
