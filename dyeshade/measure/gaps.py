"""Pixels within a piece that are not its cloth: paper or card between strands, and glare."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.channels import largest_channel, mean_channel, smallest_channel
from dyeshade.measure.percentiles import median, percentiles
from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Mask = NDArray[np.bool_]

_AROUND_MM = 4.0
_LEAST_TURN = 0.15
_FOREIGN = 0.06
_MOST_REST = 0.5
_RIM_MM = 0.15
_NEAR_MM = 0.4
_BLUR_REACH = 4.5
"""Standard deviations beyond which blurring brings nothing, and a little more."""

_GLARE_TOP = 1.04
_FLOOR = 0.003
_PARTED, _NOT_DARK, _MAJORITY = 1.0, 0.12, 0.45
_SPILL_PX, _SPILL = 1.0, 0.15
_SETTLED = 0.002
"""Once so small a share of the piece changes sides, another round finds the same."""

_ENOUGH = 8000
"""So many pixels tell a percentile as well as all of them."""


@dataclass(frozen=True)
class Gaps:
    """What is left out within a piece.

    Attributes
    ----------
    backing, glare : ndarray of bool, shape (h, w)
    """

    backing: Mask
    glare: Mask


def find_gaps(relative: Picture, core: Mask, paper: Array, px_per_mm: float, shades: Array) -> Gaps:
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
    shades : ndarray, shape (n, 3)
        Means of the piece's main shades; where there is one, the cloth nearby is the measure.
    """
    whole = np.asarray(relative / paper.astype(np.float32), dtype=np.float32)
    sigma, near_sigma = _AROUND_MM * px_per_mm, max(_NEAR_MM * px_per_mm, 1.0)
    reach = max(1, round(_RIM_MM * px_per_mm))
    # All but the light around is found from the piece and what blurring brings to it.
    cut = _cut(core, reach + _BLUR_REACH * max(near_sigma, _SPILL_PX))
    picture, whole_core, core = np.ascontiguousarray(whole[cut]), core, core[cut]
    bright = mean_channel(picture)
    foreign, free = np.zeros_like(core), core
    usable = core.sum()
    for _ in range(3):
        if len(shades) > 1:
            body = _nearest(picture, shades / paper)
        else:
            body = np.ascontiguousarray(_around(whole, _put(free, cut, whole_core), sigma)[cut])
        before = foreign
        foreign, free = _foreign(picture, bright, body, core, core & ~before, reach)
        if (core & ~foreign).sum() < 0.1 * usable or not free.any():
            break
        if (foreign ^ before).sum() < _SETTLED * usable:
            break
    body_bright = mean_channel(body)
    # Gaps lie between dark flanks, glare lies on the lit backs of strands.
    near = _around(bright[..., None], core & ~foreign, near_sigma)[..., 0]
    glare = foreign & ((bright > _GLARE_TOP) | ((near > 1.05 * body_bright) & (bright > 0.25)))
    return Gaps(_put(foreign & ~glare, cut, whole_core), _put(glare, cut, whole_core))


def _cut(core: Mask, margin: float) -> tuple[slice, slice]:
    """Rows and columns that hold a mask, and so much around it."""
    more = int(np.ceil(margin))
    found = []
    for axis, size in ((1, core.shape[0]), (0, core.shape[1])):
        held = np.flatnonzero(core.any(axis=axis))
        if not held.size:
            return slice(None), slice(None)
        found.append(slice(max(0, int(held[0]) - more), min(size, int(held[-1]) + 1 + more)))
    return found[0], found[1]


def _put(part: Mask, cut: tuple[slice, slice], whole: Mask) -> Mask:
    """A part's mask in the size of the whole."""
    mask = np.zeros_like(whole)
    mask[cut] = part
    return mask


def _nearest(picture: Picture, shades: Array) -> Picture:
    """For each pixel the shade whose direction from black is nearest to its own."""
    units = (shades / np.linalg.norm(shades, axis=1, keepdims=True)).astype(np.float32)
    likeness = cv2.transform(np.ascontiguousarray(picture), units)
    best = np.zeros(picture.shape[:2], np.intp)
    for k in range(1, len(shades)):
        best[likeness[..., k] > np.take_along_axis(likeness, best[..., None], -1)[..., 0]] = k
    return np.asarray(shades.astype(np.float32)[best])


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


def _cloth_lights(logs: Picture) -> tuple[float, float]:
    """Usual log light of a piece's cloth, and the most that it may have."""
    if not logs.size:
        return 0.0, np.inf
    dark, usual, high = percentiles(logs, 16, 50, 84)
    return usual, float(usual + max(3.5 * (high - usual), 3.0 * (usual - dark), 0.35))


def _dark_cloth_limit(bright: Picture) -> float:
    """Light beyond which pixels of a dark piece are gaps, however many they are; else infinite.

    Two clearly parted kinds of light, the upper brighter than any dark cloth, are cloth and gaps.
    Cloth has about half at least: the lit backs of strands are more than the shadows between them.
    """
    logs = np.log(np.maximum(bright, _FLOOR))
    lower = logs < _parting(logs)
    if not _MAJORITY < lower.mean() < 1 or median(bright[~lower]) < _NOT_DARK:
        return np.inf
    dark, usual = percentiles(logs[lower], 16, 50)
    apart = median(logs[~lower]) - usual
    if apart < _PARTED:
        return np.inf
    return float(np.exp(usual + min(max(2.0 * (usual - dark), 0.5), 0.6 * apart)))


