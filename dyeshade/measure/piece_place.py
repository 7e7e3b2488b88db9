"""Where in a cell the piece lies: by texture, colour and darkness."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.channels import (
    at_least,
    channel_spread,
    largest_channel,
    mean_channel,
    scaled_channels,
    smallest_channel,
)
from dyeshade.measure.percentiles import median, percentiles
from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Mask = NDArray[np.bool_]

LINE_MM = 0.7
"""Along the cell's border its printed line may show; nothing is looked for there."""

LEAST_TEXTURE = 0.022
"""Spread of log light at the scale of threads; paper has 0.01 and less, felt 0.03 and more (from
renders, 3 to 10 pixels a millimetre)."""

LEAST_COLOUR = 0.09
"""Spread of log ratios of the channels beyond which it is no paper: shadowed paper takes the tint
of the sky, some 0.05."""

DARKEST_SHADOW = 0.26
"""Bare paper in the deepest shadow beside a piece keeps more of its light than this."""

LEAST_PIECE_MM2 = 25.0

_DIM, _EVEN = 0.8, 0.85
_BACKING_TEXTURE = 0.28
_WIDEST_CARD_MM = 7.0
_JOIN_MM = 1.5
_TONGUE_MM = 1.3
_FLOOR = 0.003
_LEAST_BLUR_PX = 0.5


@dataclass(frozen=True)
class PiecePlace:
    """A piece in its cell.

    Attributes
    ----------
    filled : ndarray of bool, shape (h, w)
        The piece with the gaps between its strands.
    paper : ndarray, shape (3,)
        Bare paper in this cell; ones where none is in sight.
    over_edge : bool
        It reaches beyond the cell on one side at least, but not on all.
    white_unsure : bool
        It is about as light as the paper, has no colour and little texture.
    """

    filled: Mask
    paper: Array
    over_edge: bool
    white_unsure: bool


def find_piece(relative: Picture, px_per_mm: float, noise: float) -> PiecePlace | None:
    """The largest piece near the middle of a straightened cell, or None.

    Parameters
    ----------
    relative : ndarray, shape (h, w, 3), float32
        Bare paper is about 1.
    px_per_mm : float
    noise : float
        Relative spread of the sheet's greys about their fit.
    """
    border = round(LINE_MM * px_per_mm)
    # Threads show in the finest pixels alone; where they are, and colours, show at half as many.
    inner = _even(relative[border:-border, border:-border])
    inner = at_least(inner, _FLOOR)
    texture = texture_of(inner, px_per_mm)
    px_per_mm /= 2
    soft = _blurred(_halved(inner), max(0.25 * px_per_mm, _LEAST_BLUR_PX))
    bright = mean_channel(soft)
    paper = _paper(soft, bright, texture)
    logs = np.log(scaled_channels(soft, 1.0 / paper))
    colour = channel_spread(logs)
    least = max(LEAST_TEXTURE, 2.0 * percentiles(texture, 2)[0])
    least = min(least, 2.0 * LEAST_TEXTURE)
    threads = _without_tongues(texture > least, px_per_mm)
    tinted = (colour > max(LEAST_COLOUR, 3 * noise)) | (bright < DARKEST_SHADOW)
    tinted &= bright < 1.5
    seen = threads | _without_tongues(tinted, px_per_mm)
    seen &= ~_clearly_paper(bright, float(paper.mean()), seen, tinted, px_per_mm)
    seen = _without_backing(seen, texture, least, px_per_mm)
    chosen = _chosen(seen, px_per_mm)
    if chosen is None:
        if not _even_and_dim(bright):
            return None
        # No shadow is so even from border to border: smooth cloth behind a cut-out cell.
        chosen = np.ones(bright.shape, dtype=np.bool_)
    light = float(bright[chosen].mean())
    weak = median(texture[chosen]) < 2.2 * least
    pale = median(colour[chosen]) < LEAST_COLOUR and light > 0.75
    if weak and pale:
        # Of a white piece that is hardly seen, what lies between the parts seen is piece, too.
        chosen = _hull(chosen)
    edges = [chosen[0].mean(), chosen[-1].mean(), chosen[:, 0].mean(), chosen[:, -1].mean()]
    reaching = sum(float(edge) > 0.1 for edge in edges)
    filled = _spread(chosen, border, relative.shape[:2])
    return PiecePlace(filled, paper, 0 < reaching < 4, bool(weak and pale))


def texture_of(picture: Picture, px_per_mm: float) -> Picture:
    """Spread of log light at the scale of threads (0.1 to 1 mm), pixel noise left out.

    Parameters
    ----------
    picture : ndarray, shape (2 h, 2 w, 3), float32
    px_per_mm : float

    Returns
    -------
    ndarray, shape (h, w), float32
    """
    light = np.log(mean_channel(picture))
    fine = _blurred(light, max(0.12 * px_per_mm, 0.8))
    coarse = _blurred(_halved(light), 0.5 * px_per_mm)
    away = fine - cv2.resize(coarse, fine.shape[::-1], interpolation=cv2.INTER_LINEAR)
    return np.sqrt(_blurred(_halved(away * away), 0.4 * px_per_mm))


def _blurred(picture: Picture, sigma_px: float) -> Picture:
    return np.asarray(cv2.GaussianBlur(picture, (0, 0), sigma_px), np.float32)


def _even(picture: Picture) -> Picture:
    """A picture without its last row or column where their number is odd."""
    height, width = picture.shape[:2]
    return np.ascontiguousarray(picture[: height - height % 2, : width - width % 2])


