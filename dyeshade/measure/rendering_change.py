"""What a maker's rendering changes between two photos of one colour, by how both show it.

A maker bends colours to please: some hues more vivid, some darker, some turned. One camera bends
all its photos alike, yet a colour that stands lighter or off white in one of them is another colour
to it and is bent otherwise. Greys tell how it stands: light, exposure and white balance of both
photos are known. So one unknown field of bends over shown colours, asked at both places, gives the
change; where both photos show all colours alike it gives none.

The field is written as waves of hue, growing with chroma and its square, along lightness, chroma
and hue, and none for neutrals. How its weights go together is learnt from looks (``python -m
tests.studies.rendering_change``). What the waves leave is a smooth field of its own, as large as
the two whites are apart.

References
----------
Rasmussen, C. E. and Williams, C. K. I. (2006). Gaussian Processes for Machine Learning, 2.7 and 9.4
(a field and its differences).
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import xyz_to_lab
from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.measure.colour_change import channels_of, smooth_part
from dyeshade.measure.grey_fit import GreyFit
from dyeshade.photo.camera_space import camera_to_srgb
from dyeshade.resources import resource_path

Array = NDArray[np.float64]

WAVES = 3
"""Waves of hue around the circle, at most: ``tests.studies.rendering_change`` prints what fewer
leave."""

_CHROMA = 40.0
"""C*ab at which the square of chroma counts as much as chroma itself (scales the weights only)."""

_LEAST_APART = 0.2
"""Whites count as so far apart, in log light, even where they are told to be the same: in
``tests/data/real_charts.csv`` photos 1 and 2 are by one camera in one light, their whites within
1 %, and yet colours differ by 0.5 along chroma and 0.7 along hue, noise and all. This says 0.3."""

_BY_LEVEL = 0.3
"""How far another exposure moves colours, beside another white balance of the same step."""

_LEAST_LIGHT = 0.05
"""Of a camera's channel, beside its luminance: no white balance is further off."""


@cache
def _constants() -> dict[str, Any]:
    with resource_path("measure/rendering_change.json").open(encoding="utf-8") as file:
        constants: dict[str, Any] = json.load(file)
    return constants


def _to_xyz() -> Array:
    return np.asarray(SRGB.to_xyz @ camera_to_srgb())


def _luminance(light: Array) -> Array:
    """Log luminance of log light in a typical camera's channels, shape (...,)."""
    return np.asarray(np.log(np.exp(light) @ _to_xyz()[1]))


def camera_light_of(log_light: Array, to_xyz: Array) -> Array:
    """Light on a perfect white as a typical camera's channels.

    Parameters
    ----------
    log_light : ndarray, shape (..., 3)
        Log of the light in the file's primaries, any scale.
    to_xyz : ndarray, shape (3, 3)
        The file's primaries to XYZ relative to D65.

    Returns
    -------
    ndarray, shape (..., 3)
        Log of the light on the same scale.
    """
    camera = np.exp(log_light) @ np.linalg.solve(_to_xyz(), to_xyz).T
    luminance = np.exp(log_light) @ to_xyz[1]
    return np.asarray(np.log(np.maximum(camera, _LEAST_LIGHT * luminance[..., None])))


def lights_of(
    fits: Sequence[GreyFit], places: Sequence[Array], to_xyz: Sequence[Array]
) -> tuple[Array, Array]:
    """Light on a perfect white at n spots in each of two photos by one camera, on one scale.

    Parameters
    ----------
    fits : sequence of GreyFit
        Of both photos.
    places : sequence of ndarray, shape (n, 2)
        Of the spots in each, mm.
    to_xyz : sequence of ndarray, shape (3, 3)
        Each file's primaries to XYZ.

    Returns
    -------
    (ndarray, ndarray)
        Log of the light in a typical camera's channels, each shape (n, 3).
    """
    first, second = fits
    # Each photo's light is one at a signal of its own. The camera's curve is the same in both, so
    # that either tells how far apart the two signals are in light.
    gap = float(
        first.curve.log_light(np.array(second.curve.reference))
        - second.curve.log_light(np.array(first.curve.reference))
    )
    one, other = (
        camera_light_of(fit.log_light_at(place) + scale, matrix)
        for fit, place, matrix, scale in zip(fits, places, to_xyz, (-gap / 4, gap / 4), strict=True)
    )
    return one, other