def _some(values: Picture) -> Picture:
    """Some of many values, evenly spread over the piece."""
    return values[:: max(1, len(values) // _ENOUGH)]


def _parting(values: Picture) -> float:
    """Where to part values in two, so that each part is as narrow as can be (Otsu's method)."""
    counts, edges = np.histogram(values, bins=64)
    middles = 0.5 * (edges[1:] + edges[:-1])
    below = np.cumsum(counts)[:-1].astype(np.float64)
    above = counts.sum() - below
    sums = np.cumsum(counts * middles)
    part = (sums[:-1] / np.maximum(below, 1) - (sums[-1] - sums[:-1]) / np.maximum(above, 1)) ** 2
    return float(edges[1 + int(np.argmax(below * above * part))])


def _around(picture: Picture, weight: Mask, sigma: float) -> Picture:
    """Mean of the weighted pixels nearby, shape of `picture`."""
    # A coarse copy is as good for so soft a mean, and quick.
    step = max(1, int(sigma / 4))
    h, w = weight.shape
    size = (max(1, w // step), max(1, h // step))
    mask = weight.astype(np.float32)
    kept = cv2.copyTo(picture, weight.view(np.uint8))
    sums = cv2.resize(kept, size, interpolation=cv2.INTER_AREA)
    sums = sums.reshape(size[1], size[0], -1)
    counts = cv2.resize(mask, size, interpolation=cv2.INTER_AREA)
    sums = cv2.GaussianBlur(sums, (0, 0), sigma / step).reshape(size[1], size[0], -1)
    counts = cv2.GaussianBlur(counts, (0, 0), sigma / step)
    mean = sums / np.maximum(counts, 1e-4)[..., None]
    grown = cv2.resize(mean, (w, h), interpolation=cv2.INTER_LINEAR)
    return np.asarray(grown.reshape(h, w, -1), dtype=np.float32)


def _foreign(
    picture: Picture, bright: Picture, body: Picture, core: Mask, cloth: Mask, reach_px: int
) -> tuple[Mask, Mask]:
    """Pixels that hold foreign light, and those surely free of it."""
    own = mean_channel(body)
    square = 3 * mean_channel(cv2.multiply(body, body))
    length = np.maximum(np.sqrt(square), _FLOOR)
    # Of neutral light, the part across the cloth's own colour is what that can't give: (1, 1, 1)
    # less `along` times the colour's unit vector, whose own square is `unit`.
    along, unit = 3 * own / length, square / (length * length)
    turn = 3 - (2 - unit) * along * along
    within = 3 * mean_channel(cv2.multiply(picture, body)) / length
    neutral = (3 * bright - along * within) / np.maximum(turn, _LEAST_TURN**2)
    low, middle = percentiles(_some(neutral[cloth]), 16, 50)
    # Gaps swell only the upper half of the spread.
    noise = middle - low
    limit = middle + max(_FOREIGN, 4.0 * noise)
    tellable = turn > _LEAST_TURN**2
    # A second dye is no mixture of the first with neutral light.
    (red, green, blue), seen = cv2.split(body), cv2.split(picture)
    third = seen[0] * (green - blue) + seen[1] * (blue - red) + seen[2] * (red - green)
    size = np.sqrt(np.maximum(3 * unit - along * along, 0)) * length
    rest = np.abs(third) / np.maximum(size, _LEAST_TURN * length)
    mixture = rest < _MOST_REST * neutral
    coloured = tellable & mixture & (neutral > limit) & (bright > 0.6 * own)
    logs = np.log(np.maximum(bright, _FLOOR) / np.maximum(own, _FLOOR))
    parted = core & (bright > _dark_cloth_limit(_some(bright[core])))
    usual, top = _cloth_lights(_some(logs[core & ~parted]))
    pale = (largest_channel(picture) - smallest_channel(picture)) < 0.25 * bright
    outlying = ((logs > top) | parted) & (pale | (mixture & (neutral > 0.5 * _FOREIGN)))
    sure = core & (coloured | outlying)
    # A gap's rim is part strand, part gap: it goes where it still holds some of the gap's light.
    kernel = np.ones((2 * reach_px + 1, 2 * reach_px + 1), np.uint8)
    beside = cv2.dilate(sure.astype(np.uint8), kernel) > 0
    mixed = (tellable & (neutral > middle + max(0.4 * _FOREIGN, 1.5 * noise))) | (
        logs > usual + 0.5 * (top - usual)
    )
    # Beside a bright gap even a dark pixel holds light that the lens has spread.
    expected = own * np.float32(np.exp(min(usual, 0.0)))
    excess = np.where(sure, np.maximum(bright - expected, 0), 0).astype(np.float32)
    spilled = cv2.GaussianBlur(excess, (0, 0), _SPILL_PX)
    mixed |= spilled > _SPILL * expected
    found = sure | (core & beside & mixed)
    free = core & ~found & (~tellable | (neutral < middle + 0.5 * noise))
    return np.asarray(found, dtype=np.bool_), np.asarray(free, dtype=np.bool_)
