"""What the photo shows inside small boxes of the page: greys, colours and spots of bare paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.photo.photo import Photo
from dyeshade.sheet.layout import Box
from dyeshade.sheet.place import SheetPlace

Array = NDArray[np.float64]

_BLOCKS = 3
_ENOUGH_PIXELS = 3600


@dataclass(frozen=True)
class PatchSignals:
    """Linear light of n boxes in the file's own primaries, 0..1.

    Attributes
    ----------
    centre_mm : ndarray (n, 2)
        Middles of the boxes on the page, mm.
    mean, median, spread : ndarray (n, 3)
        Mean, median and standard deviation over the inner part's pixels. NaN where a box is not
        wholly in the photo.
    clipped : ndarray (n,)
        Share of pixels with any channel at an end of its scale, 0..1.
    pixels : ndarray (n,)
        Photo pixels in the inner part (those read may be a regular part of them); 0 where the box
        is not wholly in the photo.
    patchy : ndarray (n,)
        How much the light differs from ninth to ninth of the inner part beyond what the scatter of
        its pixels explains: the standard deviation of nine block means over the box's mean. Plain
        print has below 0.02; a patch that is partly under yarn or shadow 0.05 and more.
    """

    centre_mm: Array
    mean: Array
    median: Array
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
    mean, median, spread = (np.full((count, 3), np.nan) for _ in range(3))
    clipped, patchy = np.zeros(count), np.full(count, np.nan)
    pixels = np.zeros(count, np.int64)
    for index, quad in enumerate(corners):
        low, high = np.ceil(quad.min(axis=0)), np.floor(quad.max(axis=0))
        if (low < 0).any() or (high > [photo.width - 1, photo.height - 1]).any():
            continue
        first, last = low.astype(int), high.astype(int)
        step = max(1, int(np.sqrt(np.prod(np.maximum(last - first, 1)) / _ENOUGH_PIXELS)))
        columns = slice(int(first[0]), int(last[0]) + 1, step)
        rows = slice(int(first[1]), int(last[1]) + 1, step)
        x, y = np.arange(columns.start, columns.stop, step), np.arange(rows.start, rows.stop, step)
        across, down = _within(quad, x[None, :], y[:, None])
        inside = (across >= 0.0) & (across < 1.0) & (down >= 0.0) & (down < 1.0)
        if inside.sum() < 4:
            continue
        light = photo.linear(rows, columns)[inside].astype(np.float64)
        mean[index], median[index] = light.mean(axis=0), np.median(light, axis=0)
        spread[index] = light.std(axis=0)
        clipped[index] = photo.clipped(rows, columns)[inside].mean()
        pixels[index] = int(inside.sum()) * step * step
        block = (down[inside] * _BLOCKS).astype(int) * _BLOCKS
        block += (across[inside] * _BLOCKS).astype(int)
        patchy[index] = _patchy(light.mean(axis=1), block)
    return PatchSignals(centres, mean, median, spread, clipped, pixels, patchy)


def _within(quad: Array, x: NDArray[np.int64], y: NDArray[np.int64]) -> tuple[Array, Array]:
    """Shares of the way across and down a small quadrilateral, taken as a parallelogram."""
    middle = quad.mean(axis=0)
    right = 0.5 * (quad[1] - quad[0] + quad[2] - quad[3])
    down = 0.5 * (quad[3] - quad[0] + quad[2] - quad[1])
    area = right[0] * down[1] - right[1] * down[0]
    dx, dy = x - middle[0], y - middle[1]
    return 0.5 + (dx * down[1] - dy * down[0]) / area, 0.5 + (dy * right[0] - dx * right[1]) / area


def _patchy(light: Array, block: NDArray[np.int64]) -> float:
    """Relative scatter of the block means beyond the scatter of their pixels."""
    counts = np.bincount(block, minlength=_BLOCKS**2).astype(float)
    some = counts >= 2
    if some.sum() < 4:
        return 0.0
    sums = np.bincount(block, light, _BLOCKS**2)[some]
    squares = np.bincount(block, light * light, _BLOCKS**2)[some]
    n = counts[some]
    means = sums / n
    noise = np.maximum(squares / n - means**2, 0.0) / (n - 1.0)
    beyond = max(float(means.var(ddof=1) - noise.mean()), 0.0)
    return float(np.sqrt(beyond) / max(float(light.mean()), 1e-6))
