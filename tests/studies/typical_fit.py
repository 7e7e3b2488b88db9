"""What measured cameras get wrong on the whole under each kind of light, as a root-polynomial.

A part of ``camera_constants``, which says where the data come from. Least squares in steps of
CIEDE2000 over cameras, lights and colours, far ones held back (Student's t): mixtures of the test
colours by Kubelka and Munk stand beside them, since dyes come as mixtures.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from dyeshade.cie.lab import lab_to_xyz, xyz_to_lab
from dyeshade.measure.camera_colours import weighted_axes
from dyeshade.measure.root_polynomial import term_count, terms
from tests.studies import colour_data
from tests.studies.colour_data import LIGHTS, Array

DEGREE = 2
"""By cameras left out, 3 gains 4 % more on the test colours and nothing on mixtures."""

_HOLD = 0.1
_TAILS, _USUAL = 4.0, 1.5
_ROUNDS = 8
_MIXTURES = 200
_STEP = 1e-5


@cache
def fitting_colours() -> Array:
    """Reflectances (n, 81): CIE test colours, the chart's, mixtures of two on one fibre."""
    colours = colour_data.test_colours()
    rng = np.random.default_rng(224)
    absorbed = (1 - colours) ** 2 / (2 * np.clip(colours, 0.003, 1))
    first, second = rng.integers(len(colours), size=(2, _MIXTURES))
    depth = rng.uniform(0.3, 1.4, (_MIXTURES, 1))
    share = rng.uniform(0.0, 0.5, (_MIXTURES, 1))
    sums = depth * ((1 - share) * absorbed[first] + share * absorbed[second])
    mixed = 1 + sums - np.sqrt(sums**2 + 2 * sums)
    return np.concatenate([colours, colour_data.chart_spectra(), mixed])


def typical_light(camera: str, light: str, colours: Array, typical: Array) -> Array:
    """Light of colours (n, 81) in a typical camera's channels, by this camera's own matrix."""
    own = colour_data.balanced(camera, light, colours) @ colour_data.own_matrix(camera).T
    return np.asarray(np.linalg.solve(typical, own.T).T)


def typical_terms(cameras: list[str], kind: str, typical: Array) -> Array:
    """Weights (3, terms) by some cameras under one kind of light; `typical` as (3, 3) to sRGB."""
    colours = fitting_colours()
    lab = colour_data.lab_of(colour_data.xyz_of(colours))
    seen = [typical_light(name, one, colours, typical) for name in cameras for one in LIGHTS[kind]]
    return fitted_terms(np.concatenate(seen), np.tile(lab, (len(seen), 1)), base_of(typical))


def base_of(typical: Array) -> Array:
    """The typical camera's channels to XYZ."""
    return np.asarray(colour_data.srgb_matrix() @ typical)


def fitted_terms(light: Array, lab: Array, base: Array) -> Array:
    """Weights (3, terms) that bring light (n, 3) nearest to Lab (n, 3) on top of a base (3, 3)."""
    xyz = lab_to_xyz(lab)
    rows = terms(light, DEGREE)
    shows = np.maximum(xyz[:, 1], 0.02) ** (-2 / 3)
    scale = np.sqrt(np.mean((rows * shows[:, None]) ** 2, axis=0))
    steps = np.array([np.linalg.inv(weighted_axes(one)) for one in lab]) @ _by_xyz(xyz)
    wide = np.einsum("iab,ik->iabk", steps, rows / scale).reshape(3 * len(lab), -1)
    aim = np.einsum("iab,ib->ia", steps, xyz - light @ base.T).ravel()
    held = _HOLD * len(lab) / 24 * np.eye(3 * term_count(DEGREE))
    belief = np.ones(len(lab))
    for _ in range(_ROUNDS):
        weighed = wide * np.repeat(belief, 3)[:, None]
        answer = np.linalg.solve(weighed.T @ wide + held, weighed.T @ aim)
        off = ((aim - wide @ answer).reshape(-1, 3) ** 2).sum(axis=1)
        belief = _TAILS / (_TAILS + off / _USUAL**2)
    return np.asarray(answer.reshape(3, -1) / scale)


def seen_lab(light: Array, weights: Array, base: Array) -> Array:
    """Lab (n, 3) of typical light (n, 3) by a base and weights of terms."""
    return xyz_to_lab(light @ base.T + terms(light, DEGREE) @ weights.T)


def _by_xyz(xyz: Array) -> Array:
    columns = [
        (xyz_to_lab(xyz + step) - xyz_to_lab(xyz - step)) / (2 * _STEP)
        for step in _STEP * np.eye(3)
    ]
    return np.stack(columns, axis=-1)
