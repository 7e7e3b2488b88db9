"""Finding the sheet's marks in a photo: over the whole frame, then where they must be."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2
from dyeshade.sheet.camera import Array, PageCamera
from dyeshade.sheet.interpolate import values_at
from dyeshade.sheet.layout import Mark
from dyeshade.sheet.square_codes import MARK_DICTIONARY, OURS, codes_of, squares_in

Grey = npt.NDArray[np.uint8]

GLANCE_SIDE_PX = 1000
"""Longest side, or near it, of the photo that is looked at first: most photos show every mark."""

_GLANCE_MARK_PX = 24.0
_GLANCE_PERIMETER = 0.05
"""Of the longest side; outlines that are shorter than that of a mark of 12 pixels are no marks."""

GLANCE_WINDOWS_PX = (31, 31), (23, 39)
"""Black is told from white within so much around, from the narrowest to the widest: one width
serves most photos, and is half the work."""

SEARCH_SIDES_PX = (1600, 2800, 6000)
"""Longest side of the reduced photos that are searched then, until enough marks are found."""

_LOOK_PX_PER_MM = 8.0
_LOOK_MARGIN = 0.55
_LOOK_STRAY_MM = 8.0


@dataclass(frozen=True)
class SeenMark:
    """A mark as it is in the photo.

    Attributes
    ----------
    ident : int
        What the mark encodes.
    corners : ndarray (4, 2)
        Its corners in the mark's own order (top left, top right, bottom right, bottom left of
        the upright page), pixels with pixel centres at integers.
    """

    ident: int
    corners: Array

    @property
    def side_px(self) -> float:
        """Mean length of its sides in pixels."""
        return float(np.mean(np.linalg.norm(self.corners - np.roll(self.corners, 1, 0), axis=1)))


def glance(grey: Grey, windows_px: tuple[int, int]) -> list[SeenMark]:
    """Find the marks that are plain to see in a photo, in a tenth of the time of `search`.

    Parameters
    ----------
    grey : (h, w) uint8
        The photo's luma.
    windows_px : (int, int)
        One of `GLANCE_WINDOWS_PX`.

    Returns
    -------
    list of SeenMark
        As `search` gives them; those that are blurred or in shadow may be missing. None where
        some are small.
    """
    height, width = grey.shape
    # Whole pixels are averaged, which is much quicker than parts of them.
    times = max(1, round(max(height, width) / GLANCE_SIDE_PX))
    size = max(1, width // times), max(1, height // times)
    whole = grey[: size[1] * times, : size[0] * times] if min(height, width) >= times else grey
    small = np.asarray(cv2.resize(whole, size, interpolation=cv2.INTER_AREA), np.uint8)
    squares = squares_in(small, _settings(*windows_px, _GLANCE_PERIMETER))
    found = [
        SeenMark(ident, (corners.astype(float) + 0.5) * times - 0.5)
        for ident, corners in codes_of(small, squares)
    ]
    # Of small ones the corners are too rough for refining, and others may not be seen at all.
    return found if all(mark.side_px >= _GLANCE_MARK_PX * times for mark in found) else []


def search(grey: Grey, longest_px: int) -> list[SeenMark]:
    """Find every mark in a photo, on a reduced copy.

    Parameters
    ----------
    grey : (h, w) uint8
        The photo's luma.
    longest_px : int
        Longest side of the reduced copy; a small photo is enlarged up to twice.

    Returns
    -------
    list of SeenMark
        Marks with corners good to a pixel or two of the reduced copy.
    """
    height, width = grey.shape
    factor = min(longest_px / max(height, width), 2.0)
    if 0.8 < factor < 1.2:
        factor = 1.0
    small: npt.NDArray[Any] = grey
    if factor != 1.0:
        size = (max(1, round(width * factor)), max(1, round(height * factor)))
        how = cv2.INTER_AREA if factor < 1.0 else cv2.INTER_CUBIC
        small = cv2.resize(grey, size, interpolation=how)
    ratio = np.array([width / small.shape[1], height / small.shape[0]])
    corners, idents, _ = _detector(_settings()).detectMarkers(small)
    return [
        SeenMark(int(ident), (np.asarray(found, float).reshape(4, 2) + 0.5) * ratio - 0.5)
        for found, ident in zip(corners, _flat(idents), strict=True)
    ]


def look_for(grey: Grey, camera: PageCamera, marks: Iterable[Mark]) -> list[SeenMark]:
    """Look for marks where a first fit says that they are.

    The place is straightened and its light evened out, so a mark under a shadow's edge or too
    small for the first search is still read.

    Parameters
    ----------
    grey : (h, w) uint8
        The photo's luma.
    camera : PageCamera
        A first fit.
    marks : iterable of Mark
        Marks to look for.

    Returns
    -------
    list of SeenMark
        Those found near their places.
    """
    height, width = grey.shape
    found = []
    for mark in marks:
        margin = _LOOK_MARGIN * mark.size_mm
        side = mark.size_mm + 2.0 * margin
        pixels = round(side * _LOOK_PX_PER_MM)
        steps = (np.arange(pixels) + 0.5) / _LOOK_PX_PER_MM - margin
        page = np.stack(np.meshgrid(mark.x_mm + steps, mark.y_mm + steps), axis=-1)
        where = camera.to_pixels(page)
        core = camera.to_pixels(mark_corners_mm(mark))
        if (core < 0).any() or (core > np.array([width - 1, height - 1])).any():
            continue
        patch = values_at(grey, where)
        corners, idents, _ = _detector(_settings()).detectMarkers(even_light(patch))
        for one, ident in zip(corners, _flat(idents), strict=True):
            if ident != mark.ident:
                continue
            on_page = (np.asarray(one, float).reshape(4, 2) + 0.5) / _LOOK_PX_PER_MM
            on_page += [mark.x_mm - margin, mark.y_mm - margin]
            if np.abs(on_page - mark_corners_mm(mark)).max() < _LOOK_STRAY_MM:
                found.append(SeenMark(int(ident), camera.to_pixels(on_page)))
                break
    return found


def even_light(patch: Grey) -> Grey:
    """Divide a small grey picture by its own local white, so that shadows' edges go.

    Parameters
    ----------
    patch : (h, w) uint8
        A straightened piece of the photo, its subject a third of it or smaller.

    Returns
    -------
    ndarray (h, w) uint8
        The same with paper near 230 everywhere.
    """
    reach = max(3, min(patch.shape) // 7) | 1
    white: npt.NDArray[Any] = cv2.dilate(patch, np.ones((reach, reach), np.uint8))
    white = np.maximum(cv2.GaussianBlur(white, (0, 0), reach / 3.0), 8)
    return np.asarray(np.clip(patch * (230.0 / white), 0, 255), dtype=np.uint8)


def mark_corners_mm(mark: Mark) -> Array:
    """(4, 2) The mark's corners on the page, mm, in the order in which marks are read."""
    size = mark.size_mm
    return np.array([mark.x_mm, mark.y_mm]) + size * np.array(
        [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]
    )


