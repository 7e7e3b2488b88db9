"""The main job: from a photo to the shades in it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dyeshade.errors import Notice
from dyeshade.measure.by_hand import measure_by_hand, measure_by_seen
from dyeshade.measure.calibrations import Calibrations
from dyeshade.measure.file_pixels import in_file, in_photo
from dyeshade.measure.grey_fit import GreyFit
from dyeshade.measure.lights import ASSUMED, KINDS
from dyeshade.measure.regions import DrawnOnSheet, HandSample, Regions
from dyeshade.measure.result import Measurement
from dyeshade.measure.seen import PatchesSeen
from dyeshade.measure.use_calibrations import NOTHING, Used
from dyeshade.measure.with_sheet import measure_with_sheet
from dyeshade.photo.photo import Photo
from dyeshade.sheet.find import LEAST_PX_PER_MM
from dyeshade.sheet.place import SheetPlace


@dataclass(frozen=True, eq=False)
class DrawnOnKept:
    """Samples drawn by hand, and drawn greys as they were seen when the photo was first measured.

    Attributes
    ----------
    greys : PatchesSeen
    samples : tuple of HandSample
    """

    greys: PatchesSeen
    samples: tuple[HandSample, ...]


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
    used : Used
        What calibrations said of it.
    """

    measurement: Measurement
    fit: GreyFit
    place: SheetPlace | None
    used: Used = NOTHING


def measure_photo(
    photo: Photo,
    regions: Regions | None = None,
    light: str | None = None,
    known: Calibrations | None = None,
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
    known : Calibrations, optional
        Calibrations that may be used where they are of this camera, format and kind of light, or of
        this sheet.

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
    return solve_photo(photo, regions, light, known).measurement


def solve_photo(
    photo: Photo,
    drawn: Regions | DrawnOnSheet | DrawnOnKept | None = None,
    light: str | None = None,
    known: Calibrations | None = None,
    least_px_per_mm: float = LEAST_PX_PER_MM,
) -> Solved:
    """Measure the pieces in a photo, and keep the light that was found.

    Parameters
    ----------
    photo : Photo
    drawn : Regions, DrawnOnSheet or DrawnOnKept, optional
        Greys and samples drawn by hand, for a photo without a reference sheet; or what was changed
        on a photo of the sheet.
    light, known
        As for `measure_photo`.
    least_px_per_mm : float
        A sheet that is smaller in the photo is refused.

    Returns
    -------
    Solved
        Its `place` and `fit` are in pixels of `photo`, its measurement in those of the file.

    Raises
    ------
    DyeshadeError, ValueError
        As `measure_photo`.
    """
    if light is not None and light not in KINDS:
        raise ValueError(f"not a kind of light: {light!r}")
    kind = light or ASSUMED
    place: SheetPlace | None = None
    if photo.shrunk > 1 and isinstance(drawn, Regions | DrawnOnKept):
        raise ValueError("what is drawn without a sheet is measured in the whole photo")
    if isinstance(drawn, Regions):
        measurement, fit, used = measure_by_hand(photo, drawn, kind, known)
    elif isinstance(drawn, DrawnOnKept):
        measurement, fit, used = measure_by_seen(photo, drawn.greys, drawn.samples, kind, known)
    else:
        drawn = drawn and in_photo(drawn, photo)
        found, fit, place, used = measure_with_sheet(photo, kind, drawn, known, least_px_per_mm)
        measurement = in_file(found, photo)
    told = []
    if light is None:
        told.append(Notice("light_assumed", {"light": kind}))
    if photo.flash:
        told.append(Notice("flash_fired", {}))
    measurement = replace(measurement, notices=(*told, *measurement.notices))
    return Solved(measurement, fit, place, used)
