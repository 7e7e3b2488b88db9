"""Mean, largest, smallest and spread of a picture's three channels, and sums of products.

numpy takes these over a last axis of three entries some ten times slower than cv2 does.
"""

from __future__ import annotations

from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from dyeshade.photo.vision import cv2

Picture = NDArray[np.float32]

_THIRD = np.full((1, 3), 1 / 3, np.float32)
_EACH = np.ones((1, 3), np.float32)


def mean_channel(picture: NDArray[Any]) -> Picture:
    """Mean of the channels, (h, w, 3) to (h, w)."""
    return np.asarray(cv2.transform(np.ascontiguousarray(picture), _THIRD), dtype=np.float32)


def largest_channel(picture: NDArray[Any]) -> Picture:
    """Largest of the channels, (h, w, 3) to (h, w)."""
    red, green, blue = cv2.split(picture)
    return np.asarray(cv2.max(cv2.max(red, green), blue), dtype=np.float32)


def smallest_channel(picture: NDArray[Any]) -> Picture:
    """Smallest of the channels, (h, w, 3) to (h, w)."""
    red, green, blue = cv2.split(picture)
    return np.asarray(cv2.min(cv2.min(red, green), blue), dtype=np.float32)


def channel_spread(picture: NDArray[Any]) -> Picture:
    """Largest less smallest of the channels, (h, w, 3) to (h, w)."""
    red, green, blue = cv2.split(picture)
    largest, smallest = cv2.max(cv2.max(red, green), blue), cv2.min(cv2.min(red, green), blue)
    return np.asarray(cv2.subtract(largest, smallest), dtype=np.float32)


def sum_of_products(one: Picture, other: Picture) -> Picture:
    """Channel times channel of both, summed over the channels; both (h, w, 3), to (h, w)."""
    return np.asarray(cv2.transform(cv2.multiply(one, other), _EACH), dtype=np.float32)


def scaled_channels(picture: Picture, factors: NDArray[np.float64]) -> Picture:
    """Each channel times its factor, (3,)."""
    return np.asarray(cv2.multiply(picture, cast(Any, (*factors, 0.0))), dtype=np.float32)


def without(picture: NDArray[Any], amounts: NDArray[np.float64]) -> Picture:
    """Each channel less its amount, (3,), as float32."""
    less = cv2.subtract(picture, cast(Any, (*amounts, 0.0)), dtype=cv2.CV_32F)
    return np.asarray(less, dtype=np.float32)


def at_least(picture: Picture, amount: float) -> Picture:
    """What is lower in any channel raised to this amount."""
    return np.asarray(cv2.max(picture, cast(Any, (amount, amount, amount, 0.0))), dtype=np.float32)
