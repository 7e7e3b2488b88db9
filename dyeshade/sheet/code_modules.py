"""A QR code's modules, read one by one where the code is known to be (ISO/IEC 18004)."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2

MODULE_PX = 6
"""Pixels along a module of the pictures that modules are read from."""

_QUIET = 4
_DRAWN_PX = 8


def read_modules(
    picture: npt.NDArray[np.float32], modules: int, across: float = 0.0, down: float = 0.0
) -> npt.NDArray[np.bool_]:
    """(modules, modules) Which modules are dark, read a share of a module beside their places."""
    size = modules + 4
    left, top = round(across * MODULE_PX), round(down * MODULE_PX)
    moved = np.roll(picture, (-top, -left), axis=(0, 1))
    cells = moved[: size * MODULE_PX, : size * MODULE_PX]
    cells = cells.reshape(size, MODULE_PX, size, MODULE_PX)[:, 1:-1, :, 1:-1]
    means = cells.mean(axis=(1, 3))[2:-2, 2:-2]
    low, high = np.percentile(means, (10.0, 90.0))
    return np.asarray(means < 0.5 * (low + high))


def decoded(dark: npt.NDArray[np.bool_]) -> str:
    """What a code says, "" where it cannot be read.

    Parameters
    ----------
    dark : (n, n) bool
        Which modules are dark.
    """
    # Told where the code is, as its own search misses plain clean codes.
    return str(cv2.QRCodeDetector().decode(_drawn(dark), _drawn_corners(len(dark)))[0])


def has_finders(dark: npt.NDArray[np.bool_]) -> bool:
    """Whether two of the three corner patterns are there; something may lie over the third."""
    return finder_faults(dark)[1] <= 4


def finder_faults(dark: npt.NDArray[np.bool_]) -> tuple[int, int, int]:
    """Faults of the three corner patterns, of 49 modules each, the best corner first."""
    corners = dark[:7, :7], dark[:7, -7:], dark[-7:, :7]
    best, middle, worst = sorted(int((corner != _finder()).sum()) for corner in corners)
    return best, middle, worst


def _finder() -> npt.NDArray[np.bool_]:
    """(7, 7) The pattern in three corners of every code."""
    finder = np.ones((7, 7), bool)
    finder[1:-1, 1:-1] = False
    finder[2:-2, 2:-2] = True
    return finder


def _drawn(dark: npt.NDArray[np.bool_]) -> npt.NDArray[np.uint8]:
    """The code as a clean picture: what is the same in every code is drawn as it must be."""
    size = len(dark)
    clean = dark.copy()
    clean[6, :] = clean[:, 6] = np.arange(size) % 2 == 0
    clean[:8, :8] = clean[:8, size - 8 :] = clean[size - 8 :, :8] = False
    clean[:7, :7] = clean[:7, size - 7 :] = clean[size - 7 :, :7] = _finder()
    quiet = np.pad(clean, _QUIET)
    picture = np.where(quiet, 0, 255).astype(np.uint8)
    return picture.repeat(_DRAWN_PX, axis=0).repeat(_DRAWN_PX, axis=1)


def _drawn_corners(modules: int) -> npt.NDArray[np.float32]:
    """(1, 4, 2) Where the drawn code's corners are."""
    near, far = _QUIET * _DRAWN_PX, (_QUIET + modules) * _DRAWN_PX - 1
    return np.array([[[near, near], [far, near], [far, far], [near, far]]], np.float32)
