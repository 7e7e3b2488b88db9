"""What the sensor saw, before any development, to a DNG (Adobe DNG Specification 1.6).

The sites of one group of the mosaic see the same place, so that the file has twice the photo's size
and a reader that puts groups together gets the photo's own pixels.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import numpy as np
import tifffile
from numpy.typing import NDArray

from .camera import own_matrix, white_sums
from .spectra import SRGB_TO_XYZ, Array
from .texture import Field

if TYPE_CHECKING:
    from .scene import Scene

BLACK, FULL = 512, 15872
_HEADROOM = 1.25
"""Green is full this far above the light that the camera means to show as white."""


def colour_matrix(camera: str) -> Array:
    """XYZ to the camera's channels under D65 (3, 3), as its maker would state it."""
    white = white_sums(camera, "D65")
    from_xyz = np.linalg.inv(SRGB_TO_XYZ @ own_matrix(camera))
    return np.asarray((white / white[1])[:, None] * from_xyz)


def _rationals(values: Array) -> list[int]:
    return [part for v in np.ravel(values) for part in (round(float(v) * 100000), 100000)]


def sensor_numbers(raw: Field, scene: Scene) -> NDArray[np.uint16]:
    """Balanced raw light (h, w, 3) to the sensor's numbers, cut off where a site is full."""
    white = white_sums(scene.camera, scene.light)
    share = raw * ((white / white[1]) * scene.exposure / _HEADROOM).astype(np.float32)
    numbers = np.round(BLACK + share * (FULL - BLACK))
    return np.clip(numbers, 0, FULL).astype(np.uint16)


def write_dng(numbers: NDArray[np.uint16], scene: Scene) -> bytes:
    """A DNG of the sensor's numbers (h, w, 3), lying as stored."""
    height, width, _ = numbers.shape
    mosaic = np.empty((2 * height, 2 * width), dtype=np.uint16)
    for (y, x), channel in (((0, 0), 0), ((0, 1), 1), ((1, 0), 1), ((1, 1), 2)):
        mosaic[y::2, x::2] = numbers[..., channel]
    white = white_sums(scene.camera, scene.light)
    neutral = white / white[1] / np.array([scene.white_error[0], 1.0, scene.white_error[1]])
    tags = [
        (271, "s", 0, "Render", True),
        (272, "s", 0, scene.camera, True),
        (274, "H", 1, scene.orientation, True),
        (306, "s", 20, scene.taken.strftime("%Y:%m:%d %H:%M:%S"), True),
        (33421, "H", 2, (2, 2), True),
        (33422, "B", 4, (0, 1, 1, 2), True),
        (50706, "B", 4, (1, 4, 0, 0), True),
        (50707, "B", 4, (1, 1, 0, 0), True),
        (50708, "s", 0, f"Render {scene.camera}", True),
        (50714, "I", 1, BLACK, True),
        (50717, "I", 1, FULL, True),
        (50721, "2i", 9, _rationals(colour_matrix(scene.camera)), True),
        (50728, "2I", 3, _rationals(neutral), True),
        (50778, "H", 1, 21, True),
    ]
    out = io.BytesIO()
    tifffile.imwrite(out, mosaic, photometric=32803, extratags=tags, metadata=None, software=None)
    return out.getvalue()
