"""Find pieces' tags that lie in cells of the sheet, and read whose they are."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2
from dyeshade.sheet.camera import Array
from dyeshade.sheet.code_modules import (
    MODULE_PX,
    decoded,
    finder_faults,
    has_finders,
    read_modules,
)
from dyeshade.sheet.code_places import around, code_patterns
from dyeshade.sheet.layout import Box
from dyeshade.sheet.place import SheetPlace
from dyeshade.sheet.rectify import Straightening
from dyeshade.sheet.tag import BOTTOM, LEFT, QUIET, RIGHT, TOP, piece_on_tag

Grey = npt.NDArray[np.uint8]

_PX_PER_MM = 8.0
_COARSE = 8
"""The light around is worked out on a copy this many times smaller."""

_TRIED_MODULES = (21, 25, 29, 33)
"""Modules along a code's side for versions 1 to 4 (ISO/IEC 18004)."""

_SHIFTS = (0.0, -0.25, 0.25)
_LEAST_SIDE_PX = 21.0
_ONE_MM = 3.0
"""Codes whose middles are nearer than this are one."""

_NEAR_MM = 5.0
_RIM_MM = 1.5
_RIM_OF_SIDE = 0.1
_LONGEST_PX = 1500.0


@dataclass(frozen=True, eq=False)
class TagSeen:
    """A QR code in a photo.

    Lengths are mm on the page, or pixels of the photo where there is no sheet.

    Attributes
    ----------
    piece : str or None
        The piece that it names; None where it cannot be read, or is no tag of ours.
    readable : bool
        False for a code that is seen but cannot be read.
    corners : ndarray (4, 2)
        The code's corners, its own top left one first, then clockwise.
    outline : ndarray (4, 2)
        What the tag covers, with a rim for its shadow.
    """

    piece: str | None
    readable: bool
    corners: Array
    outline: Array

    @property
    def centre(self) -> Array:
        """Middle of the code, shape (2,)."""
        return np.asarray(self.corners.mean(axis=0))


def find_tags(grey: Grey, place: SheetPlace, boxes: Iterable[Box] | None = None) -> list[TagSeen]:
    """Find the QR codes that lie in or near cells.

    Parameters
    ----------
    grey : (h, w) uint8
        The photo's luma.
    place : SheetPlace
    boxes : iterable of Box, optional
        Where to look; the sheet's cells unless told.

    Returns
    -------
    list of TagSeen
        Each once. The sheet's own code is not among them.
    """
    boxes = [around(box) for box in (place.layout.cells if boxes is None else boxes)]
    patterns = code_patterns(grey, place, boxes)
    found: list[TagSeen] = []
    for box in boxes:
        if not any(box.holds(one) for one in patterns):
            continue
        for seen in _look(grey, place, _sides(box), _PX_PER_MM):
            if not any(_apart(one, seen) < _ONE_MM for one in found):
                found.append(seen)
    for number, seen in enumerate(found):
        if not seen.readable:
            # Looked at from near, whatever the photo holds of it.
            low = seen.corners.min(axis=0) - _NEAR_MM
            size = seen.corners.max(axis=0) + _NEAR_MM - low
            closer = _look(grey, place, (*low, *size), 2 * _PX_PER_MM)
            read = [one for one in closer if one.readable and _apart(one, seen) < _ONE_MM]
            found[number] = read[0] if read else seen
    return found


def _sides(box: Box) -> tuple[float, float, float, float]:
    return box.x_mm, box.y_mm, box.w_mm, box.h_mm


def _straightened(
    grey: Grey, place: SheetPlace, box: tuple[float, float, float, float], px_per_mm: float
) -> Grey:
    straightening = Straightening(place, box, px_per_mm)
    patch = straightening.of(grey)
    if straightening.leaving:
        patch[np.isnan(patch)] = 255.0
    return patch.astype(np.uint8)


def _look(
    grey: Grey, place: SheetPlace, box: tuple[float, float, float, float], px_per_mm: float
) -> list[TagSeen]:
    picture = _straightened(grey, place, box, px_per_mm)
    tags = [
        tag_seen(text, np.array(box[:2]) + (corners + 0.5) / px_per_mm)
        for text, corners in codes_in(picture)
    ]
    return [one for one in tags if not place.layout.serial_code.holds(one.centre)]


def find_tags_in_region(grey: Grey, rows: slice, columns: slice) -> list[TagSeen]:
    """Find the QR codes in a part of a photo, in pixels of the whole photo.

    Parameters
    ----------
    grey : (h, w) uint8
        The photo's luma.
    rows, columns : slice
    """
    part = grey[rows, columns]
    step = max(1.0, max(part.shape) / _LONGEST_PX)
    size = max(1, round(part.shape[1] / step)), max(1, round(part.shape[0] / step))
    small = part if step == 1.0 else cv2.resize(part, size, interpolation=cv2.INTER_AREA)
    corner = np.array([columns.start, rows.start])
    scale = np.array([part.shape[1] / size[0], part.shape[0] / size[1]])
    found = []
    for text, corners in codes_in(np.ascontiguousarray(small, np.uint8)):
        in_photo = corner + (corners + 0.5) * scale - 0.5
        found.append(tag_seen(text, in_photo, _RIM_OF_SIDE * _side(in_photo)))
    return found


