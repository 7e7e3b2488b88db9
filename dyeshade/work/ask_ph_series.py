"""pH series of the library: their curves, a wanted shade's pH, the next bath, two side by side."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.errors import DyeshadeError
from dyeshade.insight.common_part import light_change
from dyeshade.insight.difference import apart
from dyeshade.insight.interval import DifferenceInterval, difference_interval
from dyeshade.insight.ph_curve import LEAST_BATHS, CurveValue, PhCurve, fit_curve
from dyeshade.insight.ph_series import PhSeries, find_series
from dyeshade.insight.ph_wanted import NextBath, WantedPh, nearest_ph, next_bath
from dyeshade.library.find import ShadeQuery
from dyeshade.library.library import Library
from dyeshade.measure.shared_error import alike as how_alike
from dyeshade.work.wanted_colour import WantedColour

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class SeriesAnswer:
    """One series with all that a plot of it needs.

    Attributes
    ----------
    series : PhSeries
        With its points: readings, pH and its uncertainty.
    curve : PhCurve or None
        None for fewer than `dyeshade.insight.ph_curve.LEAST_BATHS` pH.
    as_seen : PhCurve or None
        The curve as its camera and sheet see it, to be set beside other readings by them; the same
        as `curve` where there are several.
    values : tuple of CurveValue
        The curve evenly along the measured pH: for the a* b* and L* curves and the strip.
    wanted : WantedPh or None
    next : NextBath or None
    """

    series: PhSeries
    curve: PhCurve | None
    as_seen: PhCurve | None = None
    values: tuple[CurveValue, ...] = ()
    wanted: WantedPh | None = None
    next: NextBath | None = None


@dataclass(frozen=True)
class BesideAt:
    """Two series beside each other at one pH."""

    ph: float
    difference: DifferenceInterval


ORDER = ("bath_end", "bath_start", "after", "rinse", "extraction")
"""Which pH is taken where none is named and several make series of as many baths."""


def ask_ph_series(
    library: Library,
    query: ShadeQuery,
    which: str | None = None,
    wanted: WantedColour | None = None,
    steps: int = 61,
) -> tuple[SeriesAnswer, ...]:
    """All pH series of the shades that a query asks for, the one with most baths first.

    Parameters
    ----------
    library : Library
    query : ShadeQuery
        Best names a dyestuff; fibres and mordants that it leaves open become series side by side.
    which : str, optional
        Which pH, one of `dyeshade.library.dye_records.WHICH_PH`; unless told, the one that makes
        the series of most pH. They are never pooled.
    wanted : WantedColour, optional
    steps : int
        Values along the curve.

    Returns
    -------
    tuple of SeriesAnswer

    Raises
    ------
    DyeshadeError
        ``no_series``: not one shade has such a pH.
    """
    return tuple(answer_for(one, wanted, steps) for one in most_series(library, query, which))


def most_series(library: Library, query: ShadeQuery, which: str | None = None) -> list[PhSeries]:
    """The series themselves, without their curves. Else as `ask_ph_series`."""
    kinds = ORDER if which is None else (which,)
    series = max((find_series(library, query, kind) for kind in kinds), key=_most_ph)
    if not series:
        raise DyeshadeError("no_series", which=which)
    return series


def _most_ph(series: list[PhSeries]) -> int:
    return max((len({point.ph for point in one.points}) for one in series), default=0)


def answer_for(series: PhSeries, wanted: WantedColour | None, steps: int = 61) -> SeriesAnswer:
    """The answer for one series at hand."""
    if len({point.ph for point in series.points}) < LEAST_BATHS:
        return SeriesAnswer(series, None)
    curve = fit_curve(series)
    as_seen = fit_curve(series, as_seen=True) if series.by_one_set_up else curve
    return with_wanted(SeriesAnswer(series, curve, as_seen, curve.along(steps)), wanted)


def with_wanted(answer: SeriesAnswer, wanted: WantedColour | None) -> SeriesAnswer:
    """The same curve asked for another wanted shade; fitting it takes most of the time."""
    if answer.curve is None or answer.as_seen is None:
        return answer
    found = None if wanted is None else _nearest(answer.curve, answer.as_seen, wanted)
    return replace(answer, wanted=found, next=next_bath(answer.as_seen, found))


def _nearest(curve: PhCurve, as_seen: PhCurve, wanted: WantedColour) -> WantedPh:
    taken = wanted.measured
    if taken is None or not as_seen.as_seen or apart(curve.series.points[0].taken, taken):
        return nearest_ph(curve, wanted.lab, wanted.covariance)
    # One camera and sheet have seen both: what they err alike leaves the difference.
    own = taken.reading.shade.covariance_photo
    if taken.light is not None:
        own = own + light_change(taken.lab, taken.light) / 2
    return nearest_ph(as_seen, wanted.lab, own)


def beside(one: SeriesAnswer, other: SeriesAnswer, steps: int = 9) -> tuple[BesideAt, ...]:
    """How far two series lie apart along the pH that both were measured at.

    Empty where either has no curve or they share no pH. Where one camera and sheet have seen both,
    what they err alike leaves the difference as far as the shades are alike.
    """
    if one.curve is None or other.curve is None:
        return ()
    low = max(one.curve.lowest, other.curve.lowest)
    high = min(one.curve.highest, other.curve.highest)
    if low >= high:
        return ()
    ph = np.linspace(low, high, steps)
    first, second = one.curve, other.curve
    alike = _alike(one, other)
    if alike:
        assert one.as_seen is not None
        assert other.as_seen is not None
        first, second = one.as_seen, other.as_seen
    told = []
    for at, lab_1, spread_1, lab_2, spread_2 in zip(ph, *first.at(ph), *second.at(ph), strict=True):
        covariance = spread_1 + spread_2
        if alike:
            left = 1 - how_alike(float(ciede2000(lab_1, lab_2)))
            covariance = covariance + left * (_common(one) + _common(other))
        told.append(BesideAt(float(at), difference_interval(lab_1, lab_2, covariance)))
    return tuple(told)


def _alike(one: SeriesAnswer, other: SeriesAnswer) -> bool:
    """Whether one camera and sheet have seen both series."""
    both = (one.as_seen, other.as_seen)
    if not all(curve is not None and curve.as_seen for curve in both):
        return False
    return not apart(one.series.points[0].taken, other.series.points[0].taken)


def _common(answer: SeriesAnswer) -> Array:
    shades = [point.taken.reading.shade for point in answer.series.points]
    return np.asarray(np.mean([shade.covariance_common for shade in shades], axis=0))
