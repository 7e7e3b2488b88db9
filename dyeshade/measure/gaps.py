"""Pixels within a piece that are not its cloth: paper or card between strands, and glare."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.channels import (
    channel_spread,
    mean_channel,
    scaled_channels,
    sum_of_products,
)
from dyeshade.measure.cloth_around import (
    FLOOR,
    ClothAround,
    cloth_nearby,
    cloth_of_shades,
    mean_nearby,
)
from dyeshade.measure.percentiles import median, percentiles
from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Mask = NDArray[np.bool_]

_AROUND_MM = 4.0
_FOREIGN = 0.06
_MOST_REST = 0.5
_RIM_MM = 0.15
_NEAR_MM = 0.4
_BLUR_REACH = 4.5
"""Standard deviations beyond which blurring brings nothing, and a little more."""

_GLARE_TOP = 1.04
_PARTED, _NOT_DARK, _MAJORITY = 1.0, 0.12, 0.45
_SPILL_PX, _SPILL = 1.0, 0.15
_SETTLED = 0.005
"""Once so small a share of the piece changes sides, another round finds the same."""

_PARTING_BINS = 64
_ENOUGH = 4000
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
    sigma, near_sigma = _AROUND_MM * px_per_mm, max(_NEAR_MM * px_per_mm, 1.0)
    reach = max(1, round(_RIM_MM * px_per_mm))
    # All is found from the piece and what blurring brings to it.
    cut = _cut(core, reach + _BLUR_REACH * max(near_sigma, _SPILL_PX))
    whole_core, core = core, np.ascontiguousarray(core[cut])
    picture = scaled_channels(np.ascontiguousarray(relative[cut]), 1.0 / paper)
    light = _PieceLight(picture, core, reach)
    foreign, free = np.zeros_like(core), core
    usable = core.sum()
    cloth = cloth_of_shades(light.picture, shades / paper) if len(shades) > 1 else None
    for _ in range(3):
        body = cloth or cloth_nearby(light.picture, free, sigma)
        before = foreign
        foreign, free = light.foreign(body, before)
        if (core & ~foreign).sum() < 0.1 * usable or not free.any():
            break
        if (foreign ^ before).sum() < _SETTLED * usable:
            break
    # Gaps lie between dark flanks, glare lies on the lit backs of strands.
    near = mean_nearby(light.bright, core & ~foreign, near_sigma)
    lit = (near > 1.05 * body.own) & (light.bright > 0.25)
    glare = foreign & ((light.bright > _GLARE_TOP) | lit)
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


def region_glare(reflectance: Picture, core: Mask) -> Mask:
    """Clear glare in a region of unknown scale: far above the cloth's own lights, and neutral."""
    values = np.log(np.maximum(reflectance[core].mean(axis=-1), FLOOR))
    low, middle, high = np.percentile(values, [16, 50, 84])
    limit = middle + max(3.5 * (high - middle), 3.5 * (middle - low), 0.5)
    bright = np.log(np.maximum(reflectance.mean(axis=-1), FLOOR)) > limit
    spread = reflectance.max(axis=-1) / np.maximum(reflectance.min(axis=-1), FLOOR)
    own = reflectance[core].mean(axis=0)
    neutral = spread < max(1.2, 0.8 * float(own.max() / max(float(own.min()), FLOOR)))
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
    logs = np.log(np.maximum(bright, FLOOR))
    lower = logs < _parting(logs)
    if not _MAJORITY < lower.mean() < 1 or median(bright[~lower]) < _NOT_DARK:
        return np.inf
    dark, usual = percentiles(logs[lower], 16, 50)
    apart = median(logs[~lower]) - usual
    if apart < _PARTED:
        return np.inf
    return float(np.exp(usual + min(max(2.0 * (usual - dark), 0.5), 0.6 * apart)))


