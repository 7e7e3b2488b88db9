"""The space of a typical camera, in which the light's colour is divided out.

A camera scales its own three channels for the light and only then mixes them into sRGB. Where its
scales were a little wrong, dividing the rest out in sRGB turns every hue a little; dividing it out
where the camera would have done it does not. No file tells a phone's own mixing, so the median of
measured cameras stands in. Raw light comes in the camera's own space: there nothing is mixed yet.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.photo.camera_space import camera_to_srgb

Array = NDArray[np.float64]


def divide_white(reflectance: Array, white: Array, to_xyz: Array, rendered: bool = True) -> Array:
    """Reflectance per channel of the file to XYZ, with the white divided out as a camera would.

    Parameters
    ----------
    reflectance : ndarray, shape (..., 3)
        Light in the file's primaries over the light on a perfect white, channel by channel.
    white : ndarray, shape (..., 3)
        Colour of the light in the file's primaries, any scale.
    to_xyz : ndarray, shape (3, 3)
        The file's primaries to XYZ relative to D65.
    rendered : bool
        False for raw light, whose channels are the camera's own.

    Returns
    -------
    ndarray, shape (..., 3)
        XYZ relative to D65, Y = 1 for the perfect diffuser.
    """
    camera = camera_light(reflectance, white, to_xyz, rendered)
    return np.asarray(camera @ camera_base(to_xyz, rendered).T)


def camera_light(reflectance: Array, white: Array, to_xyz: Array, rendered: bool = True) -> Array:
    """Reflectance per channel of the file to a camera's channels, the white divided out.

    Parameters
    ----------
    reflectance, white, to_xyz, rendered
        As `divide_white`.

    Returns
    -------
    ndarray, shape (..., 3)
        1 in each channel for the perfect diffuser. Of a rendered photo the typical camera's
        channels, of raw light the camera's own.
    """
    if not rendered:
        return np.asarray(reflectance)
    to_srgb = np.linalg.solve(SRGB.to_xyz, to_xyz)
    to_camera = np.linalg.solve(camera_to_srgb(), to_srgb)
    # Green keeps its scale, so that the luminance factor stays what the greys say.
    relative_white = white / (white @ to_xyz[1])[..., None]
    camera_white = relative_white @ to_camera.T
    return np.asarray((reflectance * relative_white) @ to_camera.T / camera_white)


def camera_base(to_xyz: Array, rendered: bool = True) -> Array:
    """What `camera_light` stands for where nothing else is known: its channels to XYZ, (3, 3)."""
    return np.asarray(SRGB.to_xyz @ camera_to_srgb()) if rendered else to_xyz