def tag_seen(text: str, corners: Array, rim: float = _RIM_MM) -> TagSeen:
    """A code with the paper that it belongs to.

    Parameters
    ----------
    text : str
        "" for a code that cannot be read.
    corners : (4, 2)
        As `TagSeen.corners`.
    rim : float
        Width around the tag that its shadow and its string may take, in the same unit.
    """
    piece = piece_on_tag(text) if text else None
    if text and piece is None:
        shape = -QUIET, -QUIET, 1 + QUIET, 1 + QUIET
    else:
        shape = LEFT, TOP, RIGHT, BOTTOM
    left, top, right, bottom = shape
    unit = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]], np.float32)
    more = rim / _side(corners)
    wanted = np.array(
        [
            [left - more, top - more],
            [right + more, top - more],
            [right + more, bottom + more],
            [left - more, bottom + more],
        ]
    )
    # The tag is flat, and small: further than its code no perspective matters.
    across, down = corners[1] - corners[0], corners[3] - corners[0]
    across = (across + corners[2] - corners[3]) / 2
    down = (down + corners[2] - corners[1]) / 2
    middle = corners.mean(axis=0)
    outline = middle + (wanted - unit.mean(axis=0)) @ np.array([across, down])
    return TagSeen(piece, bool(text), np.asarray(corners), np.asarray(outline))


def codes_in(picture: Grey) -> list[tuple[str, Array]]:
    """All QR codes in a picture: what they say, "" where it cannot be read, and their corners.

    Parameters
    ----------
    picture : (h, w) uint8

    Returns
    -------
    list of (str, ndarray (4, 2))
        Corners in pixels, the code's own top left one first, then clockwise.
    """
    found: list[tuple[str, Array]] = []
    for seen in (picture, _evenly_lit(picture)):
        for search in (cv2.QRCodeDetectorAruco(), cv2.QRCodeDetector()):
            for quad in _quads(search, seen):
                same = [number for number, (_, one) in enumerate(found) if _one_code(one, quad)]
                if any(found[number][0] for number in same):
                    continue
                read = _read(seen, quad)
                if read is not None and not same:
                    found.append(read)
                elif read is not None and read[0]:
                    found[same[0]] = read
        if found and all(text for text, _ in found):
            break
    return found


def _evenly_lit(picture: Grey) -> Grey:
    """The picture divided by the white around each place, so that shadows' edges go."""
    height, width = picture.shape
    small = cv2.resize(
        picture,
        (max(1, width // _COARSE), max(1, height // _COARSE)),
        interpolation=cv2.INTER_AREA,
    )
    white = cv2.GaussianBlur(cv2.dilate(small, np.ones((5, 5), np.uint8)), (0, 0), 2.0)
    white = cv2.resize(np.maximum(white, 8), (width, height), interpolation=cv2.INTER_LINEAR)
    return np.asarray(cv2.divide(picture, white, scale=230.0), np.uint8)


def _quads(search: Any, picture: Grey) -> list[Array]:
    """Corners of what looks like a code to a search."""
    done, corners = search.detectMulti(picture)
    quads = np.asarray(corners, float).reshape(-1, 4, 2) if done else np.zeros((0, 4, 2))
    return [quad for quad in quads if _side(quad) >= _LEAST_SIDE_PX]


def _side(quad: Array) -> float:
    return float(np.mean(np.linalg.norm(quad - np.roll(quad, 1, 0), axis=1)))


def _one_code(one: Array, other: Array) -> bool:
    return bool(np.linalg.norm(one.mean(axis=0) - other.mean(axis=0)) < 0.5 * _side(other))


def _read(picture: Grey, quad: Array) -> tuple[str, Array] | None:
    """What a code says, and its corners in its own order; None where there is no code."""
    if cv2.contourArea(quad.astype(np.float32), oriented=True) < 0:
        quad = quad[::-1]
    ways = [
        (sum(finder_faults(dark)), turn, modules, dark)
        for turn in range(4)
        for modules in _TRIED_MODULES
        for dark in [read_modules(_straight(picture, np.roll(quad, -turn, 0), modules), modules)]
    ]
    _, turn, modules, dark = min(ways, key=lambda way: way[0])
    turned = np.roll(quad, -turn, 0)
    text = str(cv2.QRCodeDetector().decode(picture, quad.astype(np.float32)[None])[0])
    if not text and has_finders(dark):
        text = _read_modules_of(picture, turned, modules)
    return (text, turned) if text or has_finders(dark) else None


def _read_modules_of(picture: Grey, corners: Array, modules: int) -> str:
    straight = _straight(picture, corners, modules)
    for down in _SHIFTS:
        for across in _SHIFTS:
            dark = read_modules(straight, modules, across, down)
            text = decoded(dark) if has_finders(dark) else ""
            if text:
                return text
    return ""


def _straight(picture: Grey, corners: Array, modules: int) -> npt.NDArray[np.float32]:
    """The code as a square of `MODULE_PX` pixels a module, two modules around it."""
    near, far = 2 * MODULE_PX - 0.5, (2 + modules) * MODULE_PX - 0.5
    target = np.array([[near, near], [far, near], [far, far], [near, far]], np.float32)
    turn = cv2.getPerspectiveTransform(corners.astype(np.float32), target)
    side = (modules + 4) * MODULE_PX
    straight = cv2.warpPerspective(picture, turn, (side, side), borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(straight, np.float32)


def _apart(one: TagSeen, other: TagSeen) -> float:
    return float(np.linalg.norm(one.centre - other.centre))
