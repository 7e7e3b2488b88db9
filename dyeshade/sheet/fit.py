"""From mark corners to the camera that sees the page: robustly, and sanely with few marks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2
from dyeshade.sheet.camera import CURL_DEGREES, Array, PageCamera, turn, unbend
from dyeshade.sheet.solve import Problem, Solution
from dyeshade.sheet.unknowns import GROWTH

Mask = npt.NDArray[np.bool_]

TRIED_BENDS = (0.0, -0.05, 0.05, -0.1, 0.1)
"""Lens bends under which marks are first asked to agree; in between, the tolerance covers."""

TRIED_FOCALS = (1.2, 2.0, 4.0)
"""Focal lengths in half diagonals to start from: a phone's main lens, its longer ones, a scan."""

_TRIED_CURLS = (0.25, 1.0)
_CURL_MUST_GAIN = 1.0
_LEAST_SHARE = 0.15
_WELL = 0.25
"""Where all marks agree so much better than they must, no other bend need be tried."""


@dataclass(frozen=True)
class CameraFit:
    """A camera and how well the marks agree with it.

    Attributes
    ----------
    camera : PageCamera
        The fitted camera.
    missed_px : ndarray (n, 4)
        Distance of each mark corner from where the camera puts it, pixels.
    corners_agree : ndarray (n, 4) of bool
        Corners that the camera explains; something lying over a mark spoils single ones.
    growth : float
        How much larger than designed the black squares look, as a share of their side: ink
        spreads, and blur before a camera's curve moves dark edges inwards.
    doubt_mm : float
        How far off a place on the page may be, mm: two standard deviations, at the least certain
        of places 15 mm inside the paper's edge.
    """

    camera: PageCamera
    missed_px: Array
    corners_agree: Mask
    growth: float
    doubt_mm: float

    @property
    def agree(self) -> Mask:
        """(n,) Marks of which at least three corners agree."""
        return np.asarray(np.sum(self.corners_agree, axis=1) >= 3)


def agreeing_marks(
    page_mm: Array, photo_px: Array, frame_px: tuple[int, int], tolerance_px: float
) -> tuple[Mask, float]:
    """Find the largest set of marks that one flat page under one lens explains roughly.

    Parameters
    ----------
    page_mm, photo_px : (n, 4, 2)
        Mark corners on the page (mm) and in the photo (pixels).
    frame_px : (int, int)
        Height and width of the photo.
    tolerance_px : float
        How far a corner may be off: the curl and the lens bend that are not modelled yet.

    Returns
    -------
    agree : ndarray (n,) of bool
        Marks of which at least three corners agree.
    bend : float
        The lens bend k1 under which they agree best.
    """
    count = len(page_mm)
    best: tuple[int, float, Mask, float] = (0, 0.0, np.zeros(count, bool), 0.0)
    if count == 0:
        return best[2], best[3]
    half = 0.5 * float(np.hypot(*frame_px))
    middle = 0.5 * (np.array(frame_px[::-1]) - 1.0)
    flat = page_mm.reshape(-1, 2)
    for k1 in TRIED_BENDS:
        straight = middle + half * unbend((photo_px - middle) / half, (k1, 0.0)).reshape(-1, 2)
        plane: Any = cv2.findHomography(flat, straight, cv2.RANSAC, tolerance_px, maxIters=1000)[0]
        if plane is None:
            continue
        shown = cv2.perspectiveTransform(flat[None], plane)[0]
        missed = np.hypot(*(shown - straight).T).reshape(count, 4)
        agree = np.sum(missed < tolerance_px, axis=1) >= 3
        if not agree.any():
            continue
        typical = float(np.sqrt(np.mean(np.minimum(missed[agree], tolerance_px) ** 2)))
        if (agree.sum(), -typical) > (best[0], -best[1]) or best[0] == 0:
            best = (int(agree.sum()), typical, agree, k1)
        if agree.all() and typical < _WELL * tolerance_px:
            break
    return best[2], best[3]


