"""Whether a picture may hold a QR code at all: a quick look for the patterns in a code's corners.

Along any straight line through its middle such a pattern is dark, light, dark, light, dark, as wide
as one, one, three, one and one module (ISO/IEC 18004, 6.3.3). Searching for codes takes as long as
everything else that is done with a piece of cloth, and few pieces have one.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2

Grey = npt.NDArray[np.uint8]
Mask = npt.NDArray[np.bool_]

_AROUND_MM = 5.0
"""What is dark is told from the mean of so much around it: somewhat more than a pattern."""

_DARKER = 6
_MODULE_MM = 0.25, 1.6
_BESIDE_MM = 1.0
_LEAST_LINES = 3
_ONE, _THREE = 0.65, 1.1
"""How many modules the narrow stripes and the wide one may be off: blur, ink and shadow."""


def may_hold_code(picture: Grey, px_per_mm: float) -> bool:
    """Whether lines across and lines down show a code's corner pattern at one place.

    Parameters
    ----------
    picture : (h, w) uint8
    px_per_mm : float

    Returns
    -------
    bool
        False says that no code is there; True that it is worth searching.
    """
    block = round(_AROUND_MM * px_per_mm) | 1
    how = cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY_INV
    dark = cv2.adaptiveThreshold(picture, 1, *how, block, _DARKER)
    least, most = _MODULE_MM[0] * px_per_mm, _MODULE_MM[1] * px_per_mm
    across = _middles(np.asarray(dark, np.uint8), least, most)
    down = _middles(np.ascontiguousarray(np.transpose(dark), np.uint8), least, most).T
    if not (across.any() and down.any()):
        return False
    side = round(_BESIDE_MM * px_per_mm) | 1
    lines = [
        cv2.boxFilter(np.ascontiguousarray(found), cv2.CV_16S, (side, side), normalize=False)
        for found in (across, down)
    ]
    return bool((np.minimum(lines[0], lines[1]) >= _LEAST_LINES).any())


def _middles(dark: Grey, least: float, most: float) -> Grey:
    """Middles of patterns along each row: 1 there, (h, w)."""
    height, width = dark.shape
    padded = np.zeros((height, width + 2), np.uint8)
    padded[:, 1:-1] = dark
    flat = padded.ravel()
    # Each row begins and ends light, so that dark stripes begin at every second change.
    changes = np.flatnonzero(flat[1:] != flat[:-1]) + 1
    found = np.zeros(flat.shape, np.uint8)
    stripes = np.diff(changes).astype(np.float32)
    if len(stripes) >= 5:
        one, two, three, four, five = (stripes[k : len(stripes) - 4 + k : 2] for k in range(5))
        module = (one + two + three + four + five) / 7
        off = np.abs(three - 3 * module) < _THREE * module
        for stripe in (one, two, four, five):
            off &= np.abs(stripe - module) < _ONE * module
        off &= (module > least) & (module < most)
        first = 2 * np.flatnonzero(off) + 2
        found[(changes[first] + changes[first + 1]) // 2] = 1
    return found.reshape(height, width + 2)[:, 1:-1]
