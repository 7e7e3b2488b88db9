"""Straighten a part of the photo into page millimetres."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2
from dyeshade.sheet.camera import Array
from dyeshade.sheet.interpolate import values_at
from dyeshade.sheet.place import SheetPlace

Picture = npt.NDArray[np.float32]
RegionReader = Callable[[slice, slice], npt.NDArray[np.float32]]
"""Reads rows and columns of a photo as (h', w', 3) linear light, as `Photo.linear` does."""

_NODE_PX = 12
_REMAP_LIMIT = 30000
_STRIP_PX = 1_000_000


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
    stretch = float(np.linalg.norm(place.camera.jacobian(edges), ord=2, axis=(1, 2)).max())
    times = min(16, max(1, int(np.ceil(stretch / px_per_mm - 0.25))))
    nodes = _nodes(place, (left, top), rows * times, columns * times, px_per_mm * times)

    # The lowest and highest node bound what lies between, give or take the lens's bend.
    frame_rows, frame_columns = place.frame_px
    first_row, last_row = _span(nodes[..., 1], frame_rows)
    first_column, last_column = _span(nodes[..., 0], frame_columns)
    span = slice(first_row, last_row), slice(first_column, last_column)
    part = source(*span) if callable(source) else source[span]
    if part.dtype != np.uint8:
        part = np.ascontiguousarray(part, dtype=np.float32)
    if max(part.shape[:2]) > _REMAP_LIMIT:
        raise ValueError("the photo is larger than can be resampled at once")
    corner = np.array([first_column, first_row])
    nodes = nodes - corner
    low, high = -0.5 - corner, np.array([frame_columns, frame_rows]) - 0.5 - corner
    leaving = bool((nodes < low).any() or (nodes > high).any())
    if not leaving and not part.any():
        return np.zeros((rows, columns, *part.shape[2:]), np.float32)

    nodes = nodes.astype(np.float32)
    result = np.empty((rows, columns, *part.shape[2:]), np.float32)
    # Strips end where nodes' squares do, so that each is stretched by itself.
    strip = _NODE_PX * max(1, _STRIP_PX // (columns * times * times * _NODE_PX))
    for row in range(0, rows, strip):
        some = min(strip, rows - row)
        where = _between(nodes, slice(row * times, (row + some) * times), columns * times)
        fine = np.asarray(values_at(part, where), np.float32)
        if leaving:
            x, y = where[..., 0], where[..., 1]
            outside = (x < low[0]) | (y < low[1]) | (x > high[0]) | (y > high[1])
            fine[outside] = np.nan
        result[row : row + some] = _means(fine, times)
    return result


def _nodes(
    place: SheetPlace, corner_mm: tuple[float, float], rows: int, columns: int, px_per_mm: float
) -> Array:
    """Photo positions of every 12th resampled pixel, the first and last ones beyond the box.

    A node is the middle of 12 by 12 pixels, as `cv2.resize` has it.
    """
    middle = 0.5 * _NODE_PX
    x = corner_mm[0] + ((np.arange(columns // _NODE_PX + 3) - 1) * _NODE_PX + middle) / px_per_mm
    y = corner_mm[1] + ((np.arange(rows // _NODE_PX + 3) - 1) * _NODE_PX + middle) / px_per_mm
    return place.to_pixels(np.stack(np.meshgrid(x, y), axis=-1))


def _between(nodes: Picture, rows: slice, columns: int) -> Picture:
    """(rows, columns, 2) Photo positions, straight between nodes (off by less than 0.01 px)."""
    first = rows.start // _NODE_PX
    used = nodes[first : -(-rows.stop // _NODE_PX) + 2]
    size = used.shape[1] * _NODE_PX, used.shape[0] * _NODE_PX
    places = np.asarray(cv2.resize(used, size, interpolation=cv2.INTER_LINEAR), np.float32)
    top = rows.start - first * _NODE_PX + _NODE_PX
    return places[top : top + rows.stop - rows.start, _NODE_PX : _NODE_PX + columns]


def _means(fine: Picture, times: int) -> Picture:
    """Means of blocks of `times` by `times` pixels."""
    if times == 1:
        return fine
    size = fine.shape[1] // times, fine.shape[0] // times
    return np.asarray(cv2.resize(fine, size, interpolation=cv2.INTER_AREA), np.float32)


def _span(along: Array, size: int) -> tuple[int, int]:
    """First and past-last pixel that bilinear sampling touches, within the frame."""
    first = int(np.clip(np.floor(along.min()) - 1, 0, size - 1))
    last = int(np.clip(np.ceil(along.max()) + 2, first + 1, size))
    return first, last
