"""A camera or a print learnt from a photo, for a screen: shown before anything is kept."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import DyeshadeError
from dyeshade.measure.calibrations import NO_CALIBRATIONS, Calibrations
from dyeshade.measure.chart import Chart
from dyeshade.measure.lights import ASSUMED
from dyeshade.work.look_at_photos import LONGEST_PX, jpeg_of
from dyeshade.work.side_by_side import Crashed, Warm, run_each

if TYPE_CHECKING:
    from dyeshade.measure.calibrate_camera import CameraCalibrated
    from dyeshade.measure.calibrate_sheet import SheetCalibrated
    from dyeshade.photo.photo import Photo

Array = NDArray[np.float64]

_NO_POINTS = np.zeros((0, 2))
_NO_QUADS = np.zeros((0, 4, 2))


@dataclass(frozen=True, eq=False)
class ToLearn:
    """What is to be learnt, and from which photo.

    Attributes
    ----------
    path : str
    what : str
        "camera" or "sheet".
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    chart : Chart or None
        The chart in the photo; None for a sheet that a raw photo or a card tells.
    corners_px : ndarray, shape (4, 2), or None
        Middles of the chart's corner patches, placed by hand, as `dyeshade.measure.chart_place`.
    card : tuple of (str, float) or None
        Name of the cell with a grey or white card, and the card's luminance factor, 0..1.
    known : Calibrations
        Of cameras that are known, for the colours of a sheet.
    """

    path: str
    what: str
    light: str = ASSUMED
    chart: Chart | None = None
    corners_px: Array | None = None
    card: tuple[str, float] | None = None
    known: Calibrations = NO_CALIBRATIONS


@dataclass(frozen=True, eq=False)
class LearnLook:
    """What came of it.

    Attributes
    ----------
    asked : ToLearn
    found : CameraCalibrated, SheetCalibrated or DyeshadeError
    size_px : tuple of int
        Width and height of the upright photo; zeros where it could not be read.
    taken : bytes
        The photo as a JPEG in sRGB; empty where it could not be read.
    corners_px : ndarray, shape (4, 2)
        Middles of the chart's corner patches, as found or placed; (0, 2) where it was not found.
    patches_px : ndarray, shape (n, 4, 2)
        What is read of each patch.
    sheet_px : ndarray, shape (4, 2)
        Corners of the page; (0, 2) where no sheet is in the photo.
    """

    asked: ToLearn
    found: CameraCalibrated | SheetCalibrated | DyeshadeError
    size_px: tuple[int, int] = (0, 0)
    taken: bytes = b""
    corners_px: Array = field(default_factory=lambda: _NO_POINTS)
    patches_px: Array = field(default_factory=lambda: _NO_QUADS)
    sheet_px: Array = field(default_factory=lambda: _NO_POINTS)


def learn_from_photo(asked: ToLearn, warm: Warm | None = None) -> LearnLook:
    """Learn from a photo in a process of its own.

    Parameters
    ----------
    asked : ToLearn
    warm : Warm, optional
        Takes it where it is free.
    """
    (finished,) = run_each(learn, [asked], 1, warm)
    found = finished.found
    if isinstance(found, Crashed):
        return LearnLook(asked, DyeshadeError("reader_crashed"))
    # What a process gives back holds a copy of the wish; whoever asked knows his own.
    return replace(found, asked=asked)


def learn(asked: ToLearn) -> LearnLook:
    """Read a photo, learn from it and picture it in this process."""
    from dyeshade.photo.read import read_photo
    from dyeshade.photo.vision import use_threads

    use_threads(1)
    try:
        return _learn(asked, read_photo(asked.path))
    except DyeshadeError as error:
        return LearnLook(asked, error)
    except MemoryError:
        return LearnLook(asked, DyeshadeError("not_enough_memory"))


def _learn(asked: ToLearn, photo: Photo) -> LearnLook:
    from dyeshade.measure.chart_photo import sheet_in
    from dyeshade.measure.chart_place import place_chart
    from dyeshade.measure.corrected import as_taken
    from dyeshade.measure.find_chart import find_chart

    size = (photo.width, photo.height)
    look = LearnLook(asked, DyeshadeError("chart_not_found"), size)
    look = replace(look, taken=jpeg_of(as_taken(photo, LONGEST_PX)))
    sheet = sheet_in(photo, need_sheet=False)
    if sheet is not None:
        wide, high = sheet.layout.paper_mm
        edge = np.array([[0.0, 0.0], [wide, 0.0], [wide, high], [0.0, high]])
        look = replace(look, sheet_px=sheet.to_pixels(edge))
    try:
        if asked.chart is not None:
            chart, corners = asked.chart, asked.corners_px
            place = find_chart(photo, chart) if corners is None else place_chart(chart, corners)
            look = replace(look, corners_px=place.corners_px, patches_px=place.quads_px)
        return replace(look, found=_found(asked, photo, look.corners_px))
    except DyeshadeError as error:
        return replace(look, found=error)


def _found(asked: ToLearn, photo: Photo, corners_px: Array) -> CameraCalibrated | SheetCalibrated:
    from dyeshade.measure.calibrate_camera import calibrate_camera
    from dyeshade.measure.calibrate_sheet import calibrate_sheet_by_chart, calibrate_sheet_by_photo

    if asked.what == "camera":
        assert asked.chart is not None
        return calibrate_camera(photo, asked.chart, asked.light, corners_px)
    if asked.chart is not None:
        return calibrate_sheet_by_chart(photo, asked.chart, corners_px)
    return calibrate_sheet_by_photo(photo, asked.card, asked.light, asked.known)
