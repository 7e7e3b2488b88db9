"""The colour of the cloth around each pixel of a piece, as what foreign light is told by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.channels import mean_channel
from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Mask = NDArray[np.bool_]

LEAST_TURN = 0.15
"""Of neutral light, the least share across the cloth's own colour by which it can be told."""

FLOOR = 0.003
_FINEST = 3.0
"""A mean over a Gaussian is taken on a grid with so many points a standard deviation at least."""

_BLUR_REACH = 3.0


@dataclass(frozen=True, eq=False)
class ClothAround:
    """What light in a pixel is compared with.

    Attributes
    ----------
    own : ndarray, shape (h, w), float32
        Light of the cloth, the mean of its channels.
    across : ndarray, shape (h, w, 3), float32
        A pixel's linear light times this, summed over the channels, is its neutral light: the part
        that the cloth's colour can't give.
    beside : ndarray, shape (h, w, 3), float32
        Likewise, the part that no mixture of the cloth's colour with neutral light gives.
    tellable : ndarray of bool, shape (h, w)
        Where the cloth has enough colour for neutral light to be told from it.
    """

    own: Picture
    across: Picture
    beside: Picture
    tellable: Mask


def cloth_nearby(picture: Picture, weight: Mask, sigma_px: float) -> ClothAround:
    """The mean of the weighted pixels nearby, as the cloth.

    Parameters
    ----------
    picture : ndarray, shape (h, w, 3), float32
    weight : ndarray of bool, shape (h, w)
    sigma_px : float
        Standard deviation of the Gaussian that says what is near.
    """
    # A coarse copy is as good for so soft a mean, and quick; blocks of whole pixels the more so.
    step = max(1, int(sigma_px / _FINEST))
    some = weight.view(np.uint8)
    sums = _in_blocks(cv2.copyTo(picture, some), step)
    counts = _blurred(_in_blocks(some * np.float32(1), step), sigma_px / step)
    sums = _blurred(sums, sigma_px / step)
    soft = np.asarray(sums / np.maximum(counts, np.float32(1e-4))[..., None], np.float32)
    size = counts.shape[1] * step, counts.shape[0] * step
    height, width = weight.shape
    own, across, beside, turn = (
        np.asarray(
            cv2.resize(one, size, interpolation=cv2.INTER_LINEAR)[:height, :width], np.float32
        )
        for one in _measures(soft)
    )
    return ClothAround(own, across, beside, turn > LEAST_TURN**2)


def cloth_of_shades(picture: Picture, shades: Array) -> ClothAround:
    """Of several shades the one whose direction from black is nearest to each pixel's own.

    Parameters
    ----------
    picture : ndarray, shape (h, w, 3), float32
    shades : ndarray, shape (n, 3)
    """
    units = shades / np.linalg.norm(shades, axis=1, keepdims=True)
    likeness = cv2.transform(picture, units.astype(np.float32)).reshape(*picture.shape[:2], -1)
    best = likeness.argmax(axis=-1)
    own, across, beside, turn = (
        one[0][best] for one in _measures(shades.astype(np.float32)[np.newaxis])
    )
    return ClothAround(own, across, beside, turn > LEAST_TURN**2)


def mean_nearby(picture: Picture, weight: Mask, sigma_px: float) -> Picture:
    """Mean of the weighted pixels nearby of a picture of one channel, (h, w)."""
    kept = cv2.merge((cv2.copyTo(picture, weight.view(np.uint8)), weight.astype(np.float32)))
    sums = cv2.GaussianBlur(kept, (0, 0), sigma_px)
    return np.asarray(sums[..., 0] / np.maximum(sums[..., 1], np.float32(1e-4)))


def _blurred(sums: Picture, sigma_px: float) -> Picture:
    """Blurred, with nothing beyond the picture."""
    size = 2 * int(np.ceil(_BLUR_REACH * sigma_px)) + 1
    soft = cv2.GaussianBlur(sums, (size, size), sigma_px, borderType=cv2.BORDER_CONSTANT)
    return np.asarray(soft, np.float32)


def _in_blocks(picture: Any, step: int) -> Picture:
    """Means of squares of so many pixels a side, what is missing of the last ones black."""
    height, width = picture.shape[:2]
    size = -(-width // step), -(-height // step)
    more = size[1] * step - height, size[0] * step - width
    whole = cv2.copyMakeBorder(picture, 0, more[0], 0, more[1], cv2.BORDER_CONSTANT)
    return np.asarray(cv2.resize(whole, size, interpolation=cv2.INTER_AREA), np.float32)


def _grown(coarse: Picture, step: int, shape: tuple[int, ...]) -> Picture:
    """The opposite of `_in_blocks`, straight between the blocks' middles."""
    size = coarse.shape[1] * step, coarse.shape[0] * step
    fine = cv2.resize(coarse, size, interpolation=cv2.INTER_LINEAR)
    return np.asarray(fine[: shape[0], : shape[1]], np.float32)


def _measures(body: Picture) -> tuple[Picture, Picture, Picture, Picture]:
    """Of cloth of these colours, (h, w, 3), what `ClothAround` holds.

    The last is the square of the share of neutral light that lies across the cloth's colour.
    """
    body = np.ascontiguousarray(body)
    own = mean_channel(body)
    square = 3 * mean_channel(cv2.multiply(body, body))
    length = np.maximum(np.sqrt(square), FLOOR)
    # Of neutral light, the part across the cloth's own colour is what that can't give: (1, 1, 1)
    # less `along` times the colour's unit vector, whose own square is `unit`.
    along, unit = 3 * own / length, square / (length * length)
    turn = 3 - (2 - unit) * along * along
    most = np.maximum(turn, LEAST_TURN**2)
    red, green, blue = cv2.split(body)
    across = cv2.merge([(1 - along * one / length) / most for one in (red, green, blue)])
    # A second dye is no mixture of the first with neutral light: it lies across both.
    size = np.sqrt(np.maximum(3 * unit - along * along, 0)) * length
    size = np.maximum(size, LEAST_TURN * length)
    beside = cv2.merge([part / size for part in (green - blue, blue - red, red - green)])
    return own, np.asarray(across, np.float32), np.asarray(beside, np.float32), turn
