"""The main job for a screen: a photo's shades, and the photo itself as taken and as corrected."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import DyeshadeError
from dyeshade.measure.calibrations import NO_CALIBRATIONS, Calibrations
from dyeshade.measure.regions import DrawnOnSheet, HandGrey, HandSample, Regions
from dyeshade.measure.result import Measurement
from dyeshade.work.side_by_side import Crashed, Warm, run_each

if TYPE_CHECKING:
    from dyeshade.measure.photo_to_shade import Solved
    from dyeshade.photo.photo import Photo

LONGEST_PX = 1800
"""The longer side of the pictures for the screen."""

_QUALITY = 93


@dataclass(frozen=True, eq=False)
class Asked:
    """What is asked of one photo.

    Attributes
    ----------
    path : str
    light : str or None
        One of `dyeshade.measure.lights.KINDS`; None where nobody named it.
    greys : tuple of HandGrey
        Drawn by hand where there is no sheet; the photo is then measured by them alone.
    samples : tuple of HandSample
        Drawn by hand, each with a name of its own.
    without : frozenset of str
        Cells of the sheet that are not read.
    calibrated : bool
        Whether calibrations of its camera and its sheet are used where there are any.
    """

    path: str
    light: str | None = None
    greys: tuple[HandGrey, ...] = ()
    samples: tuple[HandSample, ...] = ()
    without: frozenset[str] = frozenset()
    calibrated: bool = True


@dataclass(frozen=True, eq=False)
class PhotoLook:
    """What became of it.

    Attributes
    ----------
    asked : Asked
    found : Measurement or DyeshadeError
        The error says why it was not measured.
    size_px : tuple of int
        Width and height of the upright photo; zeros where it could not be read.
    taken : bytes
        The photo as taken, as a JPEG in sRGB; empty where it could not be read.
    corrected : bytes
        With the light divided out; empty where it was not measured.
    known : Calibrations
        Those of its camera, format and light, and of its sheet: used, unless nobody wanted them.
    """

    asked: Asked
    found: Measurement | DyeshadeError
    size_px: tuple[int, int] = (0, 0)
    taken: bytes = b""
    corrected: bytes = b""
    known: Calibrations = NO_CALIBRATIONS


def look_at_photos(
    asked: Sequence[Asked],
    workers: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    warm: Warm | None = None,
    known: Calibrations = NO_CALIBRATIONS,
) -> Iterator[PhotoLook]:
    """Measure photos as asked, each in a process of its own.

    Parameters
    ----------
    asked : sequence of Asked
    workers : int, optional
        Processes side by side; as many as there are cores unless told.
    progress : callable, optional
        Called with how many are done and how many there are, at the start and after each.
    warm : Warm, optional
        Takes a photo that comes alone.
    known : Calibrations
        Those that may be used.

    Yields
    ------
    PhotoLook
        In the order in which they end; `asked` is the very object that was given.
    """
    if progress:
        progress(0, len(asked))
    job = partial(look_at, known=known)
    for count, finished in enumerate(run_each(job, asked, workers, warm), 1):
        found = finished.found
        if isinstance(found, Crashed):
            found = PhotoLook(asked[finished.number], DyeshadeError("reader_crashed"))
        if progress:
            progress(count, len(asked))
        # What a process gives back holds a copy of the wish; whoever asked knows his own.
        yield replace(found, asked=asked[finished.number])


def fitting(found: Measurement | DyeshadeError, known: Calibrations) -> Calibrations:
    """Those of all calibrations that are of a measured photo's camera, format, light and sheet."""
    if isinstance(found, DyeshadeError):
        return NO_CALIBRATIONS
    sheet = found.sheet
    print_ = None if sheet is None else (sheet.serial or "", sheet.paper, sheet.cells)
    return known.fitting(found.camera, found.file_format, found.light, print_)


def is_behind(look: PhotoLook, known: Calibrations) -> bool:
    """Whether a photo would be measured otherwise with the calibrations that there are now."""
    return look.asked.calibrated and fitting(look.found, known).ids != look.known.ids


def look_at(asked: Asked, known: Calibrations = NO_CALIBRATIONS) -> PhotoLook:
    """Read, measure and picture one photo in this process.

    Parameters
    ----------
    asked : Asked
    known : Calibrations
        Those that may be used.

    Returns
    -------
    PhotoLook
        With the numbers of `dyeshade.work.measure_photos.measure_file`, where nothing was drawn.
    """
    from dyeshade.photo.read import read_photo
    from dyeshade.photo.vision import use_threads

    use_threads(1)
    try:
        return _look(asked, read_photo(asked.path, halved=True), known)
    except DyeshadeError as error:
        return PhotoLook(asked, error)
    except MemoryError:
        return PhotoLook(asked, DyeshadeError("not_enough_memory"))


def _look(asked: Asked, photo: Photo, known: Calibrations) -> PhotoLook:
    from dyeshade.measure.corrected import as_corrected, as_taken

    size = photo.file_size
    taken = jpeg_of(as_taken(photo, LONGEST_PX))
    try:
        photo, solved = _solve(asked, photo, known if asked.calibrated else None)
    except DyeshadeError as error:
        return PhotoLook(asked, error, size, taken)
    corrected = jpeg_of(as_corrected(photo, solved, LONGEST_PX))
    found = solved.measurement
    return PhotoLook(asked, found, size, taken, corrected, fitting(found, known))


def _solve(asked: Asked, photo: Photo, known: Calibrations | None) -> tuple[Photo, Solved]:
    from dyeshade.measure.halved_first import solve_file

    drawn: DrawnOnSheet | Regions = DrawnOnSheet(asked.samples, asked.without)
    if asked.greys and not asked.samples:
        raise DyeshadeError("nothing_drawn")
    if asked.greys:
        drawn = Regions(asked.greys, asked.samples)
    return solve_file(asked.path, drawn, asked.light, known, photo)


def jpeg_of(picture: NDArray[np.uint8]) -> bytes:
    """An sRGB picture as a JPEG."""
    # Compressed in the worker: the window keeps many photos, and decodes the one that is looked at.
    from dyeshade.photo.vision import cv2

    swapped = cv2.cvtColor(picture, cv2.COLOR_RGB2BGR)
    done, data = cv2.imencode(".jpg", swapped, [cv2.IMWRITE_JPEG_QUALITY, _QUALITY])
    assert done
    return bytes(data.tobytes())
