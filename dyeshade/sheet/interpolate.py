"""Picture values between pixels."""

from __future__ import annotations

from typing import Any, cast

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2


def values_at(picture: npt.NDArray[Any], where: npt.ArrayLike) -> npt.NDArray[Any]:
    """Values straight between the four pixels around each place.

    Parameters
    ----------
    picture : (h, w) or (h, w, 3) array
        uint8 or float32.
    where : (rows, columns, 2)
        Places in pixels, x right and y down, pixel centres at integers. Beyond the picture its
        border goes on.

    Returns
    -------
    ndarray (rows, columns) or (rows, columns, 3)
        Of the picture's type.
    """
    places = np.ascontiguousarray(where, dtype=np.float32)
    border = cv2.BORDER_REPLICATE
    # Both coordinates stand in the first map; cv2's own types know of no empty second one.
    return np.asarray(
        cv2.remap(picture, places, cast(Any, None), cv2.INTER_LINEAR, borderMode=border)
    )
