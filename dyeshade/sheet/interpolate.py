"""Picture values between pixels."""

from __future__ import annotations

from typing import Any, cast

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2

_REMAP_LIMIT = 32000
"""Rows and columns of what cv2 can resample."""


def values_at(picture: npt.NDArray[Any], where: npt.ArrayLike) -> npt.NDArray[Any]:
    """Values straight between the four pixels around each place.

    Parameters
    ----------
    picture : (h, w) or (h, w, 3) array
        uint8, uint16 or float32.
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
    if picture.ndim == 3:
        # Four channels are resampled in half of the time of three.
        four = cv2.cvtColor(np.ascontiguousarray(picture), cv2.COLOR_RGB2RGBA)
        found = cv2.remap(four, places, cast(Any, None), cv2.INTER_LINEAR, borderMode=border)
        return np.asarray(cv2.cvtColor(found, cv2.COLOR_RGBA2RGB))
    # Both coordinates stand in the first map; cv2's own types know of no empty second one.
    return np.asarray(
        cv2.remap(picture, places, cast(Any, None), cv2.INTER_LINEAR, borderMode=border)
    )


def pixels_at(
    picture: npt.NDArray[Any], x: npt.NDArray[np.float32], y: npt.NDArray[np.float32]
) -> npt.NDArray[Any]:
    """The pixels nearest to places; ten times as quick as indexing.

    Parameters
    ----------
    picture : (h, w, 3) array
        uint8, uint16 or float32.
    x, y : (rows, columns) float32
        Places in pixels, right and down. Beyond the picture its border goes on.

    Returns
    -------
    ndarray (rows, columns, 3)
        Of the picture's type.
    """
    height, width = picture.shape[:2]
    if max(height, width, *x.shape) > _REMAP_LIMIT:
        column, row = np.rint(x).astype(np.intp), np.rint(y).astype(np.intp)
        return np.asarray(picture[np.clip(row, 0, height - 1), np.clip(column, 0, width - 1)])
    return np.asarray(cv2.remap(picture, x, y, cv2.INTER_NEAREST, borderMode=cv2.BORDER_REPLICATE))