def _halved(picture: Picture) -> Picture:
    """Means of squares of four pixels."""
    height, width = picture.shape[:2]
    size = width // 2, height // 2
    return np.asarray(cv2.resize(picture, size, interpolation=cv2.INTER_AREA), np.float32)


def _spread(mask: Mask, border: int, size: tuple[int, int]) -> Mask:
    """A mask at half the pixels in all of a picture's, its edges drawn out over the border."""
    wide = 2 * mask.shape[1], 2 * mask.shape[0]
    soft = cv2.resize(mask.view(np.uint8) * np.uint8(255), wide, interpolation=cv2.INTER_LINEAR)
    more = size[0] - border - wide[1], size[1] - border - wide[0]
    edges = border, more[0], border, more[1]
    return np.asarray(cv2.copyMakeBorder(soft, *edges, cv2.BORDER_REPLICATE) > 127)


def _even_and_dim(bright: Picture) -> bool:
    low, middle, high = percentiles(bright, 2, 50, 98)
    return bool(middle < _DIM and low > _EVEN * high)


def _paper(soft: Picture, bright: Picture, texture: Picture) -> Array:
    spread = largest_channel(soft) / smallest_channel(soft)
    bare = (texture < LEAST_TEXTURE) & (spread < 1.1) & (bright > 0.85) & (bright < 1.2)
    if bare.mean() < 0.02:
        return np.ones(3)
    return np.array([median(soft[..., channel][bare]) for channel in range(3)])


def _without_tongues(mask: Mask, px_per_mm: float) -> Mask:
    """Without what is thinner than 2.6 mm: hairs, yarn ends, edges of card and shadow."""
    joined = _closed(mask, 0.5 * px_per_mm)
    depth = cv2.distanceTransform(joined.astype(np.uint8), cv2.DIST_L2, 3)
    deep = depth > _TONGUE_MM * px_per_mm
    away = cv2.distanceTransform((~deep).astype(np.uint8), cv2.DIST_L2, 3)
    return np.asarray((away <= _TONGUE_MM * px_per_mm) & joined, dtype=np.bool_)


def _closed(mask: Mask, radius_px: float) -> Mask:
    radius = max(1, round(radius_px))
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * radius + 1, 2 * radius + 1))
    padded = np.pad(mask.astype(np.uint8), radius, mode="edge")
    closed = cv2.morphologyEx(padded, cv2.MORPH_CLOSE, kernel)
    return np.asarray(closed[radius:-radius, radius:-radius] > 0, dtype=np.bool_)


def _clearly_paper(
    bright: Picture, paper: float, seen: Mask, tinted: Mask, px_per_mm: float
) -> Mask:
    """Paper within the halo that texture has around a piece: as bright as paper, no colour."""
    if not seen.any():
        return seen
    body = median(bright[seen])
    limit = max(0.72, 0.5 * (body + 1.0))
    halo = (bright > limit * paper) & ~tinted
    if body > 0.7:
        # A white piece: its own threads are as bright as paper, so only its rim is peeled off.
        core = cv2.distanceTransform(seen.astype(np.uint8), cv2.DIST_L2, 3) > 1.2 * px_per_mm
        halo &= ~core
    return np.asarray(halo, dtype=np.bool_)


def _without_backing(seen: Mask, texture: Picture, least: float, px_per_mm: float) -> Mask:
    """Leave out smooth card beside threads; where most is smooth, that is the piece as well."""
    if not seen.any():
        return seen
    usual = percentiles(texture[seen], 60)[0]
    threaded = seen & (texture > max(least, _BACKING_TEXTURE * usual))
    if threaded.sum() <= 0.25 * seen.sum():
        return seen
    # A piece lifted out of focus has threads to see at its edge alone: its middle is no card.
    smooth = (seen & ~threaded).astype(np.uint8)
    deep = cv2.distanceTransform(smooth, cv2.DIST_L2, 3) > _WIDEST_CARD_MM / 2 * px_per_mm
    if deep.any():
        away = cv2.distanceTransform((~deep).astype(np.uint8), cv2.DIST_L2, 3)
        middle = (smooth > 0) & (away <= 0.6 * _WIDEST_CARD_MM * px_per_mm)
        if middle.sum() > 0.5 * threaded.sum():
            threaded |= middle
    return threaded


def _hull(mask: Mask) -> Mask:
    points = cv2.findNonZero(mask.astype(np.uint8))
    filled = cv2.fillConvexPoly(np.zeros(mask.shape, np.uint8), cv2.convexHull(points), 1)
    return np.asarray(filled > 0, dtype=np.bool_)


def _chosen(seen: Mask, px_per_mm: float) -> Mask | None:
    joined = _closed(seen, _JOIN_MM * px_per_mm)
    count, labels, stats, centres = cv2.connectedComponentsWithStats(joined.astype(np.uint8))
    if count < 2:
        return None
    middle = np.array([seen.shape[1], seen.shape[0]]) / 2
    away = np.linalg.norm((centres[1:] - middle) / middle, axis=1)
    area = stats[1:, cv2.CC_STAT_AREA]
    best = int(np.argmax(area * np.exp(-1.5 * away))) + 1
    if stats[best, cv2.CC_STAT_AREA] < LEAST_PIECE_MM2 * px_per_mm**2:
        return None
    chosen = (labels == best).astype(np.uint8)
    contours, _ = cv2.findContours(chosen, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    cv2.drawContours(chosen, contours, -1, 1, cv2.FILLED)
    return np.asarray(chosen > 0, dtype=np.bool_)
