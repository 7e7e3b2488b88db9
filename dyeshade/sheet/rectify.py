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
RegionReader = Callable[[slice, slice], npt.NDArray[Any]]
"""Reads rows and columns of a photo as (h', w', 3) linear light, as `Photo.linear` does, or as
16-bit numbers that are proportional to it."""

_MOST_NODE_PX = 12
_NODE_MM = 2.4
"""Nodes stand this near at least, so that straight between them is straight enough."""

_REMAP_LIMIT = 30000
_STRIP_PX = 1_000_000
_BAND_PX = 150_000
_MOST_SHRINK = 32
_LARGER = 0.25


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
    return Straightening(place, box_mm, px_per_mm).of(source)


class Straightening:
    """Where each pixel of a straightened box lies in the photo; for reading it more than once.

    Parameters
    ----------
    place : SheetPlace
    box_mm : (float, float, float, float)
    px_per_mm : float
        All as for `rectify`.
    """

    def __init__(
        self, place: SheetPlace, box_mm: tuple[float, float, float, float], px_per_mm: float
    ) -> None:
        left, top, wide, high = box_mm
        self._columns, self._rows = max(1, round(wide * px_per_mm)), max(1, round(high * px_per_mm))
        edges = np.array([[left, top], [left + wide, top], [left, top + high]])
        edges = np.vstack([edges, [[left + wide, top + high], [left + wide / 2, top + high / 2]]])
        stretches = np.linalg.svd(place.camera.jacobian(edges), compute_uv=False) / px_per_mm
        # Most of the averaging is done where it is cheapest, on the photo's own grid; its squares
        # may be somewhat larger than what is asked for.
        shrink = min(_MOST_SHRINK, max(1, int(stretches.min() + _LARGER)))
        times = min(16, max(1, int(np.ceil(stretches.max() / shrink - 0.5))))
        step = min(_MOST_NODE_PX, max(1, int(_NODE_MM * px_per_mm * times)))
        size = self._rows * times, self._columns * times
        nodes = _nodes(place, (left, top), *size, px_per_mm * times, step)

        # The lowest and highest node bound what lies between, give or take the lens's bend.
        frame_rows, frame_columns = place.frame_px
        self._span = (
            _span(nodes[..., 1], frame_rows, shrink),
            _span(nodes[..., 0], frame_columns, shrink),
        )
        # A pixel of the shrunk part is the mean of several, and stands in their middle.
        corner = np.array([self._span[1].start, self._span[0].start]) - 0.5
        nodes = (nodes - corner) / shrink - 0.5
        self._least = (-0.5 - corner) / shrink - 0.5
        self._most = (np.array([frame_columns, frame_rows]) - 0.5 - corner) / shrink - 0.5
        self._leaving = bool((nodes < self._least).any() or (nodes > self._most).any())
        self._nodes = nodes.astype(np.float32)
        self._shrink, self._times, self._step = shrink, times, step

    @property
    def leaving(self) -> bool:
        """Whether the photo does not reach somewhere in the box."""
        return self._leaving

    def of(self, source: npt.NDArray[np.generic] | RegionReader) -> Picture:
        """The box as `source` shows it; `source` and what is returned as in `rectify`."""
        part = _shrunk(source, self._span, self._shrink)
        if max(part.shape[:2]) > _REMAP_LIMIT:
            raise ValueError("the photo is larger than can be resampled at once")
        rows, columns, times, step = self._rows, self._columns, self._times, self._step
        if not self._leaving and not part.any():
            return np.zeros((rows, columns, *part.shape[2:]), np.float32)
        result = np.empty((rows, columns, *part.shape[2:]), np.float32)
        # Strips end where nodes' squares do, so that each is stretched by itself.
        strip = step * max(1, _STRIP_PX // (columns * times * times * step))
        for row in range(0, rows, strip):
            some = min(strip, rows - row)
            wanted = slice(row * times, (row + some) * times)
            where = _between(self._nodes, wanted, columns * times, step)
            fine: npt.NDArray[Any] = values_at(part, where)
            if self._leaving:
                x, y = where[..., 0], where[..., 1]
                outside = (x < self._least[0]) | (y < self._least[1])
                outside |= (x > self._most[0]) | (y > self._most[1])
                fine = fine.astype(np.float32)
                fine[outside] = np.nan
            result[row : row + some] = _means(fine, times)
        return result


def _shrunk(
    source: npt.NDArray[np.generic] | RegionReader, span: tuple[slice, slice], shrink: int
) -> npt.NDArray[Any]:
    """A part of the photo, squares of `shrink` by `shrink` pixels averaged."""
    rows, columns = span
    read: Callable[[slice, slice], npt.NDArray[Any]]
    read = source if callable(source) else lambda some, across: source[some, across]
    if shrink == 1:
        return _plain(read(rows, columns))
    high, wide = (rows.stop - rows.start) // shrink, (columns.stop - columns.start) // shrink
    columns = slice(columns.start, columns.start + wide * shrink)
    bands = []
    # In bands that stay near the processor, so that a photo is never held in linear light.
    each = max(1, _BAND_PX // (wide * shrink * shrink))
    for first in range(0, high, each):
        some = min(each, high - first)
        band = slice(rows.start + first * shrink, rows.start + (first + some) * shrink)
        part = _plain(read(band, columns))
        bands.append(cv2.resize(part, (wide, some), interpolation=cv2.INTER_AREA))
    return bands[0] if len(bands) == 1 else np.concatenate(bands)


def _plain(part: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """Whole numbers of 8 and 16 bits as they are, all else as float32."""
    if part.dtype in (np.uint8, np.uint16):
        return part
    return np.ascontiguousarray(part, dtype=np.float32)


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


def _means(fine: npt.NDArray[Any], times: int) -> npt.NDArray[Any]:
    """Means of blocks of `times` by `times` pixels."""
    if times == 1:
        return fine
    size = fine.shape[1] // times, fine.shape[0] // times
    return np.asarray(cv2.resize(np.asarray(fine, np.float32), size, interpolation=cv2.INTER_AREA))


def _span(along: Array, size: int, shrink: int) -> slice:
    """Pixels that bilinear sampling of squares of `shrink` touches, within the frame."""
    first = int(np.clip(np.floor(along.min()) - shrink, 0, max(0, size - shrink)))
    last = int(np.clip(np.ceil(along.max()) + 1 + 2 * shrink, first + shrink, size))
    return slice(first, max(last, first + 1))
