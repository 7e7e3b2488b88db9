"""A shade picked from a photo: of one of its samples, or of a spot on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.insight.difference import Measured
from dyeshade.library.shade_records import Reading, six_of
from dyeshade.measure.calibrations import NO_CALIBRATIONS, Calibrations
from dyeshade.measure.method import METHOD_VERSION
from dyeshade.measure.regions import DrawnOnSheet, HandSample
from dyeshade.measure.result import Measurement, Shade
from dyeshade.sheet.kinds import PAPERS
from dyeshade.work.side_by_side import Crashed, Warm, run_each

Array = NDArray[np.float64]

SPOT = "spot"
"""Name of a sample that is a spot somebody pointed at."""

ACROSS_MM = 8.0
"""How wide a spot is unless told, on the page: some turns of yarn, and never a cell's whole."""

_CORNERS = 16


@dataclass(frozen=True, eq=False)
class PickedShade:
    """A shade that a photo told, of something that need be no piece of the library.

    Attributes
    ----------
    photo, sample : str
        The photo's file name, and the sample's; `SPOT` for a spot.
    shade : Shade
    notices : tuple of Notice
        What a reader of this number must know.
    taken : datetime or None
    camera, file_format, serial, light
        What it was measured with, as `dyeshade.insight.difference.Measured`: where readings were
        measured with the same, what both err alike leaves the difference.
    calibration_id : int or None
    path : str
        The photo's file, "" where it is not known: the library may keep that sample.
    """

    photo: str
    sample: str
    shade: Shade
    notices: tuple[Notice, ...] = ()
    taken: datetime | None = None
    camera: str | None = None
    file_format: str | None = None
    serial: str | None = None
    light: str | None = None
    calibration_id: int | None = None
    path: str = ""


def picked(measurement: Measurement, sample: str, photo: str) -> PickedShade:
    """One of the shades of a measured photo.

    Parameters
    ----------
    measurement : Measurement
    sample : str
        Its name; small letters will do where no other is meant.
    photo : str
        The photo's path or name.

    Returns
    -------
    PickedShade

    Raises
    ------
    DyeshadeError
        ``sample_not_in_photo`` (sample, photo, samples).
    """
    names = [one.name for one in measurement.samples]
    same = [name for name in names if name == sample] or [
        name for name in names if name.casefold() == sample.strip().casefold()
    ]
    name = Path(photo).name
    if not same:
        raise DyeshadeError("sample_not_in_photo", sample=sample, photo=name, samples=names)
    found = measurement.samples[names.index(same[0])]
    return PickedShade(
        name,
        found.name,
        found.shade,
        found.notices,
        measurement.taken,
        measurement.camera,
        measurement.file_format or None,
        measurement.sheet.serial if measurement.sheet else None,
        measurement.light,
        measurement.calibration_id,
        photo,
    )


def as_measured(one: PickedShade) -> Measured:
    """The same as a reading that is not kept: its id is 0, and it belongs to no piece.

    The time of measuring is the photo's own, and tells nothing.
    """
    lab = tuple(float(value) for value in one.shade.lab)
    levels, in_gamut = lab_to_srgb(one.shade.lab)
    when = one.taken or datetime(1970, 1, 1)
    reading = Reading(
        piece_id=0,
        sample=one.sample,
        read=when,
        state="dry",
        lab_l=lab[0],
        lab_a=lab[1],
        lab_b=lab[2],
        covariance_photo=six_of(one.shade.covariance_photo),
        covariance_common=six_of(one.shade.covariance_common),
        u95=float(one.shade.u95),
        srgb="#{:02x}{:02x}{:02x}".format(*levels),
        in_gamut=in_gamut,
        measured=when,
        method_version=METHOD_VERSION,
        calibration_id=one.calibration_id,
    )
    return Measured(reading, one.camera, one.file_format, one.serial, one.light)


