"""Sums of a picture over square blocks of a mask, quickly."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Mask = NDArray[np.bool_]


class Masked:
    """A picture where a mask holds, cut out of what is around it.

    Parameters
    ----------
    picture : ndarray, shape (h, w, 3), float32
        May be anything, NaN too, outside of the mask.
    mask : ndarray of bool, shape (h, w)

    Raises
    ------
    ValueError
        An empty mask.
    """

    def __init__(self, picture: Picture, mask: Mask) -> None:
        rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
        if not rows.size:
            raise ValueError("nothing to average")
        cut = slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1)
        self._mask = np.ascontiguousarray(mask[cut])
        self.count = int(np.count_nonzero(self._mask))
        part = np.ascontiguousarray(picture[cut], np.float32)
        # Left black where the mask does not hold.
        self._picture = np.asarray(cv2.copyTo(part, self._mask.view(np.uint8)), np.float32)

    def blocks(self, side_px: float) -> tuple[Array, Array]:
        """Sums (n, 3) and counts (n,) of all blocks, row by row; those of empty blocks are zero."""
        sums = _of_blocks(cv2.integral(self._picture, sdepth=cv2.CV_64F), side_px)
        counts = _of_blocks(cv2.integral(self._mask.view(np.uint8)), side_px)
        return sums.reshape(-1, 3), counts.ravel().astype(np.float64)

    def values(self) -> Array:
        """The pixels, shape (count, 3)."""
        return self._picture[self._mask].astype(np.float64)


def _of_blocks(integral: NDArray[Any], side_px: float) -> NDArray[Any]:
    """Sums over blocks, from the sums over all that lies above and to the left."""
    down, across = (_edges(size - 1, side_px) for size in integral.shape[:2])
    return np.diff(np.diff(integral[down][:, across], axis=0), axis=1)


def _edges(size: int, side_px: float) -> NDArray[np.intp]:
    """Where blocks begin, and the last one ends."""
    starts = np.ceil(np.arange(int((size - 1) / side_px) + 1) * side_px)
    return np.append(starts, size).astype(np.intp)
