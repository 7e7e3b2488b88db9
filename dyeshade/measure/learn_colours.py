"""Learns a camera's own colours from known ones; leaving known colours out tells how far to trust.

The fit is least squares in steps of CIEDE2000, held near a base (a typical camera, or a raw file's
own matrix) as strongly as leaving out one colour after the other finds best. So does the choice
between a plain matrix, a root-polynomial, and shifts for what a maker's rendering adds.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import lab_to_xyz, xyz_to_lab
from dyeshade.measure.camera_colours import weighted_axes
from dyeshade.measure.own_colours import OwnColours, nearness
from dyeshade.measure.root_polynomial import DEGREES, term_count, terms

Array = NDArray[np.float64]

LEAST_COLOURS = 12
"""Fewer known colours than this tell noise from colour too badly."""

_HOLDS = (10.0, 100.0, 1000.0, 10000.0)
"""How strongly the fit is held near its base: cost of a term that is as large as the colour it
corrects, in squared steps of CIEDE2000, for 24 known colours."""

_SHIFT_NOISE = 0.3
"""What a known colour may be off by without shifting its neighbours, in steps of CIEDE2000, where
shifts are some steps large."""

_SHIFTS_MUST_GAIN = 0.97
_STEP = 1e-5


@dataclass(frozen=True, eq=False)
class Learnt:
    """Colours learnt, and how well.

    Attributes
    ----------
    colours : OwnColours
        Without spreads: what leaving out says stands in `left_out`.
    left_out : ndarray, shape (n, 3)
        Each known colour seen less known, along lightness, chroma and hue in steps of CIEDE2000,
        by a fit that did not know it.
    error : float
        Mean CIEDE2000 of the same over the colours that are no neutrals.
    before : float
        The same for the base.
    """

    colours: OwnColours
    left_out: Array
    error: float
    before: float


@dataclass(frozen=True)
class _Way:
    degree: int
    hold: float
    shifted: bool


def learn_colours(light: Array, lab: Array, base: Array, rendered: bool) -> Learnt:
    """Learn a camera's own colours.

    Parameters
    ----------
    light : ndarray, shape (n, 3)
        Channels of known colours, white divided out (`dyeshade.measure.typical_camera`).
    lab : ndarray, shape (n, 3)
        The same colours as Lab for D65 and the 2 degree observer.
    base : ndarray, shape (3, 3)
        Channels to XYZ, to which the fit is held.
    rendered : bool
        Whether the camera's maker rendered the photo; raw light needs no shifts.

    Returns
    -------
    Learnt

    Raises
    ------
    ValueError
        Fewer than `LEAST_COLOURS` colours; callers refuse before.
    """
    if len(light) < LEAST_COLOURS:
        raise ValueError("too few known colours")
    coloured = no_neutrals(lab)
    problem = _Problem(light, lab, base)
    best: tuple[float, _Way, Array] | None = None
    for shifted in (False, True) if rendered else (False,):
        for degree, hold in product(DEGREES, _HOLDS):
            way = _Way(degree, hold, shifted)
            seen = _each_left_out(problem, way)
            error = float(ciede2000(seen, lab)[coloured].mean())
            # What is more must show more: shifts bend where nothing is known.
            needed = 1.0 if best is None or best[1].shifted == shifted else _SHIFTS_MUST_GAIN
            if best is None or error < needed * best[0]:
                best = error, way, seen
    assert best is not None
    error, way, seen = best
    everything = np.arange(len(light))
    before = float(ciede2000(xyz_to_lab(light @ base.T), lab)[coloured].mean())
    return Learnt(problem.fit(everything, way), parts_of(seen, lab), error, before)


def no_neutrals(lab: Array) -> NDArray[np.bool_]:
    """Which colours, (n, 3), tell how well a camera is met: greys are met by any fit."""
    return np.asarray(np.hypot(lab[:, 1], lab[:, 2]) > 5.0)


def parts_of(seen: Array, true: Array) -> Array:
    """Errors along lightness, chroma and hue in steps of CIEDE2000, shape (n, 3)."""
    return np.array(
        [
            np.linalg.solve(weighted_axes(one), other - one)
            for one, other in zip(true, seen, strict=True)
        ]
    )


def _each_left_out(problem: _Problem, way: _Way) -> Array:
    everything = np.arange(len(problem.light))
    seen = [
        problem.fit(everything[everything != one], way).lab(problem.light[one])
        for one in everything
    ]
    return np.array(seen)


class _Problem:
    """What all ways of fitting share; a helper of `learn_colours`."""

    def __init__(self, light: Array, lab: Array, base: Array) -> None:
        self.light, self.lab, self.base = light, lab, base
        xyz = lab_to_xyz(lab)
        self.rest = xyz - light @ base.T
        # Steps of CIEDE2000 for a step in XYZ, at the known colours.
        turns = _by_xyz(xyz)
        self.axes = np.array([np.linalg.inv(weighted_axes(one)) for one in lab])
        self.steps = self.axes @ turns
        # The cube root's slope: how much a step in XYZ shows at this lightness.
        self.shows = np.maximum(xyz[:, 1], 0.02) ** (-2 / 3)
        self.all_terms = {degree: terms(light, degree) for degree in DEGREES}

    def fit(self, chosen: NDArray[np.intp], way: _Way) -> OwnColours:
        """Fit the chosen colours in one way."""
        count = len(chosen)
        rows = self.all_terms[way.degree][chosen]
        scale = np.sqrt(np.mean((rows * self.shows[chosen, None]) ** 2, axis=0)) + 1e-9
        wide = np.einsum("iab,ik->iabk", self.steps[chosen], rows / scale)
        wide = wide.reshape(3 * count, 3 * term_count(way.degree))
        aim = np.einsum("iab,ib->ia", self.steps[chosen], self.rest[chosen]).ravel()
        held = wide.T @ wide + way.hold * count / 24 * np.eye(wide.shape[1])
        weights = np.linalg.solve(held, wide.T @ aim).reshape(3, -1) / scale
        plain = OwnColours(self.base, way.degree, weights)
        if not way.shifted:
            return plain
        seen = plain.lab(self.light[chosen])
        rest = np.einsum("iab,ib->ia", self.axes[chosen], self.lab[chosen] - seen)
        near = nearness(seen, seen) + _SHIFT_NOISE**2 * np.eye(count)
        return OwnColours(self.base, way.degree, weights, seen, np.linalg.solve(near, rest))


def _by_xyz(xyz: Array) -> Array:
    """Derivatives of Lab by XYZ, shape (n, 3, 3)."""
    columns = [
        (xyz_to_lab(xyz + step) - xyz_to_lab(xyz - step)) / (2 * _STEP)
        for step in _STEP * np.eye(3)
    ]
    return np.stack(columns, axis=-1)
