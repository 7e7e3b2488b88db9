"""How another light changes the colours that one camera tells.

The white is divided out of both photos. What is left is a few changes that go together in all
colours, each stronger or weaker from pair to pair of photos, and a remainder. What each of them
does to a colour depends on what the colour is made of: inks and cloths of equal colour are of
unlike spectra, so that there are two fields of each, one over the sheet's colours and one over
cloths, learnt from measured cameras under pairs of lights (``python -m
tests.studies.colour_change``). The sheet's colours, which are known to have stayed as they were,
tell how strong each is; that tells of the cloth. What a cloth has for itself they can't tell of.
What a maker's rendering changes is `rendering_change`.

References
----------
Rasmussen, C. E. and Williams, C. K. I. (2006). Gaussian Processes for Machine Learning, 2.2 and
2.7 (smooth fields, and explicit functions with a smooth remainder).
"""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import lab_to_xyz
from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.measure.camera_colours import vividness, weighted_axes
from dyeshade.measure.lights import spread_name
from dyeshade.photo.camera_space import camera_to_srgb
from dyeshade.resources import resource_path

Array = NDArray[np.float64]


@cache
def _constants() -> dict[str, Any]:
    with resource_path("measure/colour_change.json").open(encoding="utf-8") as file:
        constants: dict[str, Any] = json.load(file)
    return constants


def channels_of(lab: Array) -> Array:
    """Lab as a typical camera's channels, white 1 in each; shape (..., 3)."""
    to_xyz = SRGB.to_xyz @ camera_to_srgb()
    return np.asarray(np.linalg.solve(to_xyz, np.moveaxis(lab_to_xyz(lab), -1, 0).reshape(3, -1)))


def axes_of(lab: Array, neutral: Array, vivid: Array) -> Array:
    """Steps of a spread along lightness, chroma and hue in Lab, shape (n, 3, 3).

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
    neutral, vivid : ndarray, shape (3,)
        Spreads of a neutral, and added in quadrature for a vivid colour.
    """
    much = vividness(np.hypot(lab[:, 1], lab[:, 2]))
    steps = [
        weighted_axes(one) * np.hypot(neutral, vivid * k) for one, k in zip(lab, much, strict=True)
    ]
    return np.array(steps).reshape(-1, 3, 3)


def nearness(lab: Array, other: Array, reach: float) -> Array:
    """How much colours share a smooth field, by their distance in CIELAB.

    Parameters
    ----------
    lab, other : ndarray, shape (n, 3) and (m, 3)
    reach : float
        Of the field, in Lab units near neutrals; further among vivid colours.

    Returns
    -------
    ndarray, shape (n, m)
        0..1.
    """
    ours, theirs = (one / (1.0 + 0.02 * np.hypot(one[:, 1:2], one[:, 2:])) for one in (lab, other))
    gaps = ((ours[:, None] - theirs[None]) ** 2).sum(axis=-1)
    return np.asarray(np.exp(-0.5 * gaps / reach**2))


def by_mode(lab: Array, told: dict[str, Any]) -> Array:
    """What each of the changes that go together does to colours, as large as it usually is.

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
    told : dict
        Of inks or of cloths: known colours ``at`` (m, 3), their ``weights`` (m, 3 k), and the
        ``reach`` of the fields.

    Returns
    -------
    ndarray, shape (n, 3, k)
        Change of Lab.
    """
    weights = np.array(told["weights"])
    grown = nearness(lab, np.array(told["at"]), told["reach"]) @ weights
    return np.asarray(grown.reshape(len(lab), 3, weights.shape[1] // 3))


def light_part(lab: Array, light: str) -> Array:
    """Covariance of what two lights of one kind change, the white divided out of both.

    Parameters
    ----------
    lab : ndarray, shape (n, 3)
        The last of a cloth, those before it of the sheet's colours.
    light : str
        One of `dyeshade.measure.lights.KINDS`.

    Returns
    -------
    ndarray, shape (3 n, 3 n)
        In Lab units squared; three rows a colour.
    """
    told = _constants()["light"][spread_name(light)]
    kinds = [(lab[:-1], told["inks"]), (lab[-1:], told["cloths"])]
    modes = np.concatenate([by_mode(some, of_kind) for some, of_kind in kinds])
    by_row = modes.reshape(3 * len(lab), -1)
    inks, cloth = (smooth_part(some, of_kind["left"]) for some, of_kind in kinds)
    whole = by_row @ by_row.T
    whole[:-3, :-3] += inks
    whole[-3:, -3:] += cloth
    return np.asarray(whole)


def own_spectrum(lab: Array, light: str) -> Array:
    """Covariance (3, 3) of what the light of another day changes in a cloth and in no ink."""
    return smooth_part(lab[None], _constants()["light"][spread_name(light)]["cloths"]["left"])


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
    shared = told["share"] * nearness(lab, lab, told["reach"])
    smooth = np.zeros((count, 3, count, 3))
    for k in range(3):
        smooth[:, k, :, k] = shared * size[:, None, k] * size[None, :, k]
    whole = smooth.reshape(3 * count, 3 * count)
    for k, own in enumerate(axes):
        whole[3 * k : 3 * k + 3, 3 * k : 3 * k + 3] += (1 - told["share"]) * own @ own.T
    return np.asarray(whole)
