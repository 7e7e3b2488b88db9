"""Mark edges at full resolution: corners to a fraction of a pixel, and how sharp the photo is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from dyeshade.sheet.camera import Array
from dyeshade.sheet.interpolate import values_at

MODULES = 7
"""Modules along a mark's side: five of code and a black one on either side."""

_ALONG = np.linspace(0.1, 0.9, 17)
_REACH = 0.85
_STEPS = 35
_LIGHT = 255.0 * (np.arange(256) / 255.0) ** 2.2
"""Of coded values, roughly as cameras code them."""


@dataclass(frozen=True)
class Edges:
    """What the edges of a photo's marks tell.

    Attributes
    ----------
    corners : ndarray (n, 4, 2)
        Refined corners, pixels with pixel centres at integers.
    width_px : ndarray (n,)
        Width of each mark's edges, pixels: the step's height over its steepest slope, for the
        less sharp of the two directions. A sharp photo has 1.5 to 3.
    """

    corners: Array
    width_px: Array


def refine(grey: npt.NDArray[np.uint8], corners: Array) -> Edges:
    """Refine mark corners by straight lines through the edges around them.

    Parameters
    ----------
    grey : (h, w) uint8
        The photo's luma at full resolution.
    corners : (n, 4, 2)
        Corners in the mark's own order, good to half a module.

    Returns
    -------
    Edges
        Corners (an edge that cannot be followed keeps its first guess) and edge widths.
    """
    refined = np.array(corners, dtype=float)
    width = np.zeros(len(refined))
    if len(refined) == 0:
        return Edges(refined, width)
    for _ in range(2):
        refined, width = _once(grey, refined)
    return Edges(refined, width)


def _once(grey: npt.NDArray[np.uint8], corners: Array) -> tuple[Array, Array]:
    begin, end = corners, np.roll(corners, -1, axis=1)
    run = end - begin
    length = np.linalg.norm(run, axis=-1, keepdims=True)
    outward = np.stack([run[..., 1], -run[..., 0]], axis=-1) / length
    # Foreshortening: a module is as deep as the neighbouring edges make it.
    across = 0.5 * (np.roll(length, 1, axis=1) + np.roll(length, -1, axis=1))
    module = across / MODULES
    offsets = np.linspace(-_REACH, _REACH, _STEPS)
    on_edge = begin[:, :, None] + _ALONG[:, None] * run[:, :, None]
    points = on_edge[:, :, :, None] + offsets[:, None] * (module * outward)[:, :, None, None]
    profiles = _sample(grey, points)
    inner, outer = profiles[..., :5].mean(-1), profiles[..., -5:].mean(-1)
    contrast = outer - inner
    usable = contrast > np.maximum(3.0, 0.4 * np.median(contrast, axis=(1, 2), keepdims=True))
    safe = np.where(usable, contrast, 1.0)
    # The edge by area rather than by crossing: noise averages out, blur does not move it.
    dark = (outer[..., None] - profiles) / safe[..., None]
    shift = -_REACH + (2.0 * _REACH) * np.clip(dark, -0.5, 1.5).mean(axis=-1)
    usable &= np.abs(shift) < 0.6
    intercept, slope, good = _lines(shift, usable)
    intercept, slope = np.where(good, intercept, 0.0), np.where(good, slope, 0.0)
    deep = module[..., 0]
    first = begin + (intercept * deep)[..., None] * outward
    last = end + ((intercept + slope) * deep)[..., None] * outward
    return _cross(first, last, corners), _width(profiles, usable, inner, outer, deep)


def _lines(shift: Array, usable: npt.NDArray[np.bool_]) -> tuple[Array, Array, Array]:
    """Robust straight lines through (n, 4, along) shifts: intercept, slope, whether to trust."""
    middle = _ALONG - 0.5
    weight = usable.astype(float)
    offset = np.zeros(shift.shape[:2])
    slope = np.zeros(shift.shape[:2])
    for _ in range(5):
        total = weight.sum(-1) + 1e-9
        mean_t = (weight * middle).sum(-1) / total
        mean_s = (weight * shift).sum(-1) / total
        t = middle - mean_t[..., None]
        slope = (weight * t * shift).sum(-1) / ((weight * t * t).sum(-1) + 0.02)
        offset = mean_s - slope * mean_t
        miss = shift - offset[..., None] - slope[..., None] * middle
        weight = usable / (1.0 + (miss / 0.06) ** 2)
    good = (weight.sum(-1) > 0.35 * len(_ALONG)) & (np.abs(slope) < 0.8)
    return offset - 0.5 * slope, slope, good


def _cross(first: Array, last: Array, fallback: Array) -> Array:
    """Corners as crossings of each edge's line with the line of the edge before it."""
    run = last - first
    before_first, before_run = np.roll(first, 1, axis=1), np.roll(run, 1, axis=1)
    area = run[..., 0] * before_run[..., 1] - run[..., 1] * before_run[..., 0]
    gap = before_first - first
    flat = np.abs(area) < 1e-6
    share = (gap[..., 0] * before_run[..., 1] - gap[..., 1] * before_run[..., 0]) / np.where(
        flat, 1.0, area
    )
    crossing = first + share[..., None] * run
    return np.where(flat[..., None], fallback, crossing)


def _width(
    profiles: Array, usable: npt.NDArray[np.bool_], inner: Array, outer: Array, deep: Array
) -> Array:
    """Edge widths in pixels (n,), from the mean profile of each edge."""
    weight = usable.astype(float)
    count = weight.sum(-1)
    some = np.maximum(count, 1.0)
    mean = (profiles * weight[..., None]).sum(-2) / some[..., None]
    height = ((outer - inner) * weight).sum(-1) / some
    step_px = 2.0 * _REACH * deep / (_STEPS - 1)
    steepest = (mean[..., 2:] - mean[..., :-2]).max(-1) / (2.0 * step_px)
    width = np.where(count >= 6, height / np.maximum(steepest, 1e-3), np.nan)
    pairs = np.stack([width[:, 0::2], width[:, 1::2]], axis=1)
    known = np.isfinite(pairs)
    sums = np.where(known, pairs, 0.0).sum(-1) / np.maximum(known.sum(-1), 1)
    return np.asarray(sums.max(-1), dtype=float)


def _sample(grey: npt.NDArray[np.uint8], points: Array) -> Array:
    """Rough linear light (0..255) at (n, ..., 2) pixel points, straight between pixels.

    Linear because blur acts in linear light: in coded values its middle is not the edge.
    """
    values = values_at(grey, points.reshape(len(points), -1, 2))
    return np.asarray(_LIGHT.take(values.reshape(points.shape[:-1])))
