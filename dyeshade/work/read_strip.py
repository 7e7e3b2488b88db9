"""Reads a pH strip in a photo: its pad beside its own printed scale, on the reference sheet."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from dyeshade.bath.reach.log import STRIP, Instrument
from dyeshade.bath.strip_scale import StripPlace, StripScale, place_on_scale
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.measure.calibrations import Calibrations
from dyeshade.measure.regions import DrawnOnSheet, HandSample
from dyeshade.work.look_at_photos import LONGEST_PX, jpeg_of
from dyeshade.work.side_by_side import Crashed, Warm, run_each
from dyeshade.work.strip_kinds import Rows, ScaleColours

if TYPE_CHECKING:
    from dyeshade.measure.photo_to_shade import Solved
    from dyeshade.photo.photo import Photo

Array = NDArray[np.float64]

PAD = "pad"
INNER = 0.5
"""Share of a block's width and height that is read: gaps and rims between blocks stay out."""

STAINED = 4.0
"""CIEDE2000 off the scale's path from which a pad looks stained (ours, by judgement)."""
LEAST_ERROR, END_ERROR = 0.1, 0.5
"""How far a logged pH may be off at least; and where the pad is an end of its scale."""


@dataclass(frozen=True, eq=False)
class StripAsked:
    """What is to be read.

    Attributes
    ----------
    path : str
    light : str or None
        One of `dyeshade.measure.lights.KINDS`; None where nobody named it.
    rows : tuple of tuple of float or None
        The blocks' pH as they are printed.
    scale : ndarray, shape (4, 2), or None
        Corners of all blocks together in pixels of the upright photo, from the first block of the
        first row on around; None where the colours of the kind are taken.
    pad : ndarray, shape (4, 2), or None
        Corners of the pad; None where only the photo is wanted.
    colours : ScaleColours or None
        Of the kind, from another photo.
    known : Calibrations or None
        Those that may be used.
    """

    path: str
    light: str | None = None
    rows: Rows = ()
    scale: Array | None = None
    pad: Array | None = None
    colours: ScaleColours | None = None
    known: Calibrations | None = None

    @property
    def whole(self) -> bool:
        """Whether pad and scale are both told."""
        return self.pad is not None and (self.scale is not None or self.colours is not None)


@dataclass(frozen=True, eq=False)
class StripFound:
    """What was read.

    Attributes
    ----------
    place : StripPlace
    colours : ScaleColours
        Of the scale that it was read by.
    here : bool
        Whether that scale is in the same photo.
    notices : tuple of Notice
    file_format : str
    taken : datetime or None
    camera : str or None
    """

    place: StripPlace
    colours: ScaleColours
    here: bool
    notices: tuple[Notice, ...]
    file_format: str = ""
    taken: datetime | None = None
    camera: str | None = None

    @property
    def instrument(self) -> Instrument | None:
        """How far off the pH may be, for the log; None where it is no reading to be logged."""
        place = self.place
        error = max(place.off_by, END_ERROR if place.at_end else LEAST_ERROR)
        if not place.on_scale or error > 2.0:
            return None
        return Instrument(STRIP.name, round(error, 2), STRIP.bias)


@dataclass(frozen=True, eq=False)
class StripLook:
    """What became of it.

    Attributes
    ----------
    asked : StripAsked
    found : StripFound, DyeshadeError or None
        None where nothing was marked yet.
    size_px : tuple of int
        Width and height of the upright photo; zeros where it could not be read.
    picture : bytes
        The photo as a JPEG in sRGB; empty where it could not be read.
    """

    asked: StripAsked
    found: StripFound | DyeshadeError | None
    size_px: tuple[int, int] = (0, 0)
    picture: bytes = b""


def block_corners(scale: Array, rows: Rows) -> list[tuple[float, Array]]:
    """Where the blocks of a scale lie: pH and corners of what is read of each, by their pH.

    Parameters
    ----------
    scale : ndarray, shape (4, 2)
        Corners of all blocks together.
    rows : tuple of tuple of float or None

    Returns
    -------
    list of (float, ndarray of shape (4, 2))
    """
    first, second, third, fourth = np.asarray(scale, dtype=np.float64)

    def at(across: float, down: float) -> Array:
        above = first + across * (second - first)
        below = fourth + across * (third - fourth)
        return np.asarray(above + down * (below - above))

    found = []
    half = INNER / 2
    for j, row in enumerate(rows):
        for i, ph in enumerate(row):
            if ph is None:
                continue
            x, y, wide, high = (i + 0.5) / len(row), (j + 0.5) / len(rows), half / len(row), half
            high /= len(rows)
            corners = [
                at(x - wide, y - high), at(x + wide, y - high),
                at(x + wide, y + high), at(x - wide, y + high),
            ]  # fmt: skip
            found.append((ph, np.array(corners)))
    return sorted(found, key=lambda one: one[0])


