"""pH series of the library: their curves, a wanted shade's pH, the next bath, two side by side."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from dyeshade.errors import DyeshadeError
from dyeshade.insight.common_part import light_change
from dyeshade.insight.difference import apart
from dyeshade.insight.interval import DifferenceInterval, difference_interval
from dyeshade.insight.ph_curve import LEAST_BATHS, CurveValue, PhCurve, fit_curve, set_ups
from dyeshade.insight.ph_series import PhSeries, find_series
from dyeshade.insight.ph_wanted import NextBath, WantedPh, nearest_ph, next_bath
from dyeshade.library.find import ShadeQuery
from dyeshade.library.library import Library
from dyeshade.work.wanted_colour import WantedColour


@dataclass(frozen=True, eq=False)
class SeriesAnswer:
    """One series with all that a plot of it needs.

    Attributes
    ----------
    series : PhSeries
        With its points: readings, pH and its uncertainty.
    curve : PhCurve or None
        None for fewer than `dyeshade.insight.ph_curve.LEAST_BATHS` pH.
    values : tuple of CurveValue
        The curve evenly along the measured pH: for the a* b* and L* curves and the strip.
    wanted : WantedPh or None
    next : NextBath or None
    """

    series: PhSeries
    curve: PhCurve | None
    values: tuple[CurveValue, ...] = ()
    wanted: WantedPh | None = None
    next: NextBath | None = None


@dataclass(frozen=True)
class BesideAt:
    """Two series beside each other at one pH."""

    ph: float
    difference: DifferenceInterval


def ask_ph_series(
    library: Library,
    query: ShadeQuery,
    which: str,
    wanted: WantedColour | None = None,
    steps: int = 61,
) -> tuple[SeriesAnswer, ...]:
    """All pH series of the shades that a query asks for, the one with most baths first.

    Parameters
    ----------
    library : Library
    query : ShadeQuery
        Best names a dyestuff; fibres and mordants that it leaves open become series side by side.
    which : str
        Which pH, one of `dyeshade.library.dye_records.WHICH_PH`.
    wanted : WantedColour, optional
    steps : int
        Values along the curve.

    Returns
    -------
    tuple of SeriesAnswer

    Raises
    ------
    DyeshadeError
        ``no_series`` (which): not one shade has that pH.
    """
    series = find_series(library, query, which)
    if not series:
        raise DyeshadeError("no_series", which=which)
    return tuple(answer_for(one, wanted, steps) for one in series)


def answer_for(series: PhSeries, wanted: WantedColour | None, steps: int = 61) -> SeriesAnswer:
    """The answer for one series at hand."""
    if len({point.ph for point in series.points}) < LEAST_BATHS:
        return SeriesAnswer(series, None)
    curve = fit_curve(series)
    found = None if wanted is None else _nearest(curve, wanted)
    return SeriesAnswer(series, curve, curve.along(steps), found, next_bath(curve, found))


def _nearest(curve: PhCurve, wanted: WantedColour) -> WantedPh:
    series, taken = curve.series, wanted.measured
    if taken is None or len(set_ups(series)) > 1 or apart(series.points[0].taken, taken):
        return nearest_ph(curve, wanted.lab, wanted.covariance)
    # One camera and sheet have seen both: what they err alike leaves the difference.
    own = taken.reading.shade.covariance_photo
    if taken.light is not None:
        own = own + light_change(taken.lab, taken.light) / 2
    return nearest_ph(fit_curve(series, as_seen=True), wanted.lab, own)


def beside(one: SeriesAnswer, other: SeriesAnswer, steps: int = 9) -> tuple[BesideAt, ...]:
    """How far two series lie apart along the pH that both were measured at.

    Empty where either has no curve or they share no pH. What both err alike is left in.
    """
    if one.curve is None or other.curve is None:
        return ()
    low = max(one.curve.lowest, other.curve.lowest)
    high = min(one.curve.highest, other.curve.highest)
    if low >= high:
        return ()
    ph = np.linspace(low, high, steps)
    pairs = zip(ph, *one.curve.at(ph), *other.curve.at(ph), strict=True)
    return tuple(
        BesideAt(float(at), difference_interval(lab_1, lab_2, spread_1 + spread_2))
        for at, lab_1, spread_1, lab_2, spread_2 in pairs
    )