def _flat(idents: npt.NDArray[Any] | None) -> list[int]:
    return [] if idents is None else [int(ident) for ident in np.ravel(idents)]


@lru_cache
def _settings(
    narrowest: int = 7, widest: int = 55, least_perimeter: float = 0.02
) -> cv2.aruco.DetectorParameters:
    settings = cv2.aruco.DetectorParameters()
    settings.adaptiveThreshWinSizeMin = narrowest
    settings.adaptiveThreshWinSizeMax = widest
    settings.adaptiveThreshWinSizeStep = 16
    settings.adaptiveThreshConstant = 5
    settings.minMarkerPerimeterRate = least_perimeter
    settings.polygonalApproxAccuracyRate = 0.05
    settings.perspectiveRemovePixelPerCell = 6
    # Corners are refined on the full photo afterwards, by their edges.
    settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_NONE
    return settings


def _detector(settings: cv2.aruco.DetectorParameters) -> cv2.aruco.ArucoDetector:
    # Made anew each time: a detector shared between threads is not promised to be safe.
    every = cv2.aruco.getPredefinedDictionary(MARK_DICTIONARY)
    # Every square is held against every mark there may be, so those of no sheet are left out.
    ours = np.ascontiguousarray(every.bytesList[:OURS])
    dictionary = cv2.aruco.Dictionary(ours, every.markerSize, every.maxCorrectionBits)
    return cv2.aruco.ArucoDetector(dictionary, settings)
