"""How far a camera's own colours may be from the truth: the common part of the uncertainty.

Two things are told apart. A camera whose light is read raw errs because its sensitivities are not
an eye's; measured cameras seen through the CIE test colours say by how much, for each kind of
light. A photo that a camera has rendered errs further, since its maker bends colours to please;
real photographs of a chart of published values say by how much. Both are spreads along lightness,
chroma and hue in the weighting of CIEDE2000, growing from the neutrals outward.
"""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.lights import spread_name
from dyeshade.resources import resource_path

Array = NDArray[np.float64]

CHROMA_SCALE = 15.0
"""C*ab over which the spreads grow from those of a neutral to those of a vivid colour: what fits
best in daylight (``tests/studies/camera_constants.py --chroma`` prints how others would)."""


@cache
def constants() -> dict[str, Any]:
    """What ``tests/studies/camera_constants.py`` made of measured cameras, as JSON holds it."""
    with resource_path("measure/constants.json").open(encoding="utf-8") as file:
        told: dict[str, Any] = json.load(file)
    return told


def vividness(chroma: Array | float) -> Array:
    """0 for a neutral, tending to 1 for a vivid colour; any shape."""
    return np.asarray(1.0 - np.exp(-np.asarray(chroma, float) / CHROMA_SCALE))


def weighted_axes(lab: Array) -> Array:
    """Steps in Lab that CIEDE2000 counts as one along lightness, chroma and hue.

    Parameters
    ----------
    lab : ndarray, shape (3,)

    Returns
    -------
    ndarray, shape (3, 3)
        Column k is the step along lightness, chroma, hue. For a neutral the last two are any two
        directions at right angles.

    References
    ----------
    CIE 142-2001 / ISO 11664-6 (CIEDE2000): S_L, S_C and S_H; the hue's T and the rotation of the
    blues are left out here, where only a spread is described.
    """
    lightness, a, b = lab
    chroma = float(np.hypot(a, b))
    s_l = 1 + 0.015 * (lightness - 50) ** 2 / np.sqrt(20 + (lightness - 50) ** 2)
    s_c, s_h = 1 + 0.045 * chroma, 1 + 0.015 * chroma
    cos, sin = (a / chroma, b / chroma) if chroma > 1e-6 else (1.0, 0.0)
    return np.array([[s_l, 0, 0], [0, s_c * cos, -s_h * sin], [0, s_c * sin, s_h * cos]])


def _spread(entry: dict[str, list[float]], chroma: float) -> Array:
    neutral, vivid = np.array(entry["neutral"]), np.array(entry["vivid"])
    return np.asarray(np.hypot(neutral, vivid * vividness(chroma)))


def camera_covariance(lab: Array, light: str, rendered: bool, camera_known: bool = True) -> Array:
    """Covariance of a shade that comes of the camera's own colours.

    Parameters
    ----------
    lab : ndarray, shape (3,)
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    rendered : bool
        True for a photo that the camera's maker has rendered (any JPEG, and a PNG or TIFF unless it
        is known to be linear).
    camera_known : bool
        False for raw light of a camera whose matrix is not known: a typical one's was taken.

    Returns
    -------
    ndarray, shape (3, 3)
        In Lab units squared.
    """
    chroma = float(np.hypot(lab[1], lab[2]))
    told = constants()
    variance = _spread(told["camera_spread"][spread_name(light)], chroma) ** 2
    if rendered:
        variance = variance + _spread(told["rendering_spread"], chroma) ** 2
    elif not camera_known:
        variance = variance * told["unknown_camera"] ** 2
    axes = weighted_axes(lab)
    return (axes * variance) @ axes.T