def _parting(values: Picture) -> float:
    """Where to part values in two, so that each part is as narrow as can be (Otsu's method)."""
    least, most = float(values.min()), float(values.max())
    if most == least:
        return least
    scale = np.float32(_PARTING_BINS / (most - least))
    which = ((values - np.float32(least)) * scale).astype(np.intp)
    counts = np.bincount(np.minimum(which, _PARTING_BINS - 1), minlength=_PARTING_BINS)
    middles = least + (np.arange(_PARTING_BINS) + 0.5) / scale
    below = np.cumsum(counts)[:-1].astype(np.float64)
    above = counts.sum() - below
    sums = np.cumsum(counts * middles)
    part = (sums[:-1] / np.maximum(below, 1) - (sums[-1] - sums[:-1]) / np.maximum(above, 1)) ** 2
    return least + (1 + int(np.argmax(below * above * part))) / float(scale)


class _PieceLight:
    """The light of a piece, and what of it is foreign, by one or the other colour of its cloth.

    Parameters
    ----------
    picture : ndarray, shape (h, w, 3), float32
        Linear light as a share of the paper's.
    core : ndarray of bool, shape (h, w)
    reach_px : int
        Half the width of a gap's rim.
    """

    def __init__(self, picture: Picture, core: Mask, reach_px: int) -> None:
        self.picture, self.bright = picture, mean_channel(picture)
        self._core = core
        self._rim = np.ones((2 * reach_px + 1, 2 * reach_px + 1), np.uint8)
        held = np.flatnonzero(core)
        # Some of its pixels, evenly spread over it.
        self._some = held[:: max(1, len(held) // _ENOUGH)]
        limit = _dark_cloth_limit(self.bright.ravel()[self._some])
        self._parted = core & (self.bright > limit)
        self._pale = channel_spread(picture) < 0.25 * self.bright
        self._logs = np.log(np.maximum(self.bright, FLOOR))

    def foreign(self, cloth: ClothAround, before: Mask) -> tuple[Mask, Mask]:
        """Pixels that hold foreign light, and those surely free of it.

        Parameters
        ----------
        cloth : ClothAround
        before : ndarray of bool, shape (h, w)
            Those that the round before found to hold foreign light.
        """
        core, bright, own = self._core, self.bright, cloth.own
        neutral = sum_of_products(self.picture, cloth.across)
        third = sum_of_products(self.picture, cloth.beside)
        low, middle = percentiles(self._some_of(neutral, before), 16, 50)
        # Gaps swell only the upper half of the spread.
        noise = middle - low
        limit = middle + max(_FOREIGN, 4.0 * noise)
        tellable = cloth.tellable
        mixture = np.abs(third) < _MOST_REST * neutral
        coloured = tellable & mixture & (neutral > limit) & (bright > 0.6 * own)
        logs = self._logs - np.log(np.maximum(own, FLOOR))
        usual, top = _cloth_lights(self._some_of(logs, self._parted))
        outlying = (logs > top) | self._parted
        outlying &= self._pale | (mixture & (neutral > 0.5 * _FOREIGN))
        sure = core & (coloured | outlying)
        # A gap's rim is part strand, part gap: it goes where it still holds some of its light.
        beside = cv2.dilate(sure.view(np.uint8), self._rim).view(np.bool_)
        mixed = (tellable & (neutral > middle + max(0.4 * _FOREIGN, 1.5 * noise))) | (
            logs > usual + 0.5 * (top - usual)
        )
        # Beside a bright gap even a dark pixel holds light that the lens has spread.
        expected = own * np.float32(np.exp(min(usual, 0.0)))
        excess = cv2.copyTo(np.maximum(bright - expected, 0), sure.view(np.uint8))
        mixed |= cv2.GaussianBlur(excess, (0, 0), _SPILL_PX) > _SPILL * expected
        found = sure | (core & beside & mixed)
        free = core & ~found & (~tellable | (neutral < middle + 0.5 * noise))
        return np.asarray(found, dtype=np.bool_), np.asarray(free, dtype=np.bool_)

    def _some_of(self, values: Picture, without: Mask) -> Picture:
        """Some of the piece's values, but none of these pixels."""
        return values.ravel()[self._some[~without.ravel()[self._some]]]
