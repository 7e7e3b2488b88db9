"""From one reading to another: how far, in which ways, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass

from dyeshade.insight.components import Parts, parts_of
from dyeshade.insight.difference import Difference
from dyeshade.insight.grades import change_difference, change_grade, change_half
from dyeshade.insight.interval import DifferenceInterval, difference_interval


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
