"""Which kept photos are to be read again, and what is known of each: as it was read before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.library.photos import photo_path
from dyeshade.library.readings import NEWEST
from dyeshade.library.shade_records import KeptPhoto, Reading, SheetReading
from dyeshade.measure.calibrations import NO_CALIBRATIONS, Calibrations
from dyeshade.measure.kept_signals import kept_signals
from dyeshade.measure.method import METHOD_VERSION
from dyeshade.measure.regions import HandSample
from dyeshade.measure.seen import PatchesSeen
from dyeshade.sheet.layout import build_layout
from dyeshade.work.calibrate import calibrations_in


@dataclass(frozen=True)
class HowRead:
    """A way of measuring.

    Attributes
    ----------
    method_version : int
    calibration_id : int or None
        The one calibration of the library that is used; None where each photo takes what fits it.
    """

    method_version: int = METHOD_VERSION
    calibration_id: int | None = None

    def is_new_to(self, reading: Reading) -> bool:
        """Whether a reading has not been read this way, nor a newer one."""
        other = reading.calibration_id != self.calibration_id
        if self.calibration_id is None:
            return reading.method_version < self.method_version and not other
        return reading.method_version < self.method_version or other

    def is_due(self, reading: Reading, known: Calibrations) -> bool:
        """Whether a reading is to be read this way, where these calibrations fit its photo.

        What was read after they were made was read with them, or as its dyer wanted it. What was
        read with one of them may still have to be read with the other.
        """
        newest = known.newest
        if self.calibration_id is not None or newest is None:
            return self.is_new_to(reading)
        # Times are kept to the second: one that was made and used within it is known by its number.
        used = reading.calibration_id in known.ids
        before = reading.measured < newest or (reading.measured == newest and not used)
        return reading.method_version < self.method_version or before


@dataclass(frozen=True, eq=False)
class PhotoToRead:
    """A kept photo and what is to be read in it, as it was read before.

    Attributes
    ----------
    photo_id : int
    name, path : str
    light : str or None
        None where nobody named it.
    samples : tuple of HandSample
        Those that no cell of the sheet tells: the same outlines as before.
    without : frozenset of str
        Cells that nothing is kept of.
    greys : PatchesSeen or None
        Greys drawn by hand, as they were seen; None where a sheet tells the light.
    known : Calibrations
        Those that are used where they fit.
    """

    photo_id: int
    name: str
    path: str
    light: str | None = None
    samples: tuple[HandSample, ...] = ()
    without: frozenset[str] = frozenset()
    greys: PatchesSeen | None = None
    known: Calibrations = NO_CALIBRATIONS


@dataclass(frozen=True, eq=False)
class NotRead:
    """A photo that could not be read again, and why; its readings stay as they are."""

    name: str
    error: DyeshadeError


def photos_to_read(
    library: Library,
    how: HowRead | None = None,
    photo_ids: Sequence[int] | None = None,
    calibrated: bool = True,
) -> tuple[PhotoToRead | NotRead, ...]:
    """Photos with readings that a way of measuring has not read yet.

    Parameters
    ----------
    library : Library
    how : HowRead, optional
        Today's way unless told.
    photo_ids : sequence of int, optional
        Some photos, as those by a camera that was calibrated; all unless told.
    calibrated : bool
        Whether calibrations are used, and photos read anew for their sake; without, what was read
        with one stays.

    Returns
    -------
    tuple of PhotoToRead or NotRead
        In the order in which they were kept; those not to be read whose file is gone, or whose
        greys were drawn by hand and not kept.
    """
    how = how or HowRead()
    known = calibrations_in(library) if calibrated else NO_CALIBRATIONS
    readings = library.where(Reading, f"photo_id IS NOT NULL AND {NEWEST}", (), "photo_id, id")
    due: dict[int, list[Reading]] = {}
    fitting: dict[int, Calibrations] = {}
    wanted = None if photo_ids is None else set(photo_ids)
    for one in readings:
        number = one.photo_id
        if number is None or (wanted is not None and number not in wanted):
            continue
        if number not in fitting:
            fitting[number] = _fitting(library, known, one)
        if how.is_due(one, fitting[number]):
            due.setdefault(number, []).append(one)
    return tuple(
        _to_read(library, library.the(KeptPhoto, number), of_photo, fitting[number])
        for number, of_photo in due.items()
    )


def _fitting(library: Library, known: Calibrations, reading: Reading) -> Calibrations:
    """Of all calibrations those that fit the photo of a reading."""
    if not known.ids or reading.photo_id is None or reading.sheet_reading_id is None:
        return NO_CALIBRATIONS
    photo = library.the(KeptPhoto, reading.photo_id)
    sheet = library.the(SheetReading, reading.sheet_reading_id)
    print_ = (sheet.serial or "", sheet.paper or "", sheet.cells or "")
    return known.fitting(photo.camera, photo.file_format, sheet.light, print_)


def _to_read(
    library: Library, photo: KeptPhoto, due: list[Reading], known: Calibrations
) -> PhotoToRead | NotRead:
    try:
        path = str(photo_path(library, photo))
    except DyeshadeError as error:
        return NotRead(photo.name, error)
    told = due[-1].sheet_reading_id
    sheet = None if told is None else library.get(SheetReading, told)
    light = None if sheet is None else sheet.light
    if sheet is not None and any(one.code == "light_assumed" for one in sheet.notices):
        light = None
    if sheet is not None and sheet.paper is None:
        signals = kept_signals(sheet.signals)
        if signals is None:
            return NotRead(photo.name, DyeshadeError("greys_not_kept", name=photo.name))
        return PhotoToRead(
            photo.id, photo.name, path, light, _drawn(due, ()), greys=signals.patches, known=known
        )
    cells = () if sheet is None else _cells(sheet)
    unread = frozenset(cells) - {one.sample for one in due}
    drawn = _drawn(due, cells)
    return PhotoToRead(photo.id, photo.name, path, light, drawn, unread, known=known)


def _cells(sheet: SheetReading) -> tuple[str, ...]:
    assert sheet.paper is not None
    assert sheet.cells is not None
    # Sheets with colours have the same cells.
    layout = build_layout(sheet.paper, sheet.cells, False)
    return tuple(cell.name for cell in layout.cells)


def _drawn(due: Sequence[Reading], cells: Sequence[str]) -> tuple[HandSample, ...]:
    return tuple(
        HandSample(one.sample, np.array(one.outline_px, dtype=np.float64))
        for one in due
        if one.sample not in cells and len(one.outline_px) >= 3
    )
