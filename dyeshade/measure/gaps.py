"""Pixels within a piece that are not its cloth: paper or card between strands, and glare."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Mask = NDArray[np.bool_]

_AROUND_MM = 4.0
_LEAST_TURN = 0.15
_FOREIGN = 0.06
_GLARE_TOP = 1.04
_FLOOR = 0.003


@dataclass(frozen=True)
class Gaps:
    """What is left out within a piece.

    Attributes
    ----------
    backing, glare : ndarray of bool, shape (h, w)
    """

    backing: Mask
    glare: Mask


def find_gaps(relative: Picture, core: Mask, paper: Array, px_per_mm: float) -> Gaps:
    """Find paper or card that shows between strands, and glare.

    A pixel is taken as cloth in more or less light plus some neutral light. Neutral light beyond
    what the cloth around has, in a pixel brighter than the cloth's shadows, comes from what lies
    behind or from the lamp.

    Parameters
    ----------
    relative : ndarray, shape (h, w, 3)
    core : ndarray of bool, shape (h, w)
        The piece without its edge.
    paper : ndarray, shape (3,)
    px_per_mm : float
    """
    picture = relative / paper.astype(np.float32)
    bright = picture.mean(axis=-1)
    sigma = _AROUND_MM * px_per_mm
    foreign = np.zeros_like(core)
    for _ in range(3):
        body = _around(picture, core & ~foreign, sigma)
        found = _foreign(picture, bright, body, core, core & ~foreign)
        if (found == foreign).all():
            break
        foreign = found
    body_bright = body.mean(axis=-1)
    # Gaps lie between dark flanks, glare lies on the lit backs of strands.
    near = _around(bright[..., None], core & ~foreign, max(0.4 * px_per_mm, 1.0))[..., 0]
    glare = foreign & ((bright > _GLARE_TOP) | ((near > 1.05 * body_bright) & (bright > 0.25)))
    return Gaps(foreign & ~glare, glare)


def region_glare(reflectance: Picture, core: Mask) -> Mask:
    """Clear glare in a region of unknown scale: far above the cloth's own lights, and neutral."""
    values = np.log(np.maximum(reflectance[core].mean(axis=-1), _FLOOR))
    low, middle, high = np.percentile(values, [16, 50, 84])
    limit = middle + max(3.5 * (high - middle), 3.5 * (middle - low), 0.5)
    bright = np.log(np.maximum(reflectance.mean(axis=-1), _FLOOR)) > limit
    spread = reflectance.max(axis=-1) / np.maximum(reflectance.min(axis=-1), _FLOOR)
    own = reflectance[core].mean(axis=0)
    neutral = spread < max(1.2, 0.8 * float(own.max() / max(float(own.min()), _FLOOR)))
    glare = bright & neutral & core
    # Larger patches than a tenth are a second colour of the cloth rather than glare.
    return glare if glare.sum() < 0.1 * core.sum() else np.zeros_like(core)


def _around(picture: Picture, weight: Mask, sigma: float) -> Picture:
    """Mean of the weighted pixels nearby, shape of `picture`."""
    # A coarse copy is as good for so soft a mean, and quick.
    step = max(1, int(sigma / 4))
    h, w = weight.shape
    size = (max(1, w // step), max(1, h // step))
    mask = weight.astype(np.float32)
    sums = cv2.resize(picture * mask[..., None], size, interpolation=cv2.INTER_AREA)
    sums = sums.reshape(size[1], size[0], -1)
    counts = cv2.resize(mask, size, interpolation=cv2.INTER_AREA)
    sums = cv2.GaussianBlur(sums, (0, 0), sigma / step).reshape(size[1], size[0], -1)
    counts = cv2.GaussianBlur(counts, (0, 0), sigma / step)
    mean = sums / np.maximum(counts, 1e-4)[..., None]
    grown = cv2.resize(mean, (w, h), interpolation=cv2.INTER_LINEAR)
    return np.asarray(grown.reshape(h, w, -1), dtype=np.float32)


def _foreign(picture: Picture, bright: Picture, body: Picture, core: Mask, cloth: Mask) -> Mask:
    own = body.mean(axis=-1)
    unit = body / np.maximum(np.linalg.norm(body, axis=-1, keepdims=True), _FLOOR)
    # The part of neutral light that the cloth's own colour can't give.
    across = 1 - unit.sum(axis=-1, keepdims=True) * unit
    turn = (across**2).sum(axis=-1)
    neutral = (picture * across).sum(axis=-1) / np.maximum(turn, _LEAST_TURN**2)
    noise = _spread(neutral[cloth])
    coloured = (turn > _LEAST_TURN**2) & (neutral > np.maximum(_FOREIGN, 3.5 * noise))
    coloured &= bright > 0.6 * own
    logs = np.log(np.maximum(bright, _FLOOR) / np.maximum(own, _FLOOR))
    values = logs[cloth]
    low, middle, high = np.percentile(values, [16, 50, 84]) if values.size else (0.0, 0.0, 0.0)
    limit = middle + max(3.5 * (high - middle), 3.0 * (middle - low), 0.35)
    spread = picture.max(axis=-1) - picture.min(axis=-1)
    pale = spread < 0.25 * bright
    outlying = (logs > limit) & (pale | (neutral > 0.5 * _FOREIGN))
    return np.asarray(core & (coloured | outlying), dtype=np.bool_)


def _spread(values: Picture) -> float:
    if not values.size:
        return 0.0
    return 1.4826 * float(np.median(np.abs(values - np.median(values))))
