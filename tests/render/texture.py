"""What a piece looks like from near: shared parts of all textures.

A texture says for each point how much of each spectrum of the piece is seen: the fibre's own
colour, its deeper colour where light bounced between strands (reflectance squared), a little sheen,
and the card below. From these weights come both the pixels and the truth, so they can't disagree.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from .spectra import WAVELENGTHS, Array

Field = NDArray[np.floating[Any]]

CARDS = {
    "white": 0.84 - 0.05 * np.exp(-(WAVELENGTHS - 380) / 30),
    "grey": np.full(WAVELENGTHS.size, 0.42) + 0.0001 * (WAVELENGTHS - 550),
    "kraft": 0.16 + 0.34 / (1 + np.exp(-(WAVELENGTHS - 560) / 55)),
}


@dataclass(frozen=True)
class Place:
    """Where a texture is drawn.

    Attributes
    ----------
    origin_mm
        Page place of the first pixel's middle.
    px_per_mm
        Resolution.
    u, v
        (h, w) places in mm in the piece's own axes, from its middle: u across, v along.
    half
        Half width and half length of the piece in mm.
    light
        (3,) unit vector towards the light in the piece's axes (u, v, up).
    """

    origin_mm: tuple[float, float]
    px_per_mm: float
    u: Field
    v: Field
    half: tuple[float, float]
    light: Array


@dataclass(frozen=True, eq=False)
class Weave:
    """What a texture maker returns, all (h, w).

    ``base``, ``deep``, ``sheen``: weights of the spectra; ``cloth``: coverage by cloth 0..1;
    ``which``: 0..1, share of the second colour.
    """

    base: Field
    deep: Field
    sheen: Field
    cloth: Field
    which: Field


@dataclass(frozen=True, eq=False)
class Texture:
    """A finished texture.

    Attributes
    ----------
    place
        Where it lies.
    weights
        (h, w, k) float32, already times coverage.
    alpha
        (h, w) coverage by the piece and its card.
    cloth
        (h, w) coverage by the cloth alone.
    which
        (h, w) share of the second colour.
    spectra
        (k, 81).
    """

    place: Place
    weights: Field
    alpha: Field
    cloth: Field
    which: Field
    spectra: Array


def noise(u: Field, v: Field, grain_u: float, grain_v: float, seed: int) -> Field:
    """Smooth noise, mean 0 and about unit sd, with grains of the given sizes in mm."""
    tile = np.random.default_rng([seed, 41]).normal(size=(256, 256)).astype(np.float32)
    tile = cv2.GaussianBlur(np.pad(tile, 4, mode="wrap"), (0, 0), 0.7)[4:-4, 4:-4]
    tile /= tile.std()
    x = np.asarray(u / np.float32(grain_u) + np.float32(seed % 97), dtype=np.float32)
    y = np.asarray(v / np.float32(grain_v) + np.float32(seed % 89), dtype=np.float32)
    for axis in (x, y):
        axis -= np.float32(256) * np.floor(axis * np.float32(1 / 256))
    return np.asarray(cv2.remap(tile, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_WRAP))


def smooth(x: Field, width: float) -> Field:
    """0 below -width, 1 above +width, smooth between."""
    t = np.clip(x / np.float32(2 * width) + np.float32(0.5), 0, 1)
    return np.asarray(t * t * (3 - 2 * t))


def per_index(index: NDArray[np.floating], low: float, high: float, seed: int) -> Field:
    """A random value in low..high for each whole number in ``index``."""
    table = np.random.default_rng([seed, 42]).uniform(low, high, 1024).astype(np.float32)
    return np.asarray(table[np.mod(index.astype(np.int64), 1024)])


def hairs(place: Place, cloth: Field, count: int, seed: int) -> Field:
    """Stray fibres at the edge: coverage (h, w)."""
    rng = np.random.default_rng([seed, 43])
    canvas = np.zeros(cloth.shape, dtype=np.uint8)
    edge = cv2.morphologyEx((cloth > 0.5).astype(np.uint8), cv2.MORPH_GRADIENT, np.ones((3, 3)))
    ys, xs = np.nonzero(edge)
    if xs.size == 0:
        return canvas.astype(np.float32)
    for k in rng.integers(xs.size, size=count):
        length = rng.uniform(1.0, 4.0) * place.px_per_mm
        angle, bend = rng.uniform(0, 2 * np.pi), rng.normal(0, 1.2)
        t = np.linspace(0, 1, 9)
        a = angle + bend * t
        px = xs[k] + np.cumsum(np.cos(a)) * length / 9
        py = ys[k] + np.cumsum(np.sin(a)) * length / 9
        points = np.round(np.column_stack([px, py]) * 16).astype(np.int32)
        cv2.polylines(canvas, [points], False, 255, 1, cv2.LINE_AA, 4)
    return np.asarray(canvas.astype(np.float32) * np.float32(0.45 / 255))
