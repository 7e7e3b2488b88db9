"""Home fastness tests: a treated half or reading beside an untreated one, graded.

A home test has no standard lamp, soap or rubbing finger, and no trained eye under a booth's light:
its grades compare a dyer's own pieces and are no certificate. In one photo both halves share the
camera, the sheet and the light, so that nearly all of those errors cancel.

References
----------
ISO 105-B01:2014 and ISO 105-B02:2014 (fading beside blue wool references 1 to 8; a fastness is the
number of the reference that fades alike). ISO 105-C06, E04, X12 name washing, perspiration and
rubbing under laboratory conditions; none of them is done here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from dyeshade.insight.difference import Difference, DifferenceOf, Measured, stored_difference
from dyeshade.insight.drift import Change, change_of
from dyeshade.insight.grades import staining_difference, staining_grade, staining_half
from dyeshade.insight.interval import DifferenceInterval, difference_interval

TESTS = ("light", "wash", "acid_dip", "alkaline_dip", "rubbing")
"""Home tests. The dips tell most of a dye whose colour turns with pH."""

BLUE_WOOLS = (1, 2, 3, 4, 5, 6, 7, 8)
"""Numbers of the blue wool references of ISO 105-B, from fleeting to fast."""

LIGHT_DAYS = (1, 2, 4, 8, 16, 32, 64, 128, 256)
"""Days of light after which the next photo is due: each twice the one before (ours)."""


@dataclass(frozen=True, eq=False)
class Pair:
    """Untreated and treated: two halves in one photo, or one piece before and after."""

    untreated: Measured
    treated: Measured


@dataclass(frozen=True, eq=False)
class HomeStep:
    """One photo of a test.

    Attributes
    ----------
    read : datetime
        When the treated reading was taken.
    change : Change
        From untreated to treated; its grade is that for change in colour.
    """

    read: datetime
    change: Change

    @property
    def in_one_photo(self) -> bool:
        """Whether both halves are in one photo."""
        return self.change.difference.how in ("one_photo", "together")


@dataclass(frozen=True, eq=False)
class Staining:
    """White cloth that lay or rubbed against the piece, before and after.

    Attributes
    ----------
    size : DifferenceInterval
    half : str
        Grade for staining in halves, as "4-5" (ISO 105-A04).
    grade, worst, best : float
        5 (none) to 1: of the stated shades, and at the ends of the 95 % interval.
    """

    difference: Difference
    size: DifferenceInterval
    half: str
    grade: float
    worst: float
    best: float


@dataclass(frozen=True)
class BesideBlueWools:
    """How a piece faded beside blue wool references in the same light.

    Attributes
    ----------
    faded_more, faded_less : int or None
        The fastest reference that faded more than the piece, and the most fleeting that faded
        less; None where there is none. The fastness lies between them.
    alike : tuple of int
        References that can't be told from the piece.
    """

    faded_more: int | None
    faded_less: int | None
    alike: tuple[int, ...]


@dataclass(frozen=True, eq=False)
class HomeTest:
    """What a home test came to; never a certificate.

    Attributes
    ----------
    kind : str
        One of `TESTS`.
    steps : tuple of HomeStep
        In the order of time; the last one counts.
    staining : tuple of Staining
    beside_blue_wools : BesideBlueWools or None
    """

    kind: str
    steps: tuple[HomeStep, ...]
    staining: tuple[Staining, ...] = ()
    beside_blue_wools: BesideBlueWools | None = None

    @property
    def result(self) -> HomeStep:
        """The latest step."""
        return self.steps[-1]


def home_test(
    kind: str,
    pairs: Sequence[Pair],
    white: Sequence[Pair] = (),
    blue_wools: Mapping[int, Pair] | None = None,
    difference_of: DifferenceOf = stored_difference,
) -> HomeTest:
    """Grade a home test.

    Parameters
    ----------
    kind : str
        One of `TESTS`.
    pairs : sequence of Pair
        One for each photo; at least one.
    white : sequence of Pair
        White cloth beside it, before and after.
    blue_wools : mapping of int to Pair, optional
        By their numbers, covered and exposed, as of the latest photo; for light alone.
    difference_of : callable

    Returns
    -------
    HomeTest
    """
    if kind not in TESTS or not pairs:
        raise ValueError(f"no home test {kind!r} of {len(pairs)} pairs")
    if blue_wools and (kind != "light" or not set(blue_wools) <= set(BLUE_WOOLS)):
        raise ValueError(f"blue wools {sorted(blue_wools)} in a test of {kind}")
    steps = tuple(
        HomeStep(pair.treated.reading.read, change_of(difference_of(pair.untreated, pair.treated)))
        for pair in sorted(pairs, key=lambda one: one.treated.reading.read)
    )
    stains = tuple(_staining(difference_of(pair.untreated, pair.treated)) for pair in white)
    beside = None
    if blue_wools:
        changes = {
            number: change_of(difference_of(pair.untreated, pair.treated))
            for number, pair in blue_wools.items()
        }
        beside = beside_blue_wools(steps[-1].change, changes)
    return HomeTest(kind, steps, stains, beside)


def _staining(difference: Difference) -> Staining:
    size = difference_interval(difference.lab_from, difference.lab_to, difference.covariance)
    seen = staining_difference(difference.lab_from, difference.lab_to)
    ratio = seen / size.value if size.value > 1e-6 else 1.0
    return Staining(
        difference,
        size,
        staining_half(seen),
        staining_grade(seen),
        staining_grade(ratio * size.high),
        staining_grade(ratio * size.low),
    )


def beside_blue_wools(piece: Change, references: Mapping[int, Change]) -> BesideBlueWools:
    """Set a piece's fading beside that of blue wool references, by ISO 105-A05's difference."""
    more: list[int] = []
    less: list[int] = []
    alike: list[int] = []
    least, most = piece.grade.best, piece.grade.worst
    for number, change in sorted(references.items()):
        if change.grade.difference > piece.grade.difference:
            more.append(number)
        else:
            less.append(number)
        # Grades run downwards: 5 is no change.
        if change.grade.worst <= least and change.grade.best >= most:
            alike.append(number)
    return BesideBlueWools(max(more, default=None), min(less, default=None), tuple(alike))


def next_photo_due(begun: datetime, last: datetime | None) -> datetime | None:
    """When the next photo of a light test is due; None after the last of `LIGHT_DAYS`.

    Parameters
    ----------
    begun : datetime
        When the piece was put into the light.
    last : datetime or None
        When it was last read since.
    """
    for days in LIGHT_DAYS:
        due = begun + timedelta(days=days)
        if last is None or last < due:
            return due
    return None
