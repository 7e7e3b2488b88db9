"""A photo's light with the camera's tone curve undone, region by region."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.grey_fit import GreyFit
from dyeshade.photo.photo import Photo
from dyeshade.photo.vision import cv2

Picture = NDArray[np.float32]
RegionReader = Callable[[slice, slice], Picture]

_CUT_OFF = 250.0 / 255.0
"""Coded value from which a channel may be cut off: JPEG and straightening blur the very end."""

_LIKE_PAPER = 0.9


def light_reader(photo: Photo, fit: GreyFit) -> RegionReader:
    """Reader of regions in light rather than signal, so that any averaging is of light.

    Parameters
    ----------
    photo : Photo
    fit : GreyFit

    Returns
    -------
    callable
        Takes rows and columns, gives (h, w, 3) float32 in the file's primaries, scaled as the fit
        scales light.
    """
    codes = np.arange(photo.full_scale + 1, dtype=np.float64) / photo.full_scale
    tables = [fit.curve.light(curve(codes)).astype(np.float32) for curve in photo.encoding.curves]
    all_8 = np.stack(tables, axis=1)[np.newaxis]

    def read(rows: slice, columns: slice) -> Picture:
        region = photo.coded[rows, columns]
        if photo.full_scale == 255 and region.size:
            return np.asarray(cv2.LUT(np.ascontiguousarray(region), all_8), dtype=np.float32)
        light = np.empty(region.shape, dtype=np.float32)
        for channel, table in enumerate(tables):
            light[..., channel] = np.take(table, region[..., channel])
        return light

    return read


def clipped_reader(photo: Photo) -> RegionReader:
    """Reader of regions that says where the photo is clipped: 0 or 1, shape (h, w), float32."""

    def read(rows: slice, columns: slice) -> Picture:
        return photo.clipped(rows, columns).astype(np.float32)

    return read


def lift_clipped(relative: Picture, light: Picture, photo: Photo, fit: GreyFit) -> None:
    """Raise channels that are cut off to paper's light where the others look like paper; in place.

    Bare paper that is clipped in one channel shows a colour that it does not have, and would be
    taken for a piece. A cut-off channel says no more than that at least so much light was there.

    Parameters
    ----------
    relative : ndarray, shape (h, w, 3), float32
        Light as a share of bare paper's there.
    light : ndarray, shape (h, w, 3), float32
        The same place as `light_reader` reads it.
    photo : Photo
    fit : GreyFit
    """
    ends = [curve(np.array([_CUT_OFF])) for curve in photo.encoding.curves]
    least = fit.curve.light(np.concatenate(ends)).astype(np.float32)
    if not any((light[..., k] >= least[k]).any() for k in range(3)):
        return
    cut = light >= least
    like_paper = np.all(cut | (relative > _LIKE_PAPER), axis=-1, keepdims=True)
    relative[cut & like_paper & (relative < 1.0)] = 1.0


def spread_over(nodes: NDArray[np.float64], rows: int, columns: int) -> Picture:
    """Bilinear values over a picture from nodes spread evenly from edge to edge.

    Parameters
    ----------
    nodes : ndarray, shape (i, j, 3)
        The first and last nodes lie at the picture's edges.
    rows, columns : int
        Size of the picture.

    Returns
    -------
    ndarray, shape (rows, columns, 3), float32
    """

    def hats(count: int, size: int) -> NDArray[np.float64]:
        at = (np.arange(size) + 0.5) / size * (count - 1)
        return np.maximum(0.0, 1.0 - np.abs(at[:, None] - np.arange(count)))

    down, across = hats(nodes.shape[0], rows), hats(nodes.shape[1], columns)
    whole = np.einsum("ri,ijc,kj->rkc", down, nodes, across, optimize=True)
    return np.asarray(whole, dtype=np.float32)
