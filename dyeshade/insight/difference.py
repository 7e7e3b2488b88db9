"""The difference of two readings, with what their errors have in common taken out.

This is the seam for whoever can tell more of a difference than two stored shades do: anything
that gives a `Difference` for two readings (`DifferenceOf`) can stand in for `stored_difference`.
`dyeshade.insight.solved_together` does, from the signals of both photos.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.common_part import light_change
from dyeshade.library.edit import Reader
from dyeshade.library.shade_records import KeptPhoto, Reading, SheetReading
from dyeshade.measure.shared_error import alike

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Measured:
    """A reading with what was used to take it; None where that is not known.

    `signals` is what its sheet and samples showed, as `SheetReading.signals` keeps it: for whoever
    solves two photos together.
    """

    reading: Reading
    camera: str | None = None
    file_format: str | None = None
    serial: str | None = None
    light: str | None = None
    signals: object = field(default=None, compare=False, repr=False)

    @property
    def lab(self) -> Array:
        """L*, a*, b*, shape (3,)."""
        return np.array(self.reading.lab)


@dataclass(frozen=True, eq=False)
class Difference:
    """What two readings say of the difference of their shades.

    Attributes
    ----------
    lab_from, lab_to : ndarray, shape (3,)
        Stated shades; a joint solution may state others than are stored.
    covariance : ndarray, shape (3, 3)
        Of the error of ``lab_to - lab_from``, in Lab units squared.
    how : str
        "one_photo", "one_set_up" (errors in common cancel as far as they can), "separate" (they
        don't) or "together" (both photos solved as one).
    apart : tuple of str
        For "separate", what differs or is not known: "camera", "sheet", "light", "file_format",
        "method", "calibration".
    lasting : ndarray, shape (3, 3)
        What the covariance comes to where more and more photos like these are taken.
    """

    lab_from: Array
    lab_to: Array
    covariance: Array
    how: str
    apart: tuple[str, ...] = ()
    lasting: Array = field(default_factory=lambda: np.zeros((3, 3)))


DifferenceOf = Callable[[Measured, Measured], Difference]
"""Gives the difference of two readings, the earlier first."""


def measured(reader: Reader, readings: Iterable[Reading]) -> list[Measured]:
    """Readings with what was used to take them."""
    listed = list(readings)
    photo_ids = sorted({one.photo_id for one in listed if one.photo_id is not None})
    sheet_ids = sorted({one.sheet_reading_id for one in listed if one.sheet_reading_id is not None})
    photos = {photo.id: photo for photo in reader.among(KeptPhoto, "id", photo_ids)}
    sheets = {sheet.id: sheet for sheet in reader.among(SheetReading, "id", sheet_ids)}
    found = []
    for reading in listed:
        photo = None if reading.photo_id is None else photos[reading.photo_id]
        sheet = None if reading.sheet_reading_id is None else sheets[reading.sheet_reading_id]
        found.append(
            Measured(
                reading,
                photo.camera if photo else None,
                photo.file_format if photo else None,
                sheet.serial if sheet else None,
                sheet.light if sheet else None,
                sheet.signals if sheet else None,
            )
        )
    return found


def apart(one: Measured, other: Measured) -> tuple[str, ...]:
    """What keeps the errors of two readings from being alike, as `Difference.apart` lists it."""
    ours, theirs = one.reading, other.reading
    equal = {
        "camera": one.camera is not None and one.camera == other.camera,
        "sheet": one.serial is not None and one.serial == other.serial,
        "light": one.light is not None and one.light == other.light,
        "file_format": one.file_format == other.file_format,
        "method": ours.method_version == theirs.method_version,
        "calibration": ours.calibration_id == theirs.calibration_id,
    }
    return tuple(name for name, same in equal.items() if not same)


def set_up_of(one: Measured) -> Hashable:
    """A name that readings share whose errors are alike: `apart` finds nothing, or one photo."""
    reading = one.reading
    if None in (one.camera, one.serial, one.light):
        if reading.photo_id is None:
            return ("reading", reading.id)
        return ("photo", reading.photo_id, reading.method_version, reading.calibration_id)
    how = (reading.method_version, reading.calibration_id)
    return ("set-up", one.camera, one.serial, one.light, one.file_format, *how)


def stored_difference(one: Measured, other: Measured) -> Difference:
    """The difference of two stored shades.

    Within one photo what the errors have in common leaves the difference as far as the shades are
    alike (`shared_error.alike`). With one camera, sheet and kind of light so it does too, but the
    light of another day comes in. Otherwise all of it stays, since a reading does not tell the
    camera's part from the sheet's.

    Parameters
    ----------
    one, other : Measured

    Returns
    -------
    Difference
    """
    first, second = one.reading.shade, other.reading.shade
    photo = first.covariance_photo + second.covariance_photo
    common = first.covariance_common + second.covariance_common
    differing = apart(one, other)
    one_photo = one.reading.photo_id is not None and one.reading.photo_id == other.reading.photo_id
    if one_photo and not {"method", "calibration"} & set(differing):
        covariance = photo + (1 - alike(float(ciede2000(one.lab, other.lab)))) * common
        return Difference(one.lab, other.lab, covariance, "one_photo", (), covariance - photo)
    if differing:
        return Difference(one.lab, other.lab, photo + common, "separate", differing, common)
    assert one.light is not None
    covariance = photo + (1 - alike(float(ciede2000(one.lab, other.lab)))) * common
    covariance = covariance + light_change((one.lab + other.lab) / 2, one.light)
    return Difference(one.lab, other.lab, covariance, "one_set_up", (), covariance - photo)
