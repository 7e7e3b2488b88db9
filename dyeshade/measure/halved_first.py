"""A large photo is measured with half of its rows and columns where that is fine enough.

A phone's photo of a sheet has more pixels than shades need: cloth is straightened to 3 pixels a
millimetre. Reading it at half its size saves a third of all the work.
"""

from __future__ import annotations

import os

from dyeshade.errors import DyeshadeError
from dyeshade.measure.calibrations import Calibrations
from dyeshade.measure.photo_to_shade import DrawnOnKept, Solved, solve_photo
from dyeshade.measure.regions import DrawnOnSheet, Regions
from dyeshade.measure.result import Measurement
from dyeshade.photo.photo import Photo
from dyeshade.photo.read import read_photo

LEAST_PX_PER_MM = 5.0
"""Of a halved photo: threads and the edges of cells still show, and so do the modules of codes."""


def solve_file(
    path: str | os.PathLike[str],
    drawn: Regions | DrawnOnSheet | DrawnOnKept | None = None,
    light: str | None = None,
    known: Calibrations | None = None,
    photo: Photo | None = None,
) -> tuple[Photo, Solved]:
    """Read and measure a photo, with half of its rows and columns where those are enough.

    Parameters
    ----------
    path : path-like
    drawn, light, known
        As for `dyeshade.measure.photo_to_shade.solve_photo`; what is drawn, in the file's pixels.
    photo : Photo, optional
        The file as `dyeshade.photo.read.read_photo` gives it with `halved`, where it was read
        before.

    Returns
    -------
    photo : Photo
        What was measured.
    solved : Solved
        Its `place` and `fit` are in pixels of that photo, its measurement in those of the file.

    Raises
    ------
    DyeshadeError
        As `read_photo` and `solve_photo`. What is refused of half a photo is tried with all of it.
    """
    photo = read_photo(path, halved=True) if photo is None else photo
    if photo.shrunk > 1 and not isinstance(drawn, Regions | DrawnOnKept):
        try:
            solved = solve_photo(photo, drawn, light, known, LEAST_PX_PER_MM)
        except DyeshadeError:
            pass
        else:
            if _all_codes_read(solved.measurement):
                return photo, solved
    if photo.shrunk > 1:
        photo = read_photo(path)
    return photo, solve_photo(photo, drawn, light, known)


def _all_codes_read(measurement: Measurement) -> bool:
    sheet = measurement.sheet
    told = {notice.code for sample in measurement.samples for notice in sample.notices}
    return sheet is not None and bool(sheet.serial) and "tag_unread" not in told
