"""Where on the page codes may lie: what looks like part of one in the photo, near cells."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2
from dyeshade.sheet.camera import Array
from dyeshade.sheet.code_corners import corner_patterns
from dyeshade.sheet.layout import Box
from dyeshade.sheet.place import SheetPlace

Grey = npt.NDArray[np.uint8]

_PX_PER_MM = 4.0
_AROUND_MM = 12.0
"""How far around a cell codes are looked for: a tag may hang over its edge."""

_RIM_MM = 1.5


def around(box: Box) -> Box:
    """Where codes that belong to a box are looked for."""
    more = _AROUND_MM
    return Box(box.name, box.x_mm - more, box.y_mm - more, box.w_mm + 2 * more, box.h_mm + 2 * more)


def code_patterns(grey: Grey, place: SheetPlace, boxes: Sequence[Box]) -> Array:
    """Where on the page something looks like part of a code, the sheet's own left out; (n, 2).

    Looked for in all boxes at once, and in the photo as it is: these patterns need not be straight.
    """
    if not boxes:
        return np.zeros((0, 2))
    edges = place.to_pixels(np.concatenate([_rim(box) for box in boxes]))
    first = np.maximum(np.floor(edges.min(axis=0)), 0).astype(int)
    last = np.minimum(np.ceil(edges.max(axis=0)) + 1, grey.shape[::-1]).astype(int)
    if (last <= first).any():
        return np.zeros((0, 2))
    part = grey[first[1] : last[1], first[0] : last[0]]
    scale = _PX_PER_MM / place.px_per_mm
    size = np.maximum(1, np.rint((last - first) * scale)).astype(int)
    how = cv2.INTER_AREA if scale < 0.5 else cv2.INTER_LINEAR
    picture = np.asarray(cv2.resize(part, tuple(map(int, size)), interpolation=how), np.uint8)
    own = place.layout.serial_code
    left, top = own.x_mm - _RIM_MM, own.y_mm - _RIM_MM
    own = Box(own.name, left, top, own.w_mm + 2 * _RIM_MM, own.h_mm + 2 * _RIM_MM)
    outline = (place.to_pixels(own.corners) - first + 0.5) * size / (last - first) - 0.5
    cv2.fillConvexPoly(picture, np.rint(outline).astype(np.int32), 255)
    seen = corner_patterns(picture, _PX_PER_MM)
    return place.to_page((seen + 0.5) * (last - first) / size - 0.5 + first) if len(seen) else seen


def _rim(box: Box) -> Array:
    """Points around a box, dense enough to follow a bent page; (n, 2), mm."""
    steps = np.linspace(0.0, 1.0, 5, endpoint=False)[:, None]
    corners = box.corners
    return np.concatenate(
        [a + (b - a) * steps for a, b in zip(corners, np.roll(corners, -1, 0), strict=True)]
    )
