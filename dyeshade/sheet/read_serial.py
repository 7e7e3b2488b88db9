"""Read the sheet's serial number from its machine-readable code."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2
from dyeshade.sheet.code_modules import MODULE_PX, decoded, has_finders, read_modules
from dyeshade.sheet.marks import even_light
from dyeshade.sheet.place import SheetPlace
from dyeshade.sheet.rectify import rectify
from dyeshade.sheet.serial import check_serial

_TRIED_MODULES = (21, 25, 29)
"""Modules along a code's side for versions 1 to 3 (ISO/IEC 18004)."""

_TRIED_SHIFTS = (0.0, -0.25, 0.25)
_SHARPENED = (0.0, 1.5)


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
    for modules in _TRIED_MODULES:
        module = side / modules
        box = (code.x_mm - 2 * module, code.y_mm - 2 * module, side + 4 * module, side + 4 * module)
        patch = rectify(grey, place, box, MODULE_PX / module)
        if not np.isfinite(patch).all():
            return None
        light = even_light(np.clip(patch, 0, 255).astype(np.uint8)).astype(np.float32)
        for sharpened in _SHARPENED:
            soft = cv2.GaussianBlur(light, (0, 0), 0.8 * MODULE_PX)
            picture = light + sharpened * (light - soft)
            for down in _TRIED_SHIFTS:
                for across in _TRIED_SHIFTS:
                    dark = read_modules(picture, modules, across, down)
                    text = decoded(dark) if has_finders(dark) else ""
                    if text and check_serial(text):
                        return text
    return None
