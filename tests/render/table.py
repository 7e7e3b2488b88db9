"""What the sheet lies on: wood, or grey, white or dark cloth; page places to reflectance."""

from __future__ import annotations

from functools import lru_cache

import cv2
import numpy as np

from .spectra import WAVELENGTHS, Array
from .texture import Field, noise

_TILE_MM = 512.0
_SCALE = 3.0
TABLES = ("wood", "grey", "white", "dark")

SPECTRA: dict[str, Array] = {
    "wood": 0.10 + 0.42 / (1 + np.exp(-(WAVELENGTHS - 570) / 48)),
    "grey": 0.26 + 0.00004 * (WAVELENGTHS - 550),
    "white": 0.78 - 0.10 * np.exp(-(WAVELENGTHS - 380) / 50),
    "dark": 0.055 + 0.03 / (1 + np.exp(-(WAVELENGTHS - 600) / 40)),
}


@lru_cache(maxsize=4)
def tile(kind: str) -> Field:
    """Relative reflectance (h, w) of a table, 512 mm square, repeating."""
    n = int(_TILE_MM * _SCALE)
    y, x = np.indices((n, n), dtype=np.float32) / np.float32(_SCALE)
    if kind == "wood":
        # Boards along x, with rings cut lengthwise and fine pores.
        board = np.floor(y / 128)
        wander = 7 * noise(x, y, 170, 40, 3) + 40 * board
        rings = np.sin((y + wander) * 0.55 + 2.5 * noise(x, y, 120, 14, 4))
        pores = noise(x, y, 14.0, 0.5, 5)
        value = 0.86 + 0.10 * rings + 0.06 * pores + 0.05 * noise(x, y, 60, 4, 7)
        value = value * (0.92 + 0.05 * np.mod(board, 3))
        value = np.where(np.mod(y, 128) < 0.7, 0.35 * value, value)
    else:
        weave = np.sin(x * np.pi / 0.55) * np.sin(y * np.pi / 0.55)
        value = 0.93 + 0.05 * weave + 0.03 * noise(x, y, 0.5, 4, 8) + 0.03 * noise(x, y, 40, 40, 9)
    return np.asarray(value, dtype=np.float32)


def table_factor(kind: str, x: Field, y: Field) -> Field:
    """Relative reflectance seen at page places in mm (same shape)."""
    return np.asarray(
        cv2.remap(
            tile(kind), _folded(x), _folded(y), cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT
        )
    )


def _folded(mm: Field) -> Field:
    """Pixel of the tile; every other tile is mirrored, so that no seam shows."""
    period = np.float32(2 * _TILE_MM)
    shifted = mm + np.float32(1000)
    within = shifted - period * np.floor(shifted / period)
    return np.asarray(np.abs(within - np.float32(_TILE_MM)) * np.float32(_SCALE), dtype=np.float32)
