"""A photo in memory: coded values, and the light they stand for where it is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import Notice
from dyeshade.photo.curves import Curve
from dyeshade.photo.encoding import Encoding
from dyeshade.photo.vision import cv2

_WHOLE = slice(None)
_STRIP = 32
# Sharpening and JPEG leave clipped pixels one step short of full scale.
_CLIPPED_HIGH = 254.0 / 255.0
# Of raw light, what is brighter than this share of the photo is shown white.
_WHITE_QUANTILE = 0.995


@lru_cache(maxsize=32)
def _light_of_codes(curve: Curve, full_scale: int) -> NDArray[np.float32]:
    """The curve at every code there is, so that a photo costs one look-up a pixel."""
    codes = np.arange(full_scale + 1, dtype=np.float64) / full_scale
    light = curve(codes).astype(np.float32)
    light.flags.writeable = False
    return light


@dataclass(frozen=True, eq=False)
class Photo:
    """A photo as read, upright.

    Attributes
    ----------
    name : str
        The file's name without its folder.
    coded : ndarray, shape (height, width, 3), uint8 or uint16
        Red, green, blue as stored, turned upright.
    encoding : Encoding
        What the coded values stand for.
    taken : datetime or None
        When the camera says the photo was taken; with a time zone where the camera noted one.
    camera : str or None
        Maker and model.
    file_format : str
        "JPEG", "PNG", "TIFF", "HEIC", "DNG" or "raw".
    flash : bool or None
        Whether a flash fired; None where the file does not say.
    notices : tuple of Notice
        What a reader of the numbers must know.
    shrunk : int
        How many of the file's pixels, along each side, one pixel here stands for.
    """

    name: str
    coded: NDArray[np.uint8] | NDArray[np.uint16]
    encoding: Encoding
    taken: datetime | None
    camera: str | None
    file_format: str
    flash: bool | None
    notices: tuple[Notice, ...]
    shrunk: int = 1

    def __post_init__(self) -> None:
        if self.coded.ndim != 3 or self.coded.shape[2] != 3:
            raise ValueError(f"three channels, not an array of {self.coded.shape}")
        if self.coded.dtype not in (np.uint8, np.uint16):
            raise TypeError(f"coded values of 8 or 16 bits, not {self.coded.dtype}")

    @property
    def full_scale(self) -> int:
        """The largest code: 255 or 65535."""
        return 255 if self.coded.dtype == np.uint8 else 65535

    @property
    def height(self) -> int:
        """Rows of pixels."""
        return int(self.coded.shape[0])

    @property
    def width(self) -> int:
        """Columns of pixels."""
        return int(self.coded.shape[1])

    @property
    def file_size(self) -> tuple[int, int]:
        """Columns and rows of the file's picture, upright."""
        return self.width * self.shrunk, self.height * self.shrunk

    def in_file(self, points_px: NDArray[np.float64]) -> NDArray[np.float64]:
        """Points (..., 2) of this photo, x and y, in pixels of the file's upright picture."""
        return np.asarray((points_px + 0.5) * self.shrunk - 0.5)

    def from_file(self, points_px: NDArray[np.float64]) -> NDArray[np.float64]:
        """The opposite of `in_file`."""
        return np.asarray((points_px + 0.5) / self.shrunk - 0.5)

    def linear(self, rows: slice = _WHOLE, columns: slice = _WHOLE) -> NDArray[np.float32]:
        """Linear light of a region, in the file's own primaries.

        Parameters
        ----------
        rows, columns : slice, optional
            The region in pixels; the whole photo unless told.

        Returns
        -------
        ndarray, shape (rows, columns, 3), float32
            0..1; `encoding.to_xyz` carries it to XYZ.
        """
        region = self.coded[rows, columns]
        tables = [_light_of_codes(curve, self.full_scale) for curve in self.encoding.curves]
        if self.full_scale == 255 and region.size:
            # Ten times faster than indexing, with the same values.
            table_8 = np.stack(tables, axis=1)[np.newaxis]
            return np.asarray(cv2.LUT(np.ascontiguousarray(region), table_8), dtype=np.float32)
        light = np.empty(region.shape, dtype=np.float32)
        for channel, table in enumerate(tables):
            light[..., channel] = np.take(table, region[..., channel])
        return light

    def clipped(self, rows: slice = _WHOLE, columns: slice = _WHOLE) -> NDArray[np.bool_]:
        """Where any channel is at the end of its scale.

        Parameters
        ----------
        rows, columns : slice, optional
            The region in pixels; the whole photo unless told.

        Returns
        -------
        ndarray, shape (rows, columns), bool
            True where a channel is 0, or at 254/255 of full scale or above.
        """
        return np.asarray(self.within(rows, columns) == 0)

    def within(self, rows: slice = _WHOLE, columns: slice = _WHOLE) -> NDArray[np.uint8]:
        """The opposite of `clipped` in bytes: 255 where no channel is at an end, else 0."""
        region = self.coded[rows, columns]
        high = int(np.ceil(_CLIPPED_HIGH * self.full_scale))
        if not region.size:
            return np.zeros(region.shape[:2], dtype=np.uint8)
        return np.asarray(cv2.inRange(region, (1, 1, 1), (high - 1,) * 3), np.uint8)

    def grey8(self) -> NDArray[np.uint8]:
        """Luma in 8 bits, for finding things, not for measuring; shape (height, width)."""
        if not self.encoding.rendered:
            return self._grey8_of_raw()
        if self.full_scale == 255:
            return np.asarray(cv2.cvtColor(self.coded, cv2.COLOR_RGB2GRAY), dtype=np.uint8)
        grey = np.empty(self.coded.shape[:2], np.uint8)
        # In strips that stay near the processor.
        for row in range(0, self.height, _STRIP):
            strip = cv2.cvtColor(self.coded[row : row + _STRIP], cv2.COLOR_RGB2GRAY)
            grey[row : row + _STRIP] = np.right_shift(np.asarray(strip, np.uint16), 8)
        return grey

    def _grey8_of_raw(self) -> NDArray[np.uint8]:
        """The same of raw light, stretched and bent as cameras do, so that dark marks show."""
        green = self.coded[..., 1]
        light = _light_of_codes(self.encoding.curves[1], self.full_scale)
        top = np.quantile(green[::8, ::8], _WHITE_QUANTILE)
        shown = np.sqrt(np.minimum(light / max(float(light[int(top)]), 1e-4), 1.0))
        return np.take(np.round(255 * shown).astype(np.uint8), green)
