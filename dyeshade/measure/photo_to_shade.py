"""The main job: from a photo to the shades in it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dyeshade.errors import Notice
from dyeshade.measure.by_hand import measure_by_hand
from dyeshade.measure.grey_fit import GreyFit
from dyeshade.measure.lights import ASSUMED, KINDS
from dyeshade.measure.regions import DrawnOnSheet, Regions
from dyeshade.measure.result import Measurement
from dyeshade.measure.with_sheet import measure_with_sheet
from dyeshade.photo.photo import Photo
from dyeshade.sheet.place import SheetPlace


@dataclass(frozen=True, eq=False)
class Solved:
    """A measured photo with what its numbers rest on.

    Attributes
    ----------
    measurement : Measurement
    fit : GreyFit
        Its places are mm on the page, or pixels of the photo where there is no sheet.
    place : SheetPlace or None
        None where greys were drawn by hand.
    """

    measurement: Measurement
    fit: GreyFit
    place: SheetPlace | None


def measure_photo(
    photo: Photo, regions: Regions | None = None, light: str | None = None
) -> Measurement:
    """Measure the pieces in a photo.

    Parameters
    ----------
    photo : Photo
    regions : Regions, optional
        Greys and samples drawn by hand, for a photo without a reference sheet.
    light : str, optional
        Kind of light, one of `dyeshade.measure.lights.KINDS`; daylight is assumed, and that said,
        where it is not named.

    Returns
    -------
    Measurement

    Raises
    ------
    DyeshadeError
        Where the photo cannot be measured; see `measure_with_sheet` and `measure_by_hand`.
    ValueError
        For a kind of light that is none.
    """
    return solve_photo(photo, regions, light).measurement


def solve_photo(
    photo: Photo, drawn: Regions | DrawnOnSheet | None = None, light: str | None = None
) -> Solved:
    """Measure the pieces in a photo, and keep the light that was found.

    Parameters
    ----------
    photo : Photo
    drawn : Regions or DrawnOnSheet, optional
        Greys and samples drawn by hand, for a photo without a reference sheet; or what was changed
        on a photo of the sheet.
    light : str, optional
        As for `measure_photo`.

    Returns
    -------
    Solved

    Raises
    ------
    DyeshadeError, ValueError
        As `measure_photo`.
    """
    if light is not None and light not in KINDS:
        raise ValueError(f"not a kind of light: {light!r}")
    kind = light or ASSUMED
    place: SheetPlace | None = None
    if isinstance(drawn, Regions):
        measurement, fit = measure_by_hand(photo, drawn, kind)
    else:
        measurement, fit, place = measure_with_sheet(photo, kind, drawn)
    told = []
    if light is None:
        told.append(Notice("light_assumed", {"light": kind}))
    if photo.flash:
        told.append(Notice("flash_fired", {}))
    measurement = replace(measurement, notices=(*told, *measurement.notices))
    return Solved(measurement, fit, place)
