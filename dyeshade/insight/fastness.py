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
from dataclasses import dataclass, field
from datetime import datetime

from dyeshade.insight.blue_wools import BLUE_WOOLS as BLUE_WOOLS
from dyeshade.insight.blue_wools import BesideBlueWools as BesideBlueWools
from dyeshade.insight.blue_wools import beside_blue_wools
from dyeshade.insight.change import Change, change_of
from dyeshade.insight.difference import Difference, DifferenceOf, Measured, stored_difference
from dyeshade.insight.fastness_days import is_before
from dyeshade.insight.grades import staining_difference, staining_grade, staining_half
from dyeshade.insight.interval import DifferenceInterval, difference_interval

TESTS = ("light", "wash", "acid_dip", "alkaline_dip", "rubbing")
"""Home tests. The dips tell most of a dye whose colour turns with pH."""


@dataclass(frozen=True, eq=False)
class Pair:
    """Untreated and treated: two halves in one photo, or one piece before and after."""

    untreated: Measured
    treated: Measured


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
    reading_id : int or None
        The reading of the stained cloth.
    """

    difference: Difference
    size: DifferenceInterval
    half: str
    grade: float
    worst: float
    best: float
    reading_id: int | None = None


@dataclass(frozen=True, eq=False)
class StepPairs:
    """What of one photo belongs to a test.

    Attributes
    ----------
    piece : Pair or None
        None where only white cloth was looked at, as after rubbing.
    white : tuple of Pair
        White cloth: clean, and where it lay or rubbed against the piece.
    blue_wools : mapping of int to Pair
        By their numbers, covered and exposed.
    """

    piece: Pair | None = None
    white: tuple[Pair, ...] = ()
    blue_wools: Mapping[int, Pair] = field(default_factory=dict)

    @property
    def read(self) -> datetime:
        """When the treated readings were taken, by the latest of them."""
        pairs = (*self.white, *self.blue_wools.values())
        pairs = pairs if self.piece is None else (self.piece, *pairs)
        return max(pair.treated.reading.read for pair in pairs)


@dataclass(frozen=True, eq=False)
class HomeStep:
    """One photo of a test.

    Attributes
    ----------
    read : datetime
        When the treated reading was taken.
    change : Change or None
        From untreated to treated; its grade is that for change in colour. None where only white
        cloth was looked at.
    staining : tuple of Staining
    blue_wools : mapping of int to Change
        What became of the blue wool references beside it, by their numbers.
    reading_id : int or None
        The treated reading.
    wool_ids : mapping of int to int
        The reading of each blue wool's bare half.
    """

    read: datetime
    change: Change | None
    staining: tuple[Staining, ...] = ()
    blue_wools: Mapping[int, Change] = field(default_factory=dict)
    reading_id: int | None = None
    wool_ids: Mapping[int, int] = field(default_factory=dict)

    @property
    def in_one_photo(self) -> bool:
        """Whether both halves are in one photo."""
        return self.change is None or self.change.difference.how == "one_photo"

    @property
    def beside_blue_wools(self) -> BesideBlueWools | None:
        """How the piece faded beside them; None where there are none."""
        if self.change is None or not self.blue_wools:
            return None
        return beside_blue_wools(self.change, self.blue_wools)


@dataclass(frozen=True, eq=False)
class HomeTest:
    """What a home test came to; never a certificate.

    Attributes
    ----------
    kind : str
        One of `TESTS`.
    steps : tuple of HomeStep
        In the order of time; the last one counts.
    begun : datetime or None
        When it was begun; None where it was never set up, but found in a piece's history.
    """

    kind: str
    steps: tuple[HomeStep, ...]
    begun: datetime | None = None

    def is_before(self, step: HomeStep) -> bool:
        """Whether a photo was taken before the test, and shows both halves as they were."""
        return self.begun is not None and is_before(self.kind, self.begun, step.read)

    @property
    def treated(self) -> tuple[HomeStep, ...]:
        """The photos taken since the test was begun."""
        return tuple(step for step in self.steps if not self.is_before(step))

    @property
    def result(self) -> HomeStep:
        """The latest step."""
        return self.steps[-1]

    @property
    def change(self) -> Change | None:
        """The latest change of the piece itself, None where none was photographed yet."""
        found = [step.change for step in self.treated if step.change is not None]
        return found[-1] if found else None

    @property
    def staining(self) -> tuple[Staining, ...]:
        """That of the latest photo that shows white cloth."""
        found = [step.staining for step in self.treated if step.staining]
        return found[-1] if found else ()

    @property
    def beside_blue_wools(self) -> BesideBlueWools | None:
        """That of the latest photo that shows blue wools."""
        found = [step.beside_blue_wools for step in self.treated]
        return next((one for one in reversed(found) if one is not None), None)

    @property
    def untreated(self) -> Change | None:
        """How the halves differed in the last photo before the test; None where there is none."""
        found = [step.change for step in self.steps if self.is_before(step)]
        return next((one for one in reversed(found) if one is not None), None)

    @property
    def uneven(self) -> Change | None:
        """The same where they surely differed."""
        before = self.untreated
        return before if before is not None and before.size.significant else None


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
    ordered = sorted(pairs, key=lambda one: one.treated.reading.read)
    steps = [StepPairs(pair) for pair in ordered[:-1]]
    steps.append(StepPairs(ordered[-1], tuple(white), dict(blue_wools or {})))
    return home_test_of(kind, steps, None, difference_of)


def home_test_of(
    kind: str,
    steps: Sequence[StepPairs],
    begun: datetime | None,
    difference_of: DifferenceOf = stored_difference,
) -> HomeTest:
    """Grade a home test photo by photo.

    Parameters
    ----------
    kind : str
        One of `TESTS`.
    steps : sequence of StepPairs
        At least one.
    begun : datetime or None
    difference_of : callable

    Returns
    -------
    HomeTest
    """
    if kind not in TESTS or not steps:
        raise ValueError(f"no home test {kind!r} of {len(steps)} photos")
    for one in steps:
        if one.blue_wools and (kind != "light" or not set(one.blue_wools) <= set(BLUE_WOOLS)):
            raise ValueError(f"blue wools {sorted(one.blue_wools)} in a test of {kind}")
    ordered = sorted(steps, key=lambda one: one.read)
    return HomeTest(kind, tuple(_step(one, difference_of) for one in ordered), begun)


def _step(pairs: StepPairs, difference_of: DifferenceOf) -> HomeStep:
    def change(pair: Pair) -> Change:
        return change_of(difference_of(pair.untreated, pair.treated))

    return HomeStep(
        pairs.read,
        None if pairs.piece is None else change(pairs.piece),
        tuple(_staining(one, difference_of) for one in pairs.white),
        {number: change(pair) for number, pair in sorted(pairs.blue_wools.items())},
        None if pairs.piece is None else pairs.piece.treated.reading.id,
        {number: pair.treated.reading.id for number, pair in pairs.blue_wools.items()},
    )


def _staining(pair: Pair, difference_of: DifferenceOf) -> Staining:
    difference = difference_of(pair.untreated, pair.treated)
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
        pair.treated.reading.id,
    )
