"""Least squares for the camera that sees the page: unknowns, usual ranges, solution."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from dyeshade.sheet.camera import CURL_DEGREES, Array, PageCamera, curl_basis, turn
from dyeshade.sheet.unknowns import (
    BEND,
    CENTRE,
    CURL,
    FOCAL,
    STRETCH,
    Points,
    seen_by,
)

# How far from usual each unknown may well be (one standard deviation). Phone main cameras have
# 24 to 28 mm equivalent, 1.1 to 1.3 half diagonals; cropping shifts and lengthens. Our choice,
# common practice, no source.
_LOG_FOCAL, _LOG_FOCAL_SD = float(np.log(1.3)), 0.3
_CENTRE_SD = 0.08
_BEND_SD = (0.08, 0.03)
_STRETCH_SD = 0.004
_GROWTH_SD = 0.03
_CURL_SD_MM = {2: 2.5, 3: 2.0, 4: 1.5}

_POSE_STEPS = np.array([0.05, 0.05, 0.05, 0.01, 0.01, 0.01])
_SD = np.array(
    [_LOG_FOCAL_SD, _CENTRE_SD, _CENTRE_SD, *_BEND_SD, _STRETCH_SD, _GROWTH_SD]
    + [_CURL_SD_MM[i + j] for i, j in CURL_DEGREES]
)
_REWEIGHTINGS = 4
_CAUCHY = 2.5

_MOST_ROUNDS = 60
_LEAST_GAIN = 2e-5
_AHEAD, _MOST_BENT = 0.1, 1.0


@dataclass(frozen=True)
class Solution:
    """Values of all unknowns, and how well they explain the marks for the freedom they take.

    Attributes
    ----------
    numbers : ndarray (25,)
        All unknowns.
    evidence : float
        Log evidence up to a constant shared by all solutions of a problem.
    spread : ndarray (25, m)
        Independent directions in which the numbers may be off, each by one standard deviation.
    """

    numbers: Array
    evidence: float
    spread: Array


class Problem:
    """Mark corners of one photo, and the camera that is sought.

    Parameters
    ----------
    page_mm, photo_px : (n, 4, 2)
        Mark corners on the page (mm) and in the photo (pixels).
    start : PageCamera
        A flat page, roughly placed; rotations count from its own.
    """

    def __init__(self, page_mm: Array, photo_px: Array, start: PageCamera) -> None:
        self.start = start
        self.corners_px = photo_px.reshape(-1, 2)
        middles = page_mm.mean(axis=1, keepdims=True) + np.zeros_like(page_mm)
        self._marks = self._points(middles.reshape(-1, 2), (page_mm - middles).reshape(-1, 2))
        per_mm = float(np.median(start.scale(page_mm)))
        # Corner finding is good to a fifth of a pixel; print and paper add some hundredths of a
        # mm.
        self.doubt_px = float(np.hypot(0.2, 0.04 * per_mm))

    def as_started(self) -> Array:
        """(25,) The start as numbers."""
        camera = self.start
        x, y, distance = camera.position_mm
        shown_at = camera.centre + camera.focal * np.array([x, y]) / distance
        pose = [0.0, 0.0, 0.0, *shown_at, np.log(distance / camera.focal)]
        lens = [np.log(camera.focal), *camera.centre, *camera.bend, camera.stretch, 0.0]
        return np.array([*pose, *lens, *camera.curl_mm])

    def camera(self, numbers: Array) -> PageCamera:
        """The camera that numbers (25,) stand for."""
        focal = float(np.exp(numbers[FOCAL]))
        direction = np.array([*(numbers[3:5] - numbers[CENTRE]) / focal, 1.0])
        return PageCamera(
            frame_px=self.start.frame_px,
            page_mm=self.start.page_mm,
            rotation=self.start.rotation @ turn(numbers[:3]),
            position_mm=float(np.exp(numbers[5])) * focal * direction,
            focal=focal,
            centre=np.array(numbers[CENTRE]),
            bend=(float(numbers[BEND][0]), float(numbers[BEND][1])),
            stretch=float(numbers[STRETCH]),
            curl_mm=np.array(numbers[CURL]),
        )

    def shown(self, numbers: Array) -> Array:
        """(corners, 2) Where numbers (25,) put the mark corners, pixels."""
        return seen_by(numbers, self._marks, self.start).shown

    def shown_slopes(self, numbers: Array) -> Array:
        """(corners, 2, 25) Derivatives of `shown`."""
        return seen_by(numbers, self._marks, self.start).slopes()

    def places(self, numbers: Array, points_mm: Array) -> tuple[Array, Array]:
        """Where numbers (25,) put page points (n, 2), pixels (n, 2), and derivatives (n, 2, 25)."""
        seen = seen_by(numbers, self._points(points_mm, np.zeros_like(points_mm)), self.start)
        return seen.shown, seen.slopes()

    def _points(self, middles_mm: Array, from_middle_mm: Array) -> Points:
        basis = curl_basis(middles_mm + from_middle_mm, self.start.page_mm)
        return Points(middles_mm - 0.5 * np.asarray(self.start.page_mm), from_middle_mm, basis)

    def solve(self, curl: float, start: Array, weights: Array) -> tuple[Solution, Array]:
        """Solve with a given freedom of the paper, marks that are off losing their weight.

        Parameters
        ----------
        curl : float
            Expected curl, as a factor on its usual range; 0 keeps the paper flat.
        start : ndarray (25,)
            Where to start.
        weights : ndarray (corners,)
            Weights of the corners' distances to start with, 0..1.

        Returns
        -------
        solution : Solution
        weights : ndarray (corners,)
            Weights at the end.
        """
        free = CURL.stop if curl else CURL.start
        usual = np.zeros(CURL.stop)
        usual[FOCAL] = _LOG_FOCAL
        unit = np.concatenate([_POSE_STEPS, _SD])
        unit[CURL] *= max(curl, 1e-6)
        if not curl:
            start = np.concatenate([start[: CURL.start], np.zeros(len(CURL_DEGREES))])
        prior = np.eye(free)[6:]

        def numbers_of(steps: Array) -> Array:
            numbers = usual.copy()
            numbers[:free] += steps * unit[:free]
            return numbers

        def misses(steps: Array) -> Array:
            off = (self.shown(numbers_of(steps)) - self.corners_px) / self.doubt_px
            return np.concatenate([(off * weights[:, None]).ravel(), steps[6:]])

        def slopes(steps: Array) -> Array:
            change = self.shown_slopes(numbers_of(steps))[..., :free] * unit[:free]
            change *= (weights / self.doubt_px)[:, None, None]
            return np.concatenate([change.reshape(-1, free), prior])

        steps = (start - usual)[:free] / unit[:free]
        for attempt in range(_REWEIGHTINGS):
            steps = _least_squares(misses, slopes, steps)
            off = self.shown(numbers_of(steps)) - self.corners_px
            missed = np.linalg.norm(off, axis=1)
            typical = max(self.doubt_px, 1.2 * float(np.median(missed)))
            # Cauchy weights: a false or half covered mark pulls less the further it is off.
            fresh = 1.0 / np.sqrt(1.0 + (missed / (_CAUCHY * typical)) ** 2)
            settled = float(np.max(np.abs(fresh - weights))) < 0.03
            if settled or attempt == _REWEIGHTINGS - 1:
                break
            weights = fresh
        jacobian = slopes(steps)
        curvature = jacobian.T @ jacobian
        # Cauchy's cost at the stated doubt, so that solutions are compared on the same terms.
        evidence = (
            -0.5 * _CAUCHY**2 * float(np.sum(np.log1p((missed / (_CAUCHY * self.doubt_px)) ** 2)))
        )
        evidence -= 0.5 * float(np.sum(steps[6:] ** 2))
        evidence -= 0.5 * float(np.linalg.slogdet(curvature)[1])
        spread = np.zeros((len(usual), free))
        spread[:free] = unit[:free, None] * np.linalg.inv(np.linalg.cholesky(curvature)).T
        return Solution(numbers_of(steps), evidence, spread), weights


def _least_squares(
    misses: Callable[[Array], Array], slopes: Callable[[Array], Array], start: Array
) -> Array:
    """Unknowns (m,) whose misses have the least sum of squares, near a start.

    Written here, as the library that has this takes longer to be imported than a photo to be
    measured.

    Parameters
    ----------
    misses, slopes : callable
        Of the unknowns (m,): the misses (n,), and their derivatives (n, m).
    start : ndarray (m,)

    References
    ----------
    Marquardt 1963, *An algorithm for least-squares estimation of nonlinear parameters*, Journal of
    the Society for Industrial and Applied Mathematics 11 (2).
    """
    here, missed = start, misses(start)
    cost, damping = float(missed @ missed), 1e-4
    slope = slopes(here)
    for _ in range(_MOST_ROUNDS):
        curvature, downhill = slope.T @ slope, -slope.T @ missed
        damped = curvature + damping * np.diag(np.diag(curvature))
        step = np.linalg.solve(damped, downhill)
        # The valley is bent (longer lenses see from further away): the step is bent likewise.
        ahead = misses(here + _AHEAD * step)
        bend = (2.0 / _AHEAD) * ((ahead - missed) / _AHEAD - slope @ step)
        sideways = -0.5 * np.linalg.solve(damped, slope.T @ bend)
        if 2.0 * np.linalg.norm(sideways) > _MOST_BENT * np.linalg.norm(step):
            sideways = np.zeros_like(step)
        there = here + step + sideways
        if 2.0 * step @ downhill - step @ curvature @ step < _LEAST_GAIN * cost:
            # Next to nothing is to be gained: rounding would decide what follows.
            return np.asarray(there)
        tried = misses(there)
        found = float(tried @ tried)
        if not found < cost:
            damping *= 10.0
            if damping > 1e9:
                break
            continue
        gain, here, missed, cost = cost - found, there, tried, found
        damping = max(damping / 10.0, 1e-9)
        if gain < _LEAST_GAIN * cost:
            break
        slope = slopes(here)
    return here