def fit_camera(
    page_mm: Array,
    photo_px: Array,
    paper_mm: tuple[float, float],
    frame_px: tuple[int, int],
    k1: float = 0.0,
) -> CameraFit:
    """Fit the camera to mark corners by least squares with limits on what is usual.

    The paper is taken to be flat, somewhat curled or much curled, whichever explains the marks
    best for the freedom that it takes (evidence in Laplace's approximation), so that curl is not
    made up out of a few noisy marks.

    Parameters
    ----------
    page_mm, photo_px : (n, 4, 2)
        Mark corners on the page (mm) and in the photo (pixels). A few may be wrong.
    paper_mm : (float, float)
        Page width and height, mm.
    frame_px : (int, int)
        Height and width of the photo.
    k1 : float
        The lens bend to start from.

    Returns
    -------
    CameraFit
        The camera, and which marks agree with it.
    """
    start = _start(page_mm.reshape(-1, 2), photo_px.reshape(-1, 2), paper_mm, frame_px, k1)
    problem = Problem(page_mm, photo_px, start)
    best, weights = problem.solve(0.0, problem.as_started(), np.ones(4 * len(page_mm)))
    found = [best]
    for curl in _TRIED_CURLS:
        found.append(problem.solve(curl, best.numbers, weights)[0])
        if found[-1].evidence > best.evidence + _CURL_MUST_GAIN:
            best = found[-1]
    missed = np.linalg.norm(problem.shown(best.numbers) - problem.corners_px, axis=1)
    limit = max(6.0 * problem.doubt_px, 5.0 * float(np.median(missed)))
    by_mark = missed.reshape(-1, 4)
    return CameraFit(
        camera=problem.camera(best.numbers),
        missed_px=by_mark,
        corners_agree=by_mark < limit,
        growth=float(best.numbers[GROWTH]),
        doubt_mm=_doubt(problem, best, found),
    )


def _doubt(problem: Problem, best: Solution, found: list[Solution]) -> float:
    """Two standard deviations of the least certain place, over all solutions by their evidence."""
    camera = problem.camera(best.numbers)
    x, y = (np.linspace(15.0, side - 15.0, 5) for side in camera.page_mm)
    grid = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    to_mm = np.linalg.inv(camera.jacobian(grid))
    chosen, _ = problem.places(best.numbers, grid)
    top = max(solution.evidence for solution in found)
    total, squared = 0.0, np.zeros(len(grid))
    for solution in found:
        # Evidence speaks of the marks that are seen; paper may curl where none are.
        share = max(float(np.exp(solution.evidence - top)), _LEAST_SHARE)
        placed, slopes = problem.places(solution.numbers, grid)
        apart = np.concatenate(
            [(placed - chosen)[None], (slopes @ solution.spread).transpose(2, 0, 1)]
        )
        apart_mm = np.einsum("nij,knj->kni", to_mm, apart)
        squared += share * np.sum(apart_mm**2, axis=(0, 2)) / 2.0
        total += share
    return 2.0 * float(np.sqrt(np.max(squared / total)))


def _start(
    corners_mm: Array,
    corners_px: Array,
    paper_mm: tuple[float, float],
    frame_px: tuple[int, int],
    k1: float,
) -> PageCamera:
    """A flat page under each usual focal length: the one that fits best."""
    half = 0.5 * float(np.hypot(*frame_px))
    middle = 0.5 * (np.array(frame_px[::-1]) - 1.0)
    straight = unbend((corners_px - middle) / half, (k1, 0.0))
    flat = np.column_stack([corners_mm - 0.5 * np.asarray(paper_mm), np.zeros(len(corners_mm))])
    best: tuple[float, PageCamera] | None = None
    for focal in TRIED_FOCALS:
        lens = np.diag([focal, focal, 1.0])
        solved = cv2.solvePnPGeneric(flat, straight, lens, None, flags=cv2.SOLVEPNP_IPPE)
        for rotation, position in zip(solved[1], solved[2], strict=True):
            camera = PageCamera(
                frame_px=frame_px,
                page_mm=paper_mm,
                rotation=turn(np.asarray(rotation, dtype=float)),
                position_mm=np.asarray(position, dtype=float).ravel(),
                focal=focal,
                centre=np.zeros(2),
                bend=(k1, 0.0),
                stretch=0.0,
                curl_mm=np.zeros(len(CURL_DEGREES)),
            )
            off = float(np.sum((camera.to_pixels(corners_mm) - corners_px) ** 2))
            if np.isfinite(off) and (best is None or off < best[0]):
                best = (off, camera)
    assert best is not None, "mark corners in a plane always have a pose"
    return best[1]
