"""Nearest shades of the library, with their pieces and baths."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dyeshade.insight.difference import measured, stored_difference
from dyeshade.insight.interval import chance_below, difference_interval
from dyeshade.insight.nearest import NearShade, nearest_shades
from dyeshade.insight.tolerance import TOLERANCE
from dyeshade.library.find import FoundShade, ShadeQuery, find_shades, found_shades
from dyeshade.library.library import Library
from dyeshade.library.shade_columns import columns_of, shade_columns
from dyeshade.library.shade_records import Reading
from dyeshade.work.wanted_colour import WantedColour

_MORE = 3
"""So many times as many are looked at again where a common error may leave the difference."""


@dataclass(frozen=True, eq=False)
class NearAnswer:
    """A shade of the library and how near it comes to the wanted one."""

    shade: FoundShade
    near: NearShade


def ask_nearest(
    library: Library,
    wanted: WantedColour,
    query: ShadeQuery | None = None,
    tolerance: float = TOLERANCE,
    most: int = 10,
) -> tuple[NearAnswer, ...]:
    """The shades nearest to a colour, the nearest first; one of each piece.

    Parameters
    ----------
    library : Library
    wanted : WantedColour
        Its own piece is left out.
    query : ShadeQuery, optional
        Which shades are looked through; all dry ones unless told.
    tolerance : float
        CIEDE2000 for the chance.
    most : int

    Returns
    -------
    tuple of NearAnswer
    """
    if query is None:
        columns = shade_columns(library)
    else:
        found = find_shades(library, query)
        kept = [one.reading for one in found if query.state or one.reading.state != "wet"]
        columns = columns_of(kept)
    near = nearest_shades(columns, wanted.lab, wanted.covariance, tolerance, _MORE * most + 1)
    readings = library.among(Reading, "id", [one.reading_id for one in near])
    shades = {one.reading.id: one for one in found_shades(library, readings)}
    if wanted.measured is not None:
        own = wanted.measured.reading.piece_id
        near = _told_together(
            library, [one for one in near if one.piece_id != own], wanted, tolerance
        )
    return tuple(NearAnswer(shades[one.reading_id], one) for one in near[:most])


def _told_together(
    library: Library, near: list[NearShade], wanted: WantedColour, tolerance: float
) -> list[NearShade]:
    """The same with what both readings err alike taken out."""
    assert wanted.measured is not None
    readings = library.among(Reading, "id", [one.reading_id for one in near])
    taken = {one.reading.id: one for one in measured(library, readings)}
    told = []
    for one in near:
        difference = stored_difference(wanted.measured, taken[one.reading_id])
        ends = (difference.lab_from, difference.lab_to, difference.covariance)
        told.append(
            replace(
                one,
                difference=difference_interval(*ends),
                chance=chance_below(*ends, tolerance),
            )
        )
    return sorted(told, key=lambda one: one.difference.value)
