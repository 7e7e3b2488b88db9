"""How another light changes the colours that one camera tells.

The white is divided out of both photos, and what is left changes smoothly from colour to colour.
It is written as a random field over colour, in parts: terms of a root-polynomial in a camera's
channels, whose weights go together as measured cameras under pairs of lights show; a smooth
remainder; and what neighbours in colour do not share, since equal colours may be of unlike spectra.
Colours that are known to have stayed as they were then tell of those that may have not. What a
maker's rendering changes is `rendering_change`.

References
----------
Rasmussen, C. E. and Williams, C. K. I. (2006). Gaussian Processes for Machine Learning, 2.2 and
2.7 (a field of explicit basis functions with a smooth remainder).
"""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import lab_to_xyz, xyz_to_lab
from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.measure.camera_colours import vividness, weighted_axes
from dyeshade.measure.lights import spread_name
from dyeshade.measure.root_polynomial import terms
from dyeshade.photo.camera_space import camera_to_srgb
from dyeshade.resources import resource_path

Array = NDArray[np.float64]

DEGREE = 2
"""Of the root-polynomial: a third leaves no less to the remainder (``tests.studies.colour_change``
prints both)."""

_STEP = 1e-5


@cache
def _constants() -> dict[str, Any]:
    with resource_path("measure/colour_change.json").open(encoding="utf-8") as file:
        constants: dict[str, Any] = json.load(file)
    return constants


def channels_of(lab: Array) -> Array:
    """Lab as a typical camera's channels, white 1 in each; shape (..., 3)."""
    to_xyz = SRGB.to_xyz @ camera_to_srgb()
    return np.asarray(np.linalg.solve(to_xyz, np.moveaxis(lab_to_xyz(lab), -1, 0).reshape(3, -1)))


def features(lab: Array, degree: int = DEGREE) -> Array:
    """What each weight of the polynomial does to colours, in Lab.

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
    degree : int
        As `dyeshade.measure.root_polynomial.terms`.

    Returns
    -------
    ndarray, shape (n, 3, 3 t)
        Change of Lab by the weights of the t terms: first those that change the first channel.
    """
    light = channels_of(lab).T
    to_xyz = (SRGB.to_xyz @ camera_to_srgb()).T
    sides = [
        xyz_to_lab((light[:, None] + sign * _STEP * np.eye(3)) @ to_xyz) for sign in (1.0, -1.0)
    ]
    by_channel = np.moveaxis((sides[0] - sides[1]) / (2 * _STEP), 1, 2)
    grown = by_channel[..., None] * terms(light, degree)[:, None, None]
    return np.asarray(grown.reshape(len(light), 3, -1))


def axes_of(lab: Array, neutral: Array, vivid: Array) -> Array:
    """Steps of a spread along lightness, chroma and hue in Lab, shape (n, 3, 3).

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
    neutral, vivid : ndarray, shape (3,)
        Spreads of a neutral, and added in quadrature for a vivid colour.
    """
    much = vividness(np.hypot(lab[:, 1], lab[:, 2]))
    return np.array(
        [
            weighted_axes(one) * np.hypot(neutral, vivid * k)
            for one, k in zip(lab, much, strict=True)
        ]
    )


def nearness(lab: Array, reach: float) -> Array:
    """How much colours share a smooth field, by their distance in CIELAB; shape (n, n), 0..1."""
    scaled = lab / (1.0 + 0.02 * np.hypot(lab[:, 1], lab[:, 2]))[:, None]
    gaps = ((scaled[:, None] - scaled[None]) ** 2).sum(axis=-1)
    return np.asarray(np.exp(-0.5 * gaps / reach**2))


def light_part(lab: Array, light: str) -> Array:
    """Covariance of what two lights of one kind change, the white divided out of both.

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
    light : str
        One of `dyeshade.measure.lights.KINDS`.

    Returns
    -------
    ndarray, shape (3 n, 3 n)
        In Lab units squared; three rows a colour.
    """
    return _field(lab, _constants()["light"][spread_name(light)])


def own_spectrum(lab: Array, light: str) -> Array:
    """Covariance (3, 3) of what the light of another day changes in one of two equal colours.

    That is the part that the sheet's colours, of other spectra than the cloth, can't tell of.
    """
    part = light_part(np.array([lab, lab]), light)
    return np.asarray(part[:3, :3] - part[:3, 3:])


def _field(lab: Array, told: dict[str, Any]) -> Array:
    by_weight = features(lab).reshape(3 * len(lab), -1)
    return np.asarray(by_weight @ np.array(told["weights"]) @ by_weight.T) + smooth_part(lab, told)


def smooth_part(lab: Array, told: dict[str, Any]) -> Array:
    """Covariance of a smooth field over colour, and of what neighbours do not share.

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
    told : dict
        Spreads ``neutral`` and ``vivid`` as in `axes_of`, ``reach`` as in `nearness`, and the
        ``share`` of the variance that neighbours have in common.

    Returns
    -------
    ndarray, shape (3 n, 3 n)
        In Lab units squared; three rows a colour.
    """
    count = len(lab)
    axes = axes_of(lab, np.array(told["neutral"]), np.array(told["vivid"]))
    # The axes turn with hue: what is shared is a step in Lab, not "more vivid" on both sides.
    size = np.sqrt((axes**2).sum(axis=2))
    shared = told["share"] * nearness(lab, told["reach"])
    smooth = np.zeros((count, 3, count, 3))
    for k in range(3):
        smooth[:, k, :, k] = shared * size[:, None, k] * size[None, :, k]
    whole = smooth.reshape(3 * count, 3 * count)
    for k, own in enumerate(axes):
        whole[3 * k : 3 * k + 3, 3 * k : 3 * k + 3] += (1 - told["share"]) * own @ own.T
    return np.asarray(whole)