def look_at_strip(asked: StripAsked, warm: Warm | None = None) -> StripLook:
    """Read a strip, in a process of its own.

    Parameters
    ----------
    asked : StripAsked
    warm : Warm, optional
        A process that stays ready.
    """
    for finished in run_each(look_at_strip_here, [asked], 1, warm):
        if isinstance(finished.found, Crashed):
            return StripLook(asked, DyeshadeError("reader_crashed"))
        return replace(finished.found, asked=asked)
    raise AssertionError("one thing in, one thing out")


def look_at_strip_here(asked: StripAsked) -> StripLook:
    """The same in this process."""
    from dyeshade.measure.corrected import as_taken
    from dyeshade.photo.read import read_photo
    from dyeshade.photo.vision import use_threads

    use_threads(1)
    try:
        photo = read_photo(asked.path)
        size = (photo.width, photo.height)
        picture = jpeg_of(as_taken(photo, LONGEST_PX))
    except DyeshadeError as error:
        return StripLook(asked, error)
    except MemoryError:
        return StripLook(asked, DyeshadeError("not_enough_memory"))
    if not asked.whole:
        return StripLook(asked, None, size, picture)
    try:
        return StripLook(asked, _read(asked, photo), size, picture)
    except DyeshadeError as error:
        return StripLook(asked, error, size, picture)


def _read(asked: StripAsked, photo: Photo) -> StripFound:
    from dyeshade.measure.in_one_photo import shared_by_camera, spots_together
    from dyeshade.measure.photo_to_shade import solve_photo

    assert asked.pad is not None
    here = asked.scale is not None
    blocks = [] if asked.scale is None else block_corners(asked.scale, asked.rows)
    names = [f"block {k}" for k in range(len(blocks))]
    drawn = [HandSample(PAD, asked.pad)]
    drawn += [HandSample(name, corners) for name, (_, corners) in zip(names, blocks, strict=True)]
    solved = solve_photo(photo, DrawnOnSheet(tuple(drawn), _all_cells()), asked.light, asked.known)
    known = photo.encoding.own_known
    spots = spots_together(solved, [PAD, *names], [PAD], known)
    measurement = solved.measurement
    camera, light = measurement.camera or "", measurement.light
    if here:
        covariance = spots.covariance
        colours = ScaleColours(
            spots.lab[1:], covariance[3:, 3:], spots.camera_roots[1:], camera, light
        )
    else:
        assert asked.colours is not None
        colours = asked.colours
        count = 3 + len(colours.covariance)
        covariance = np.zeros((count, count))
        covariance[:3, :3], covariance[3:, 3:] = spots.covariance, colours.covariance
        if camera and (camera, light) == (colours.camera, colours.light):
            shared = shared_by_camera(
                spots.lab, spots.camera_roots, colours.lab, colours.camera_roots
            )
            covariance[:3, 3:], covariance[3:, :3] = shared, shared.T
    ph = np.array(sorted(one for row in asked.rows for one in row if one is not None))
    place = place_on_scale(StripScale(ph, colours.lab), spots.lab[0], covariance)
    return StripFound(
        place,
        colours,
        here,
        _notices(solved, place, here),
        measurement.file_format,
        measurement.taken,
        measurement.camera,
    )


def _notices(solved: Solved, place: StripPlace, here: bool) -> tuple[Notice, ...]:
    told = []
    if not place.on_scale or place.distance > STAINED:
        told.append(Notice("strip_stained", {"distance": round(place.distance)}))
    elif place.at_end:
        told.append(Notice("strip_at_end", {"ph": place.ph}))
    if not here:
        told.append(Notice("strip_scale_elsewhere"))
    told.append(Notice("strip_liquor_colours"))
    return (*told, *solved.measurement.notices)


def _all_cells() -> frozenset[str]:
    """Names of the cells of any sheet: a strip that lies in one is no piece."""
    from dyeshade.sheet.kinds import CELLS, PAPERS
    from dyeshade.sheet.layout import build_layout

    return frozenset(
        cell.name
        for paper in PAPERS
        for cells in CELLS
        for cell in build_layout(paper, cells, False).cells
    )