def spot_at(
    at: Sequence[float], measurement: Measurement, across_mm: float = ACROSS_MM
) -> HandSample:
    """A round spot about a place in a photo of the sheet.

    Parameters
    ----------
    at : sequence of 2 floats
        x to the right and y down, pixels of the upright photo.
    measurement : Measurement
        Of that photo: its sheet tells how large a millimetre is.
    across_mm : float
        How wide the spot is, in mm on the page.

    Returns
    -------
    HandSample

    Raises
    ------
    DyeshadeError
        ``no_sheet_for_spot`` where there is no sheet in the photo.
    """
    if measurement.sheet is None:
        raise DyeshadeError("no_sheet_for_spot")
    # Its mean over the page: a spot need not be round to a millimetre.
    page = PAPERS[measurement.sheet.paper]
    radius = across_mm / 2 * (area_of(measurement.sheet.outline_px) / (page[0] * page[1])) ** 0.5
    turns = np.linspace(0, 2 * np.pi, _CORNERS, endpoint=False)
    corners = np.asarray(at, float) + radius * np.stack([np.cos(turns), np.sin(turns)], axis=-1)
    return HandSample(SPOT, corners)


def area_of(outline: Array) -> float:
    """What a closed outline encloses, shape (k, 2), in its units squared."""
    x, y = np.asarray(outline, float).T
    return float(abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2


@dataclass(frozen=True, eq=False)
class PickFrom:
    """What is to be picked: a sample of a photo by its name, or else the spot at a place.

    Attributes
    ----------
    path : str
    sample : str
        "" for a spot.
    at : tuple of 2 floats or None
        As for `spot_at`.
    light : str or None
        One of `dyeshade.measure.lights.KINDS`; None where nobody named it.
    known : Calibrations
        Those that may be used.
    seen : Measurement or None
        Of the same photo, where it is known already: it tells where the sheet is, and its cells
        need not be measured again.
    """

    path: str
    sample: str = ""
    at: tuple[float, float] | None = None
    across_mm: float = ACROSS_MM
    light: str | None = None
    known: Calibrations = NO_CALIBRATIONS
    seen: Measurement | None = None


def pick(wanted: PickFrom, warm: Warm | None = None) -> PickedShade:
    """Pick a shade from a photo file, read in a process of its own.

    Parameters
    ----------
    wanted : PickFrom
    warm : Warm, optional
        Takes it where it is free.

    Returns
    -------
    PickedShade

    Raises
    ------
    DyeshadeError
        Where the photo cannot be measured; ``sample_not_in_photo``, ``sample_not_told`` (photo,
        samples) where there are several and none was named.
    """
    (finished,) = run_each(_pick_here, [wanted], warm=warm)
    found = finished.found
    if isinstance(found, Crashed):
        raise DyeshadeError("reader_crashed")
    if isinstance(found, DyeshadeError):
        raise found
    return found


def _pick_here(wanted: PickFrom) -> PickedShade | DyeshadeError:
    from dyeshade.photo.vision import use_threads

    use_threads(1)
    try:
        return _picked_in(wanted)
    except DyeshadeError as error:
        return error
    except MemoryError:
        return DyeshadeError("not_enough_memory")


def _picked_in(wanted: PickFrom) -> PickedShade:
    from dyeshade.measure.halved_first import solve_file

    measurement = wanted.seen
    if measurement is None or wanted.at is None:
        measurement = solve_file(wanted.path, None, wanted.light, wanted.known)[1].measurement
    sample = wanted.sample
    if wanted.at is not None:
        spot = spot_at(wanted.at, measurement, wanted.across_mm)
        cells = frozenset(one.name for one in measurement.samples)
        drawn = DrawnOnSheet((spot,), cells)
        measurement = solve_file(wanted.path, drawn, wanted.light, wanted.known)[1].measurement
        sample = spot.name
    elif not sample:
        names = [one.name for one in measurement.samples]
        if len(names) != 1:
            raise DyeshadeError("sample_not_told", photo=Path(wanted.path).name, samples=names)
        sample = names[0]
    return picked(measurement, sample, wanted.path)
