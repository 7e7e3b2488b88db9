"""Which of our marks each square in a photo is, all squares at once.

OpenCV's detector holds every square against every mark there may be, one after the other, which is
half of its time and more. So it is asked for squares alone, and their cells are read here.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2
from dyeshade.sheet.kinds import IDENTS_PER_VERSION, VERSION

Array = npt.NDArray[np.float64]
Quads = npt.NDArray[np.float32]

MARK_DICTIONARY = cv2.aruco.DICT_5X5_1000
OURS = VERSION * IDENTS_PER_VERSION
"""Marks of our sheets are the first so many."""

_INNER = 5
_CELLS = _INNER + 2
_LOOKS = 3
_LOOKED_AT = 0.5
"""Of a cell, to either side: its middle half, three by three."""

_LEAST_CONTRAST = 25.0
"""Codes between a mark's black and its white; noise and texture have less (ours, by judgement)."""

_MOST_WRONG_RIM = 2
_MOST_WRONG_INSIDE = 1
"""Cells that may be misread: of the black rim, and of the code, where marks differ in three at
least; what is worse is left to the thorough search."""

_NO_MARK_OF_OURS = 999


def squares_in(grey: npt.NDArray[np.uint8], settings: cv2.aruco.DetectorParameters) -> Quads:
    """Dark squares that may be marks.

    Parameters
    ----------
    grey : (h, w) uint8
    settings : cv2.aruco.DetectorParameters

    Returns
    -------
    ndarray (n, 4, 2), float32
        Corners clockwise as seen, pixels with pixel centres at integers.
    """
    every = cv2.aruco.getPredefinedDictionary(MARK_DICTIONARY)
    other = np.ascontiguousarray(every.bytesList[_NO_MARK_OF_OURS:][:1])
    detector = cv2.aruco.ArucoDetector(
        cv2.aruco.Dictionary(other, every.markerSize, every.maxCorrectionBits), settings
    )
    _, _, squares = detector.detectMarkers(grey)
    return np.array(squares, np.float32).reshape(-1, 4, 2)


def codes_of(grey: npt.NDArray[np.uint8], squares: Quads) -> list[tuple[int, Quads]]:
    """Read squares as marks of ours.

    Parameters
    ----------
    grey : (h, w) uint8
    squares : ndarray (n, 4, 2), float32
        Corners clockwise as seen, pixels.

    Returns
    -------
    list of (int, ndarray (4, 2))
        What each one that is a mark encodes, and its corners in the mark's own order: top left,
        top right, bottom right, bottom left of the upright mark.
    """
    if not len(squares):
        return []
    cells = _cells_of(grey, squares)
    rim = np.ones((_CELLS, _CELLS), np.bool_)
    rim[1:-1, 1:-1] = False
    inside = cells[:, ~rim]
    black, white = np.median(cells[:, rim], axis=1), inside.max(axis=1)
    middle = (0.5 * (black + white))[:, None]
    is_mark = white - black > _LEAST_CONTRAST
    is_mark &= (cells[:, rim] > middle).sum(axis=1) <= _MOST_WRONG_RIM
    # Two codes of plus and minus one have a product of their length less twice what differs.
    alike = np.where(inside > middle, 1.0, -1.0) @ _codes().T
    best = alike.argmax(axis=1)
    is_mark &= alike.max(axis=1) >= _INNER**2 - 2 * _MOST_WRONG_INSIDE
    return [
        (int(best[k] // 4), np.roll(squares[k], int(best[k] % 4), axis=0))
        for k in np.flatnonzero(is_mark)
    ]


def _cells_of(grey: npt.NDArray[np.uint8], squares: Quads) -> Array:
    """Mean codes of the cells of squares, (n, cells, cells), straightened."""
    sides = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], np.float32)
    planes = np.array([cv2.getPerspectiveTransform(sides, one) for one in squares])
    at = planes @ _looks()
    at = (at[:, :2] / at[:, 2:]).astype(np.float32)
    seen = cv2.remap(grey, at[:, 0], at[:, 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    by_cell = np.asarray(seen, np.float64).reshape(-1, _CELLS, _LOOKS, _CELLS, _LOOKS)
    return np.asarray(by_cell.mean(axis=(2, 4)))


@cache
def _looks() -> Array:
    """Places in a square of side 1 that are looked at, homogeneous, (3, n), row by row."""
    within = 0.5 + _LOOKED_AT * ((np.arange(_LOOKS) + 0.5) / _LOOKS - 0.5)
    along = ((np.arange(_CELLS)[:, None] + within) / _CELLS).ravel()
    across, down = np.meshgrid(along, along)
    return np.stack([across.ravel(), down.ravel(), np.ones(across.size)])


@cache
def _codes() -> Array:
    """Our marks' cells, white 1 and black -1, as seen after 0 to 3 quarter turns; (4 n, 25)."""
    every = cv2.aruco.getPredefinedDictionary(MARK_DICTIONARY)
    bits = np.array(
        [
            cv2.aruco.Dictionary.getBitsFromByteList(every.bytesList[k : k + 1], _INNER)
            for k in range(OURS)
        ]
    )
    turned = np.stack([np.rot90(bits, k, axes=(1, 2)) for k in range(4)], axis=1)
    return np.asarray(2.0 * turned.reshape(-1, _INNER**2) - 1.0)
