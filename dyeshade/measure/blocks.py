"""Sums of a picture over square blocks of a mask, quickly."""

from __future__ import annotations

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
        height, width = self._mask.shape
        down, across = _of_blocks(height, side_px), _of_blocks(width, side_px)
        lines = (down @ self._picture.reshape(height, -1)).reshape(len(down), width, 3)
        sums = np.einsum("aw,dwc->dac", across.astype(np.float64), lines, optimize=True)
        counts = down @ self._mask.astype(np.float32) @ across.T
        return sums.reshape(-1, 3), np.rint(counts).astype(np.float64).ravel()

    def values(self) -> Array:
        """The pixels, shape (count, 3)."""
        return self._picture[self._mask].astype(np.float64)


def _of_blocks(size: int, side_px: float) -> Picture:
    """(n, size) One where a pixel belongs to a block."""
    which = (np.arange(size) / side_px).astype(np.intp)
    belongs = which == np.arange(which[-1] + 1)[:, None]
    return np.asarray(belongs, dtype=np.float32)
