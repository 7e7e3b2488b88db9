"""Where a chart's patches are in a photo, and what the photo shows in them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import DyeshadeError
from dyeshade.measure.chart import Chart
from dyeshade.photo.photo import Photo
from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]

INNER = 0.45
"""Share of the distance between neighbours that is read: patches fill some 80 % of it."""

LEAST_PIXELS = 40

_PATCHY = 0.08
_CLIPPED = 0.02


@dataclass(frozen=True, eq=False)
class ChartPlace:
    """A chart in a photo.

    Attributes
    ----------
    corners_px : ndarray, shape (4, 2)
        Middles of its corner patches, in pixels of the upright photo: the first patch, the last of
        the first row, the last patch, the first of the last row.
    middles_px : ndarray, shape (n, 2)
        Of all patches, in the chart's order.
    quads_px : ndarray, shape (n, 4, 2)
        What is read of each.
    """

    corners_px: Array
    middles_px: Array
    quads_px: Array


@dataclass(frozen=True, eq=False)
class ChartSeen:
    """What a photo shows of n patches: linear light in the file's primaries, 0..1.

    Attributes
    ----------
    mean, spread : ndarray, shape (n, 3)
        Mean and standard deviation over the pixels.
    pixels : ndarray, shape (n,)
    usable : ndarray of bool, shape (n,)
        False where clipped, or where something lies on it.
    clipped : int
        How many patches are clipped.
    """

    mean: Array
    spread: Array
    pixels: NDArray[np.int64]
    usable: NDArray[np.bool_]
    clipped: int


def place_chart(chart: Chart, corners_px: Array) -> ChartPlace:
    """Lay a chart's grid on the middles of its four corner patches.

    Parameters
    ----------
    chart : Chart
    corners_px : ndarray, shape (4, 2)
        As `ChartPlace.corners_px`.

    Raises
    ------
    DyeshadeError
        ``chart_corners`` where they do not go around the chart in order.
    """
    corners = np.asarray(corners_px, dtype=np.float64)
    sides = np.roll(corners, -1, axis=0) - corners
    turns = sides[:, 0] * np.roll(sides, -1, 0)[:, 1] - sides[:, 1] * np.roll(sides, -1, 0)[:, 0]
    if corners.shape != (4, 2) or not ((turns > 1).all() or (turns < -1).all()):
        raise DyeshadeError("chart_corners")
    right, down = chart.columns - 1.0, chart.rows - 1.0
    grid = np.array([[0, 0], [right, 0], [right, down], [0, down]], dtype=np.float32)
    turned = cv2.getPerspectiveTransform(grid, corners.astype(np.float32))
    matrix = np.asarray(turned, dtype=np.float64)
    y, x = np.mgrid[0 : chart.rows, 0 : chart.columns]
    middles = np.stack([x.ravel(), y.ravel()], axis=-1).astype(np.float64)
    box = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]]) * INNER
    return ChartPlace(
        corners, through(matrix, middles), through(matrix, middles[:, None] + box[None])
    )


def through(matrix: Array, points: Array) -> Array:
    """Points (..., 2) through a projective map (3, 3)."""
    flat = np.concatenate([points, np.ones((*points.shape[:-1], 1))], axis=-1) @ matrix.T
    return np.asarray(flat[..., :2] / flat[..., 2:])


def see_chart(photo: Photo, place: ChartPlace) -> ChartSeen:
    """Read the light inside a chart's patches.

    Raises
    ------
    DyeshadeError
        ``chart_outside``; ``chart_too_small`` (pixels, needed).
    """
    count = len(place.quads_px)
    mean, spread = np.zeros((count, 3)), np.zeros((count, 3))
    pixels, clipped, patchy = np.zeros(count, np.int64), np.zeros(count), np.zeros(count)
    for index, quad in enumerate(place.quads_px):
        low, high = np.floor(quad.min(axis=0)).astype(int), np.ceil(quad.max(axis=0)).astype(int)
        if (low < 0).any() or (high >= [photo.width, photo.height]).any():
            raise DyeshadeError("chart_outside")
        rows, columns = slice(low[1], high[1] + 1), slice(low[0], high[0] + 1)
        canvas = np.zeros((high[1] - low[1] + 1, high[0] - low[0] + 1), np.uint8)
        cv2.fillConvexPoly(canvas, np.round(quad - low).astype(np.int32), 1)
        inside = canvas.astype(bool)
        light = photo.linear(rows, columns)[inside].astype(np.float64)
        pixels[index] = len(light)
        mean[index], spread[index] = light.mean(axis=0), light.std(axis=0)
        clipped[index] = photo.clipped(rows, columns)[inside].mean()
        patchy[index] = _patchy(light, np.argwhere(inside))
    if pixels.min() < LEAST_PIXELS:
        raise DyeshadeError("chart_too_small", pixels=int(pixels.min()), needed=LEAST_PIXELS)
    cut = clipped > _CLIPPED
    usable = ~cut & (patchy < _PATCHY) & (mean > 0).all(axis=1)
    return ChartSeen(mean, spread, pixels, usable, int(cut.sum()))


def _patchy(light: Array, places: NDArray[np.int64]) -> float:
    """How much the four quarters of a patch differ, as a share of its light."""
    middle = places.mean(axis=0)
    quarter = (places[:, 0] > middle[0]) * 2 + (places[:, 1] > middle[1])
    grey = light.mean(axis=1)
    means = [float(grey[quarter == k].mean()) for k in range(4) if (quarter == k).any()]
    return float(np.std(means) / max(float(grey.mean()), 2e-3))
