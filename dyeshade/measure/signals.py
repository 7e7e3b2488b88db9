"""What the photo shows inside small boxes of the page: greys, colours and spots of bare paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.channels import mean_channel
from dyeshade.photo.photo import Photo
from dyeshade.photo.vision import cv2
from dyeshade.sheet.interpolate import pixels_at
from dyeshade.sheet.layout import Box
from dyeshade.sheet.place import SheetPlace

Array = NDArray[np.float64]

_BLOCKS = 3
_BLOCK_SIDE = 12
_SIDE = _BLOCKS * _BLOCK_SIDE
"""A box is read at so many places across and down: enough for its mean to be surer than its print,
and few enough that all boxes of a photo are read at once."""

_LEAST_PIXELS = 4.0


@dataclass(frozen=True)
class PatchSignals:
    """Linear light of n boxes in the file's own primaries, 0..1.

    Attributes
    ----------
    centre_mm : ndarray (n, 2)
        Middles of the boxes on the page, mm.
    mean, spread : ndarray (n, 3)
        Mean and standard deviation over the inner part's pixels. NaN where a box is not wholly in
        the photo.
    clipped : ndarray (n,)
        Share of pixels with any channel at an end of its scale, 0..1.
    pixels : ndarray (n,)
        Photo pixels in the inner part (some of them may be read, evenly spread); 0 where the box
        is not wholly in the photo.
    patchy : ndarray (n,)
        How much the light differs from ninth to ninth of the inner part beyond what the scatter of
        its pixels explains: the standard deviation of nine block means over the box's mean. Plain
        print has below 0.02; a patch that is partly under yarn or shadow 0.05 and more.
    """

    centre_mm: Array
    mean: Array
    spread: Array
    clipped: Array
    pixels: NDArray[np.int64]
    patchy: Array


def sample_boxes(
    photo: Photo, place: SheetPlace, boxes: Sequence[Box], inner: float = 0.6
) -> PatchSignals:
    """Read the light inside boxes of the page.

    Parameters
    ----------
    photo : Photo
        The photo that the sheet was found in.
    place : SheetPlace
        Where the page is.
    boxes : sequence of Box
        Boxes on the page; axis-parallel, mm.
    inner : float
        Share of each box's width and height that is read, around its middle, so that a small
        misplacement and blur at its edges do no harm.

    Returns
    -------
    PatchSignals
        One entry a box, in order.
    """
    count = len(boxes)
    centres = np.array([[b.x_mm + 0.5 * b.w_mm, b.y_mm + 0.5 * b.h_mm] for b in boxes])
    centres = centres.reshape(count, 2)
    sizes = np.array([[b.w_mm, b.h_mm] for b in boxes]).reshape(count, 2) * inner
    signs = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])
    corners = place.to_pixels(centres[:, None] + signs * sizes[:, None])
    mean, spread = np.full((count, 3), np.nan), np.full((count, 3), np.nan)
    clipped, patchy = np.zeros(count), np.full(count, np.nan)
    pixels = np.zeros(count, np.int64)
    # A small quadrilateral is taken as a parallelogram.
    right = 0.5 * (corners[:, 1] - corners[:, 0] + corners[:, 2] - corners[:, 3])
    down = 0.5 * (corners[:, 3] - corners[:, 0] + corners[:, 2] - corners[:, 1])
    area = np.abs(right[:, 0] * down[:, 1] - right[:, 1] * down[:, 0])
    reaching = (corners <= -1.0) | (corners >= [photo.width, photo.height])
    read = np.flatnonzero(~reaching.any(axis=(1, 2)) & (area >= _LEAST_PIXELS))
    if not read.size:
        return PatchSignals(centres, mean, spread, clipped, pixels, patchy)
    # Places in boxes, one box below the other; x and y by themselves, which numpy does sooner.
    share = ((np.arange(_SIDE) + 0.5) / _SIDE - 0.5).astype(np.float32)
    middle, along, across = (
        part[read].astype(np.float32).T[..., None, None]
        for part in (corners.mean(axis=1), right, down)
    )
    x, y = (middle + share * along + share[:, None] * across).reshape(2, -1, _SIDE)
    # A photo of what was read.
    found = replace(photo, coded=pixels_at(photo.coded, x, y))
    light = found.linear()
    mean[read], spread[read] = _mean_and_spread(light)
    clipped[read] = found.clipped().reshape(len(read), -1).mean(axis=1)
    pixels[read] = np.rint(area[read])
    patchy[read] = _patchy(mean_channel(light), area[read])
    return PatchSignals(centres, mean, spread, clipped, pixels, patchy)


def _mean_and_spread(light: NDArray[np.float32]) -> tuple[Array, Array]:
    """Means and standard deviations of boxes that stand one below the other, both (n, 3)."""
    # From near its mean on, single precision is enough for the spread of an even patch, too.
    near = _box_means(light)
    away = cv2.subtract(
        light, cv2.resize(near, light.shape[1::-1], interpolation=cv2.INTER_NEAREST)
    )
    beyond, squares = _box_means(away), _box_means(cv2.multiply(away, away))
    mean = near.astype(np.float64) + beyond
    spread = np.sqrt(np.maximum(squares - beyond.astype(np.float64) ** 2, 0.0))
    return mean[:, 0], spread[:, 0]


def _box_means(light: NDArray[Any]) -> NDArray[np.float32]:
    """Means of boxes that stand one below the other, (n * side, side, 3) to (n, 1, 3)."""
    size = 1, len(light) // _SIDE
    means = cv2.resize(light, size, interpolation=cv2.INTER_AREA)
    return np.asarray(means, np.float32).reshape(-1, 1, 3)


def _block_means(light: NDArray[Any]) -> Array:
    """Means of the blocks of boxes that stand one below the other.

    Parameters
    ----------
    light : ndarray, shape (n * side, side), float32

    Returns
    -------
    ndarray, shape (n, blocks * blocks)
    """
    size = _BLOCKS, len(light) // _BLOCK_SIDE
    # In double precision: the spread of an even patch is a small difference of squares.
    means = cv2.resize(light.astype(np.float64), size, interpolation=cv2.INTER_AREA)
    return np.asarray(means, np.float64).reshape(-1, _BLOCKS**2)


def _patchy(light: NDArray[np.float32], pixels: Array) -> Array:
    """Relative scatter of block means beyond the scatter of their pixels, for n boxes, (n,)."""
    means, squares = _block_means(light), _block_means(light * light)
    # Where there are fewer pixels than places, some were read twice and tell nothing new.
    told = np.clip(pixels / _BLOCKS**2, 2.0, _BLOCK_SIDE**2)[:, None]
    noise = np.maximum(squares - means**2, 0.0) / (told - 1.0)
    beyond = np.maximum(means.var(axis=1, ddof=1) - noise.mean(axis=1), 0.0)
    return np.asarray(np.sqrt(beyond) / np.maximum(means.mean(axis=1), 1e-6))
