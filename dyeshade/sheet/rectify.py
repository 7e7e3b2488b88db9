"""Straighten a part of the photo into page millimetres."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2
from dyeshade.sheet.camera import Array
from dyeshade.sheet.interpolate import values_at
from dyeshade.sheet.place import SheetPlace

Picture = npt.NDArray[np.float32]
RegionReader = Callable[[slice, slice], npt.NDArray[np.float32]]
"""Reads rows and columns of a photo as (h', w', 3) linear light, as `Photo.linear` does."""

_MOST_NODE_PX = 12
_NODE_MM = 2.4
"""Nodes stand this near at least, so that straight between them is straight enough."""

_REMAP_LIMIT = 30000
_STRIP_PX = 1_000_000
_BAND_ROWS = 32
_MOST_SHRINK = 32


def rectify(
    source: npt.NDArray[np.generic] | RegionReader,
    place: SheetPlace,
    box_mm: tuple[float, float, float, float],
    px_per_mm: float,
) -> Picture:
    """Resample a box of the page.

    Averages in linear light where the photo has more pixels than asked for, so that fine threads
    keep the mean an instrument would see; bilinear where it has fewer.

    Parameters
    ----------
    source : (h, w) or (h, w, 3) array, or callable
        The whole photo in linear light, or a reader of its regions (only what is needed is read).
    place : SheetPlace
        Where the page is.
    box_mm : (float, float, float, float)
        Left, top, width and height on the page, mm.
    px_per_mm : float
        Scale of the result.

    Returns
    -------
    ndarray (rows, columns[, 3]) float32
        Pixel (i, j) is the page around x = left + (j + 0.5) / px_per_mm, y alike. NaN where the
        photo does not reach.
    """
    left, top, wide, high = box_mm
    columns, rows = max(1, round(wide * px_per_mm)), max(1, round(high * px_per_mm))
    edges = np.array([[left, top], [left + wide, top], [left, top + high]])
    edges = np.vstack([edges, [[left + wide, top + high], [left + wide / 2, top + high / 2]]])
    stretches = np.linalg.svd(place.camera.jacobian(edges), compute_uv=False) / px_per_mm
    # Most of the averaging is done where it is cheapest, on the photo's own grid.
    shrink = min(_MOST_SHRINK, max(1, int(stretches.min())))
    times = min(16, max(1, int(np.ceil(stretches.max() / shrink - 0.5))))
    step = min(_MOST_NODE_PX, max(1, int(_NODE_MM * px_per_mm * times)))
    nodes = _nodes(place, (left, top), rows * times, columns * times, px_per_mm * times, step)

    # The lowest and highest node bound what lies between, give or take the lens's bend.
    frame_rows, frame_columns = place.frame_px
    span = _span(nodes[..., 1], frame_rows, shrink), _span(nodes[..., 0], frame_columns, shrink)
    part = _shrunk(source, span, shrink)
    if max(part.shape[:2]) > _REMAP_LIMIT:
        raise ValueError("the photo is larger than can be resampled at once")
    # A pixel of the shrunk part is the mean of several, and stands in their middle.
    corner = np.array([span[1].start, span[0].start]) - 0.5
    nodes = (nodes - corner) / shrink - 0.5
    least = (-0.5 - corner) / shrink - 0.5
    most = (np.array([frame_columns, frame_rows]) - 0.5 - corner) / shrink - 0.5
    leaving = bool((nodes < least).any() or (nodes > most).any())
    if not leaving and not part.any():
        return np.zeros((rows, columns, *part.shape[2:]), np.float32)

    nodes_px = nodes.astype(np.float32)
    result = np.empty((rows, columns, *part.shape[2:]), np.float32)
    # Strips end where nodes' squares do, so that each is stretched by itself.
    strip = step * max(1, _STRIP_PX // (columns * times * times * step))
    for row in range(0, rows, strip):
        some = min(strip, rows - row)
        where = _between(nodes_px, slice(row * times, (row + some) * times), columns * times, step)
        fine = np.asarray(values_at(part, where), np.float32)
        if leaving:
            x, y = where[..., 0], where[..., 1]
            outside = (x < least[0]) | (y < least[1]) | (x > most[0]) | (y > most[1])
            fine[outside] = np.nan
        result[row : row + some] = _means(fine, times)
    return result


def _shrunk(
    source: npt.NDArray[np.generic] | RegionReader, span: tuple[slice, slice], shrink: int
) -> npt.NDArray[Any]:
    """A part of the photo, squares of `shrink` by `shrink` pixels averaged; uint8 or float32."""
    rows, columns = span
    read: Callable[[slice, slice], npt.NDArray[Any]]
    read = source if callable(source) else lambda some, across: source[some, across]
    if shrink == 1:
        return _plain(read(rows, columns))
    high, wide = (rows.stop - rows.start) // shrink, (columns.stop - columns.start) // shrink
    columns = slice(columns.start, columns.start + wide * shrink)
    bands = []
    # In bands that stay near the processor, so that a photo is never held in linear light.
    for first in range(0, high, _BAND_ROWS):
        some = min(_BAND_ROWS, high - first)
        band = slice(rows.start + first * shrink, rows.start + (first + some) * shrink)
        part = _plain(read(band, columns))
        bands.append(cv2.resize(part, (wide, some), interpolation=cv2.INTER_AREA))
    return np.concatenate(bands)


def _plain(part: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """Bytes as they are, all else as float32."""
    return part if part.dtype == np.uint8 else np.ascontiguousarray(part, dtype=np.float32)


def _nodes(
    place: SheetPlace,
    corner_mm: tuple[float, float],
    rows: int,
    columns: int,
    px_per_mm: float,
    step: int,
) -> Array:
    """Photo positions of every `step`th resampled pixel, the first and last ones beyond the box.

    A node is the middle of `step` by `step` pixels, as `cv2.resize` has it.
    """
    middle = 0.5 * step
    x = corner_mm[0] + ((np.arange(columns // step + 3) - 1) * step + middle) / px_per_mm
    y = corner_mm[1] + ((np.arange(rows // step + 3) - 1) * step + middle) / px_per_mm
    return place.to_pixels(np.stack(np.meshgrid(x, y), axis=-1))


def _between(nodes: Picture, rows: slice, columns: int, step: int) -> Picture:
    """(rows, columns, 2) Photo positions, straight between nodes (off by 0.02 px at the most)."""
    first = rows.start // step
    used = nodes[first : -(-rows.stop // step) + 2]
    size = used.shape[1] * step, used.shape[0] * step
    places = np.asarray(cv2.resize(used, size, interpolation=cv2.INTER_LINEAR), np.float32)
    top = rows.start - first * step + step
    return places[top : top + rows.stop - rows.start, step : step + columns]


def _means(fine: Picture, times: int) -> Picture:
    """Means of blocks of `times` by `times` pixels."""
    if times == 1:
        return fine
    size = fine.shape[1] // times, fine.shape[0] // times
    return np.asarray(cv2.resize(fine, size, interpolation=cv2.INTER_AREA), np.float32)


def _span(along: Array, size: int, shrink: int) -> slice:
    """Pixels that bilinear sampling of squares of `shrink` touches, within the frame."""
    first = int(np.clip(np.floor(along.min()) - shrink, 0, max(0, size - shrink)))
    last = int(np.clip(np.ceil(along.max()) + 1 + 2 * shrink, first + shrink, size))
    return slice(first, max(last, first + 1))
