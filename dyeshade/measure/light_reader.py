"""A photo's light with the camera's tone curve undone, region by region."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

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


@dataclass(frozen=True, eq=False)
class LightCodes:
    """Light of a photo in numbers that average quickly.

    Attributes
    ----------
    read : callable
        Takes rows and columns, gives (h, w, 3) in the file's primaries: 16-bit numbers of an 8-bit
        photo, float32 of others.
    unit : float
        Light that one of them stands for, scaled as the fit scales light.
    """

    read: Callable[[slice, slice], NDArray[Any]]
    unit: float


def light_codes(photo: Photo, fit: GreyFit) -> LightCodes:
    """The same as `light_reader`; of 8-bit photos to one part in 65535, in half of its time."""
    if photo.full_scale != 255:
        return LightCodes(light_reader(photo, fit), 1.0)
    codes = np.arange(256) / 255.0
    curves = photo.encoding.curves
    same = all(curve == curves[0] for curve in curves)
    tables = np.stack([fit.curve.light(curve(codes)) for curve in curves[: 1 if same else 3]], 1)
    unit = float(tables.max()) / 65535.0
    # One table for all channels is looked up several at a time.
    whole = np.rint(tables / unit).astype(np.uint16)[np.newaxis]
    return LightCodes(lambda rows, columns: cv2.LUT(photo.coded[rows, columns], whole), unit)


def clipped_reader(photo: Photo) -> Callable[[slice, slice], NDArray[np.uint8]]:
    """Reader of regions that says where the photo is clipped: 255 there, else 0, shape (h, w)."""

    def read(rows: slice, columns: slice) -> NDArray[np.uint8]:
        return np.asarray(cv2.bitwise_not(photo.within(rows, columns)), np.uint8)

    return read


def cut_off(photo: Photo, fit: GreyFit, unit: float) -> Picture:
    """Light from which each channel may be cut off, (3,), in units of `LightCodes`."""
    ends = [curve(np.array([_CUT_OFF])) for curve in photo.encoding.curves]
    return np.asarray(fit.curve.light(np.concatenate(ends)) / unit, np.float32)


def lift_clipped(relative: Picture, light: NDArray[Any], least: Picture) -> None:
    """Raise channels that are cut off to paper's light where the others look like paper; in place.

    Bare paper that is clipped in one channel shows a colour that it does not have, and would be
    taken for a piece. A cut-off channel says no more than that at least so much light was there.

    Parameters
    ----------
    relative : ndarray, shape (h, w, 3), float32
        Light as a share of bare paper's there.
    light : ndarray, shape (h, w, 3)
        The same place as `light_codes` reads it.
    least : ndarray, shape (3,)
        As `cut_off` gives it.
    """
    if light.max() < least.min():
        return
    cut = light >= least
    if not cut.any():
        return
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
    lines = np.matmul(across, nodes).reshape(nodes.shape[0], -1).astype(np.float32)
    whole = (down.astype(np.float32) @ lines).reshape(rows, columns, -1)
    return np.asarray(whole, dtype=np.float32)
