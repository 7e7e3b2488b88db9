"""Where a picture may hold a QR code at all: a quick look for the patterns in a code's corners.

Along any straight line through its middle such a pattern is dark, light, dark, light, dark, as wide
as one, one, three, one and one module (ISO/IEC 18004, 6.3.3). Searching for codes takes as long as
everything else that is done with a piece of cloth, and few pieces have one.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2

Grey = npt.NDArray[np.uint8]
Array = npt.NDArray[np.float64]

_AROUND_MM = 5.0
"""What is dark is told from the mean of so much around it: somewhat more than a pattern."""

_DARKER = 6
_MODULE_MM = 0.25, 1.6
_BESIDE_MM = 1.0
_LEAST_LINES = 3
_ONE, _THREE = 0.65, 1.1
"""How many modules the narrow stripes and the wide one may be off: blur, ink and shadow."""


def corner_patterns(picture: Grey, px_per_mm: float) -> Array:
    """Where lines across and lines down show a code's corner pattern.

    Parameters
    ----------
    picture : (h, w) uint8
        Turned any way.
    px_per_mm : float

    Returns
    -------
    ndarray (n, 2)
        Pixels in or near the middles of such patterns, x right and y down; several of each. None
        says that no code is there; some, that it is worth searching around them.
    """
    block = round(_AROUND_MM * px_per_mm) | 1
    how = cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY_INV
    dark = cv2.adaptiveThreshold(picture, 1, *how, block, _DARKER)
    least, most = _MODULE_MM[0] * px_per_mm, _MODULE_MM[1] * px_per_mm
    across = _middles(np.asarray(dark, np.uint8), least, most)
    if len(across) < _LEAST_LINES:
        return np.zeros((0, 2))
    down = _middles(np.ascontiguousarray(np.transpose(dark), np.uint8), least, most)[:, ::-1]
    if len(down) < _LEAST_LINES:
        return np.zeros((0, 2))
    side = round(_BESIDE_MM * px_per_mm) | 1
    both = []
    for middles in (across, down):
        canvas = np.zeros(dark.shape, np.uint8)
        canvas[middles[:, 1], middles[:, 0]] = 1
        both.append(cv2.boxFilter(canvas, cv2.CV_8U, (side, side), normalize=False))
    # A pattern's own middle is one of those of lines across.
    columns, rows = across.T
    lines = np.minimum(both[0][rows, columns], both[1][rows, columns])
    return np.asarray(across[lines >= _LEAST_LINES], np.float64)


def _middles(dark: Grey, least: float, most: float) -> npt.NDArray[np.intp]:
    """Middles of patterns along each row: column and row, (n, 2)."""
    width = dark.shape[1]
    padded = cv2.copyMakeBorder(dark, 0, 0, 1, 1, cv2.BORDER_CONSTANT)
    flat = np.asarray(padded).ravel()
    # Each row begins and ends light, so that dark stripes begin at every second change.
    changes = np.flatnonzero(flat[1:] != flat[:-1]) + 1
    stripes = np.diff(changes).astype(np.float32)
    if len(stripes) < 5:
        return np.zeros((0, 2), np.intp)
    one, two, three, four, five = (stripes[k : len(stripes) - 4 + k : 2] for k in range(5))
    module = (one + two + three + four + five) / 7
    off = np.abs(three - 3 * module) < _THREE * module
    for stripe in (one, two, four, five):
        off &= np.abs(stripe - module) < _ONE * module
    off &= (module > least) & (module < most)
    first = 2 * np.flatnonzero(off) + 2
    row, column = np.divmod((changes[first] + changes[first + 1]) // 2, width + 2)
    return np.stack([column - 1, row], axis=-1)
