"""The main job: from a photo to the shades in it."""

from __future__ import annotations

from dataclasses import replace

from dyeshade.errors import Notice
from dyeshade.measure.by_hand import measure_by_hand
from dyeshade.measure.lights import ASSUMED, KINDS
from dyeshade.measure.regions import Regions
from dyeshade.measure.result import Measurement
from dyeshade.measure.with_sheet import measure_with_sheet
from dyeshade.photo.photo import Photo


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
    if light is not None and light not in KINDS:
        raise ValueError(f"not a kind of light: {light!r}")
    kind = light or ASSUMED
    if regions is None:
        measurement, _, _ = measure_with_sheet(photo, kind)
    else:
        measurement = measure_by_hand(photo, regions, kind)
    told = []
    if light is None:
        told.append(Notice("light_assumed", {"light": kind}))
    if photo.flash:
        told.append(Notice("flash_fired", {}))
    return replace(measurement, notices=(*told, *measurement.notices))
