"""The space of a typical camera, in which the light's colour is divided out.

A camera scales its own three channels for the light and only then mixes them into sRGB. Where its
scales were a little wrong, dividing the rest out in sRGB turns every hue a little; dividing it out
where the camera would have done it does not. No file tells a phone's own mixing, so the median of
measured cameras stands in.
"""

from __future__ import annotations

import json
from functools import cache

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.resources import resource_path

Array = NDArray[np.float64]


@cache
def camera_to_srgb() -> Array:
    """Median matrix of measured cameras, balanced camera light to linear sRGB, shape (3, 3).

    Rows sum to one, so that white stays white. Made by ``tests/studies/camera_constants.py`` from
    measured sensitivities (RAW to ACES data repository, Apache-2.0) in daylight of 5500 K.
    """
    with resource_path("measure/constants.json").open(encoding="utf-8") as file:
        return np.array(json.load(file)["typical_camera_to_srgb"], dtype=float)


def divide_white(reflectance: Array, white: Array, to_xyz: Array) -> Array:
    """Reflectance per channel of the file to XYZ, with the white divided out as a camera would.

    Parameters
    ----------
    reflectance : ndarray, shape (..., 3)
        Light in the file's primaries over the light on a perfect white, channel by channel.
    white : ndarray, shape (3,)
        Colour of the light in the file's primaries, any scale.
    to_xyz : ndarray, shape (3, 3)
        The file's primaries to XYZ relative to D65.

    Returns
    -------
    ndarray, shape (..., 3)
        XYZ relative to D65, Y = 1 for the perfect diffuser.
    """
    to_srgb = np.linalg.solve(SRGB.to_xyz, to_xyz)
    mixing = camera_to_srgb()
    to_camera = np.linalg.solve(mixing, to_srgb)
    # Green keeps its scale, so that the luminance factor stays what the greys say.
    relative_white = white / (to_xyz[1] @ white)
    camera_white = to_camera @ relative_white
    camera = (reflectance * relative_white) @ to_camera.T / camera_white
    return np.asarray(camera @ (SRGB.to_xyz @ mixing).T)
