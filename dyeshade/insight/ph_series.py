"""pH series: shades of one dyestuff at otherwise equal conditions, along one kind of pH."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from dyeshade.insight.as_dyed import as_dyed
from dyeshade.insight.difference import Measured, measured, set_up_of
from dyeshade.library.conditions import BathConditions, Tolerance, are_repeats
from dyeshade.library.dye_records import AFTER_A_BATH, IN_A_BATH, WHICH_PH
from dyeshade.library.find import FoundShade, ShadeQuery, find_shades
from dyeshade.library.library import Library

FREE: Mapping[str, tuple[str, ...]] = {
    "extraction": ("extraction",),
    # A bath's end follows from its start.
    "bath_start": ("bath_start", "bath_end"),
    "bath_end": ("bath_start", "bath_end"),
    "after": ("after",),
    "rinse": ("rinse",),
}
"""Which pH may differ within a series along one of them; every other one that was read must agree.
"""

PH_SD: Mapping[str, float] = {"meter": 0.05, "strip": 0.3}
"""Standard uncertainty of a pH by what it was read with (common practice, no source)."""

PH_SD_UNKNOWN = 0.15
"""Where it was not written down (ours: between the two)."""


@dataclass(frozen=True, eq=False)
class SeriesPoint:
    """A reading in a series.

    Attributes
    ----------
    shade : FoundShade
    taken : Measured
        The reading with what was used to take it.
    ph, ph_sd : float
    bath : tuple
        What readings of one bath (or of one afterbath, dip, rinse) have in common.
    """

    shade: FoundShade
    taken: Measured
    ph: float
    ph_sd: float
    bath: tuple[str, int]


@dataclass(frozen=True, eq=False)
class PhSeries:
    """Shades against pH at otherwise equal conditions.

    Attributes
    ----------
    which : str
        One of `dyeshade.library.dye_records.WHICH_PH`.
    conditions : BathConditions
        Of the reading of lowest pH; the others' agree with them but for the pH.
    state : str
        "wet" or "dry".
    points : tuple of SeriesPoint
        From the lowest pH to the highest.
    """

    which: str
    conditions: BathConditions
    state: str
    points: tuple[SeriesPoint, ...]

    @property
    def baths(self) -> int:
        """How many baths (afterbaths, dips, rinses) it has; repeats are baths of their own."""
        return len({point.bath for point in self.points})

    @property
    def by_one_set_up(self) -> bool:
        """Whether one camera on one sheet in one kind of light has seen all of it."""
        return len({set_up_of(point.taken) for point in self.points}) == 1


def ph_of(shade: FoundShade, which: str) -> tuple[float, float, tuple[str, int]] | None:
    """A reading's pH of a kind, its standard uncertainty, and the bath or treatment it is of."""
    ph = shade.conditions.ph(which)
    if ph is None:
        return None
    steps = shade.history.before(shade.reading)
    last = max((k for k, step in enumerate(steps) if step.treatment.kind in IN_A_BATH), default=-1)
    if which in WHICH_PH[:3]:
        bath = steps[last].bath
        assert bath is not None, "a pH of a bath comes with its bath"
        read = [one for one in bath.ph_readings if one.which == which]
        sd = _sd(read[-1].ph_sd, read[-1].by) if read else PH_SD_UNKNOWN
        return ph, sd, ("bath", bath.bath.id)
    kinds = ("rinse",) if which == "rinse" else AFTER_A_BATH
    step = [one for one in steps[last + 1 :] if one.treatment.kind in kinds and one.ph is not None][
        -1
    ]
    return ph, _sd(step.ph_sd, step.ph_by), ("treatment", step.treatment.id)


def _sd(written: float | None, by: str) -> float:
    return written or PH_SD.get(by.strip().casefold(), PH_SD_UNKNOWN)


def find_series(
    library: Library, query: ShadeQuery, which: str, tolerance: Tolerance | None = None
) -> list[PhSeries]:
    """All series of the shades that a query asks for, the one with most baths first.

    Parameters
    ----------
    library : Library
    query : ShadeQuery
        Its pH bounds are looked at as `which` says.
    which : str
        One of `dyeshade.library.dye_records.WHICH_PH`.
    tolerance : Tolerance, optional
        Of everything but that pH.

    Returns
    -------
    list of PhSeries
        One for each other fibre, mordant, ratio and so on; those of one bath too. Washed and faded
        pieces are left out (`dyeshade.insight.as_dyed`).
    """
    found = as_dyed(find_shades(library, replace(query, ph_which=which)))
    readings = {one.reading.id: one for one in measured(library, (one.reading for one in found))}
    return series_in([(one, readings[one.reading.id]) for one in found], which, tolerance)


def series_in(
    found: Iterable[tuple[FoundShade, Measured]], which: str, tolerance: Tolerance | None = None
) -> list[PhSeries]:
    """Series among shades at hand. Else as `find_series`."""
    groups: list[tuple[BathConditions, str, list[SeriesPoint]]] = []
    points = []
    for shade, taken in found:
        known = ph_of(shade, which)
        if known is not None:
            points.append(SeriesPoint(shade, taken, *known))
    for point in sorted(points, key=lambda one: (one.ph, one.shade.reading.id)):
        conditions = _but_for(point.shade.conditions, which)
        state = "wet" if point.shade.reading.state == "wet" else "dry"
        for first, of_state, members in groups:
            if of_state == state and are_repeats(first, conditions, tolerance):
                members.append(point)
                break
        else:
            groups.append((conditions, state, [point]))
    series = [
        PhSeries(which, members[0].shade.conditions, state, tuple(members))
        for _, state, members in groups
    ]
    return sorted(series, key=lambda one: (-one.baths, -len(one.points)))


def _but_for(conditions: BathConditions, which: str) -> BathConditions:
    """Conditions without the pH that a series runs along."""
    kept = tuple((kind, ph) for kind, ph in conditions.ph_values if kind not in FREE[which])
    return replace(conditions, ph_values=kept, acted=None)