def waves(lab: Array, count: int = WAVES) -> Array:
    """What each weight of the field does to a colour that is shown so.

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
    count : int
        Waves of hue around the circle, at most.

    Returns
    -------
    ndarray, shape (n, 3, 6 (2 count + 1))
        Change of Lab; nothing for a neutral.
    """
    lightness, a, b = lab.T
    chroma = np.maximum(np.hypot(a, b), 1e-6)
    turn = (a + 1j * b) / chroma
    around = [np.ones_like(chroma)]
    for k in range(1, count + 1):
        around += [(turn**k).real, (turn**k).imag]
    grown = np.stack([chroma, chroma**2 / _CHROMA], axis=-1)
    sizes = (np.stack(around, axis=-1)[:, :, None] * grown[:, None]).reshape(len(lab), -1)
    none, one = np.zeros_like(lightness), np.ones_like(lightness)
    directions = [(one, none, none), (none, turn.real, turn.imag), (none, -turn.imag, turn.real)]
    return np.concatenate(
        [np.stack(way, axis=-1)[:, :, None] * sizes[:, None] for way in directions], axis=-1
    )


def bends(lab: Array, light: Array, count: int = WAVES) -> Array:
    """What each weight of the field does to colours in a photo, beside what it does to greys there.

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
        Colours with the white divided out.
    light : ndarray, shape (n, 3)
        Log of the light on a perfect white, in a typical camera's channels.
    count : int
        As in `waves`.

    Returns
    -------
    ndarray, shape (n, 3, w)
        Change of Lab.
    """
    to_xyz, factor = _to_xyz().T, np.exp(light)
    channels = channels_of(lab).T
    grey = channels @ to_xyz[:, 1:2]
    shown, plain = (xyz_to_lab(one * factor @ to_xyz) for one in (channels, grey))
    # The white that greys tell is bent with them, and it is divided out.
    step = waves(shown, count) - waves(plain, count)
    # Lab of a photo that is exposed longer is told less its exposure.
    return np.asarray(step * np.exp(-_luminance(light) / 3)[:, None, None])


def change_by_weights(lab: Array, lights: Sequence[Array], count: int = WAVES) -> Array:
    """What each weight of the field changes from one photo to another.

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
    lights : sequence of ndarray, shape (n, 3)
        As `lights_of` gives both; only how far they are apart in luminance counts.
    count : int
        As in `waves`.

    Returns
    -------
    ndarray, shape (n, 3, w)
    """
    middle = (_luminance(lights[0]) + _luminance(lights[1])) / 2
    first, second = (bends(lab, one - middle[:, None], count) for one in lights)
    return np.asarray(second - first)


def apart(lights: Sequence[Array]) -> Array:
    """How far the whites of two photos are apart, in log light, shape (n,)."""
    step = lights[1] - lights[0]
    level = _luminance(lights[1]) - _luminance(lights[0])
    parts = [step[:, 0] - step[:, 1], step[:, 2] - step[:, 1], _BY_LEVEL * level]
    return np.asarray(np.sqrt(_LEAST_APART**2 + sum(part**2 for part in parts)))


def rendering_part(lab: Array, lights: Sequence[Array]) -> Array:
    """Covariance of what a maker's rendering changes between two photos.

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
        Colours with the white divided out, in the middle of both photos.
    lights : sequence of ndarray, shape (n, 3)
        As `lights_of` gives both.

    Returns
    -------
    ndarray, shape (3 n, 3 n)
        In Lab units squared; three rows a colour.
    """
    told = _constants()
    root = change_by_weights(lab, lights).reshape(3 * len(lab), -1) @ np.array(told["root"])
    size = np.repeat(apart(lights), 3)
    return np.asarray(root @ root.T + smooth_part(lab, told["left"]) * np.outer(size, size))


def own_rendering(lab: Array, lights: Sequence[Array]) -> Array:
    """Of `rendering_part`, what one of two equal colours has for itself; shape (3, 3).

    Parameters
    ----------
    lab : ndarray, shape (3,)
    lights : sequence of ndarray, shape (3,)
        On it, as in `rendering_part`.
    """
    part = smooth_part(np.array([lab, lab]), _constants()["left"])
    size = apart([one[None] for one in lights])[0]
    return np.asarray(size**2 * (part[:3, :3] - part[:3, 3:]))
