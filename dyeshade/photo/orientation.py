"""Turning a photo upright by its orientation tag.

References
----------
CIPA DC-008 (Exif 2.32), tag 274 Orientation; TIFF 6.0, section 8: which corner the first row
and the first column stand for.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray


def upright(image: NDArray[Any], orientation: int) -> NDArray[Any]:
    """The image as the photographer saw it.

    Parameters
    ----------
    image : ndarray, shape (height, width, ...)
        As stored.
    orientation : int
        1 to 8 as in the tag; any other value (cameras write 0) leaves the image as it is.

    Returns
    -------
    ndarray, shape (height, width, ...) or (width, height, ...)
        Contiguous.
    """
    if orientation in (5, 6, 7, 8):
        image = image.swapaxes(0, 1)
    if orientation in (2, 3, 6, 7):
        image = image[:, ::-1]
    if orientation in (3, 4, 7, 8):
        image = image[::-1]
    return np.ascontiguousarray(image)
