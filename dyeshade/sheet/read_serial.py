"""Read the sheet's serial number from its machine-readable code."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2
from dyeshade.sheet.marks import even_light
from dyeshade.sheet.place import SheetPlace
from dyeshade.sheet.rectify import rectify
from dyeshade.sheet.serial import check_serial

_TRIED_MODULES = (21, 25, 29)
"""Modules along a code's side for versions 1 to 3 (ISO/IEC 18004)."""

_MODULE_PX = 6
_TRIED_SHIFTS = (0.0, -0.25, 0.25)
_SHARPENED = (0.0, 1.5)
_QUIET = 4
_DRAWN_PX = 8


def read_serial(grey: npt.NDArray[np.uint8], place: SheetPlace) -> str | None:
    """Read the code at its place on the page.

    The place is known to a fraction of a module, so each module is read there and the code is
    drawn afresh for the decoder; that also reads codes too soft to be found as such.

    Parameters
    ----------
    grey : (h, w) uint8
        The photo's luma.
    place : SheetPlace
        Where the page is.

    Returns
    -------
    str or None
        The serial number; None where it is covered, too small to read or misread.
    """
    code = place.layout.serial_code
    side = min(code.w_mm, code.h_mm)
    reader = cv2.QRCodeDetector()
    for modules in _TRIED_MODULES:
        module = side / modules
        box = (code.x_mm - 2 * module, code.y_mm - 2 * module, side + 4 * module, side + 4 * module)
        patch = rectify(grey, place, box, _MODULE_PX / module)
        if not np.isfinite(patch).all():
            return None
        light = even_light(np.clip(patch, 0, 255).astype(np.uint8)).astype(np.float32)
        for sharpened in _SHARPENED:
            soft = cv2.GaussianBlur(light, (0, 0), 0.8 * _MODULE_PX)
            picture = light + sharpened * (light - soft)
            for down in _TRIED_SHIFTS:
                for across in _TRIED_SHIFTS:
                    dark = _modules(picture, modules, across, down)
                    if not _has_finders(dark):
                        continue
                    # Told where the code is, as its own search misses plain clean codes.
                    text = reader.decode(_drawn(dark), _drawn_corners(modules))[0]
                    if text and check_serial(text):
                        return str(text)
    return None


def _modules(
    picture: npt.NDArray[np.float32], modules: int, across: float, down: float
) -> npt.NDArray[np.bool_]:
    """(modules, modules) Which modules are dark, read a share of a module beside their places."""
    size = modules + 4
    left, top = round(across * _MODULE_PX), round(down * _MODULE_PX)
    moved = np.roll(picture, (-top, -left), axis=(0, 1))
    cells = moved[: size * _MODULE_PX, : size * _MODULE_PX]
    cells = cells.reshape(size, _MODULE_PX, size, _MODULE_PX)[:, 1:-1, :, 1:-1]
    means = cells.mean(axis=(1, 3))[2:-2, 2:-2]
    low, high = np.percentile(means, (10.0, 90.0))
    return np.asarray(means < 0.5 * (low + high))


def _finder() -> npt.NDArray[np.bool_]:
    """(7, 7) The pattern in three corners of every code."""
    finder = np.ones((7, 7), bool)
    finder[1:-1, 1:-1] = False
    finder[2:-2, 2:-2] = True
    return finder


def _has_finders(dark: npt.NDArray[np.bool_]) -> bool:
    """Whether two of the three corner patterns are there; something may lie over the third."""
    corners = dark[:7, :7], dark[:7, -7:], dark[-7:, :7]
    wrong = sorted(int((corner != _finder()).sum()) for corner in corners)
    return wrong[1] <= 4


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
