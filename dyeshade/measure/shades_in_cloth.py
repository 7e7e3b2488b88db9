"""The main shades of a piece that has several: dipped, striped, or wound of two yarns."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import xyz_to_lab
from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.measure.blocks import Masked
from dyeshade.measure.percentiles import median, percentiles

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Mask = NDArray[np.bool_]

LEAST_APART = 7.0
"""Euclidean distance in CIELAB below which two parts of a piece count as one shade; lightness
counts half, since shadow and crease change it too."""

LEAST_SHARE = 0.06

_LEAST_CLEFT = 4.4
"""Distance of the two middles over the spread within each: 3.5 for an even slope from one colour
to the other, 6 and more for two dye baths."""

_LEAST_VARIANCE = LEAST_SHARE * (1 - LEAST_SHARE) * LEAST_APART**2
"""Two parts so far apart, however small the one, have so much between them alone."""

_MOST_SHADES = 3
_BORDER_SHARE = 0.2
_LIGHTNESS_WEIGHT = 0.5


def main_shades(relative: Picture, mask: Mask) -> tuple[tuple[Array, float], ...]:
    """Split a piece by colour where it has clearly several.

    Parameters
    ----------
    relative : ndarray, shape (h, w, 3)
        Linear light, in primaries near sRGB's.
    mask : ndarray of bool, shape (h, w)

    Returns
    -------
    tuple of (mean (3,), share)
        Largest share first; one entry for a piece of one colour. Linear means.
    """
    masked = Masked(relative, mask)
    # Strands and their shadows must vanish within a block: a twentieth of the piece, 2 mm or so.
    block = max(2.0, np.sqrt(masked.count) / 20)
    sums, counts = masked.blocks(block)
    whole = np.asarray(sums.sum(axis=0) / counts.sum())
    full = counts > 0.3 * block**2
    values, weights = sums[full] / counts[full, None], counts[full]
    if len(values) < 12:
        return ((whole, 1.0),)
    labels = _split(_perceived(values), weights, _MOST_SHADES)
    if labels.max() == 0:
        return ((whole, 1.0),)
    found = []
    for label in range(labels.max() + 1):
        own = labels == label
        weight = weights[own]
        # The median block stands for a shade: those across the border are mixed.
        middle = np.median(values[own], axis=0)
        near = np.linalg.norm(_perceived(values[own]) - _perceived(middle), axis=1)
        inner = near <= np.quantile(near, 0.85)
        mean = (values[own][inner] * weight[inner, None]).sum(axis=0) / weight[inner].sum()
        found.append((mean, float(weight.sum() / weights.sum())))
    return tuple(sorted(_without_border(found), key=lambda shade: -shade[1]))


def _without_border(found: list[tuple[Array, float]]) -> list[tuple[Array, float]]:
    """Without a third shade that is only the border of the two others, seen unsharp."""
    if len(found) < 3:
        return found
    (a, share_a), (b, share_b), (third, share) = sorted(found, key=lambda shade: -shade[1])
    along = b - a
    part = float((third - a) @ along / (along @ along))
    away = float(np.linalg.norm(_perceived(a + part * along) - _perceived(third)))
    if share > _BORDER_SHARE or not 0.1 < part < 0.9 or away > 0.5 * LEAST_APART:
        return found
    return [(a, share_a + (1 - part) * share), (b, share_b + part * share)]


def _perceived(values: Array) -> Array:
    lab = xyz_to_lab(0.88 * np.maximum(values, 0.0) @ SRGB.to_xyz.T)
    lab[..., 0] *= _LIGHTNESS_WEIGHT
    return lab


def _split(points: Array, weights: Array, most: int) -> NDArray[np.intp]:
    """Labels of clusters: split the widest in two as long as a cleft is seen."""
    labels = np.zeros(len(points), dtype=np.intp)
    for _ in range(most - 1):
        done = True
        for label in np.unique(labels):
            own = np.nonzero(labels == label)[0]
            second = _two(points[own], weights[own], weights.sum())
            if second is not None:
                labels[own[second]] = labels.max() + 1
                done = False
                break
        if done:
            break
    return labels


def _mean(points: Array, weights: Array) -> Array:
    return np.asarray(weights @ points / weights.sum())


def _two(points: Array, weights: Array, total: float) -> Mask | None:
    """Which points belong to the second of two clusters, or None for a single one."""
    if len(points) < 12:
        return None
    middle = _mean(points, weights)
    away = points - middle
    if np.vdot(weights, (away * away).sum(axis=1)) < _LEAST_VARIANCE * weights.sum():
        return None
    axis = np.linalg.eigh(away.T @ away)[1][:, -1]
    along = away @ axis
    second = np.asarray(along > 0.5 * sum(percentiles(along, 3, 97)))
    for _ in range(10):
        if second.all() or not second.any():
            return None
        a = _mean(points[~second], weights[~second])
        b = _mean(points[second], weights[second])
        nearer = (points - 0.5 * (a + b)) @ (b - a) > 0.0
        if (nearer == second).all():
            break
        second = nearer
    share = weights[second].sum() / total
    least = min(share, weights[~second].sum() / total)
    if second.all() or not second.any() or least < LEAST_SHARE:
        return None
    apart = float(np.linalg.norm(b - a))
    towards = (b - a) / max(apart, 1e-9)
    # Spread by the middle absolute deviation: blocks across the border don't count.
    spreads = [
        1.4826 * median(np.abs(t - median(t)))
        for t in (points[~second] @ towards, points[second] @ towards)
    ]
    within = float(np.hypot(spreads[0], spreads[1]) / np.sqrt(2))
    if apart < LEAST_APART or apart < _LEAST_CLEFT * within:
        return None
    return second
