"""Tone curves of cameras: linear light to the light that the file shows, per channel.

Four families with random parameters; none is a spline, and none is one in log-log. All rise
strictly, take 0 to 0 and the white point to 1.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .ink import srgb_decode, srgb_encode
from .spectra import Array

FAMILIES = ("linear", "sigmoid", "hill", "filmic", "knee")
_TABLE = 8192
_TOP = 1.6


@dataclass(frozen=True)
class Curve:
    """One curve as a table: ``values`` (8193,) over light 0 to 1.6 in equal square-root steps."""

    values: Array

    def __call__(self, linear: Array) -> Array:
        """Shown light 0..1 (same shape); float32 (pixels) takes the nearest entry."""
        if np.asarray(linear).dtype == np.float32:
            return np.asarray(self._fine()[self._entry(linear)])
        where = np.sqrt(np.clip(linear, 0.0, _TOP) / _TOP) * _TABLE
        below = where.astype(np.int32)
        below = np.minimum(below, _TABLE - 1)
        part = where - below
        return np.asarray(self.values[below] * (1 - part) + self.values[below + 1] * part)

    def _fine(self) -> NDArray[np.float32]:
        steps = np.linspace(0, _TABLE, 65536)
        return np.interp(steps, np.arange(_TABLE + 1), self.values).astype(np.float32)

    @staticmethod
    def _entry(linear: NDArray[np.floating]) -> NDArray[np.uint16]:
        root = np.sqrt(np.clip(linear, 0.0, _TOP) * np.float32(1 / _TOP))
        return np.asarray(root * np.float32(65535) + np.float32(0.5)).astype(np.uint16)

    def inverse(self, shown: Array) -> Array:
        """Linear light of shown light; what clips comes back as the white point."""
        steps = np.linspace(0, 1, _TABLE + 1)
        last = int(np.argmax(self.values >= self.values[-1] - 1e-12))
        return _TOP * np.interp(shown, self.values[: last + 1], steps[: last + 1]) ** 2


def _sigmoid(rng: np.random.Generator) -> Callable[[Array], Array]:
    """A logistic S in coded values, with a lift before it."""
    k, m, lift = rng.uniform(2.0, 4.2), rng.uniform(0.40, 0.52), rng.uniform(0.9, 1.35)

    def logistic(v: Array) -> Array:
        return np.asarray(1 / (1 + np.exp(-k * (v - m))))

    low, high = logistic(np.array(0.0)), logistic(np.array(1.0))

    def curve(x: Array) -> Array:
        v = 1 - np.exp(-lift * srgb_encode(x) * 1.4)
        v = v / (1 - np.exp(-lift * 1.4))
        v = 0.5 * v + 0.5 * srgb_encode(np.clip(x, 0, 1))
        return srgb_decode((logistic(v) - low) / (high - low))

    return curve


def _hill(rng: np.random.Generator) -> Callable[[Array], Array]:
    """Hill's saturation (as in Naka and Rushton's law of the eye) in linear light."""
    n, c = rng.uniform(1.05, 1.35), rng.uniform(0.45, 1.6)
    return lambda x: (1 + c) * x**n / (x**n + c)


def _filmic(rng: np.random.Generator) -> Callable[[Array], Array]:
    """A rational curve with a toe and a shoulder, as used for film."""
    a, b = 2.5 * rng.uniform(0.9, 1.1), rng.uniform(0.05, 0.25)
    c, d, e = 2.4 * rng.uniform(0.8, 1.0), rng.uniform(0.5, 0.9), rng.uniform(0.15, 0.4)

    def raw(x: Array) -> Array:
        return np.asarray(x * (a * x + b) / (x * (c * x + d) + e))

    return raw


def _knee(rng: np.random.Generator) -> Callable[[Array], Array]:
    """A toe and a shoulder as powers in coded values (Kumaraswamy's distribution function)."""
    p, q = rng.uniform(1.02, 1.35), rng.uniform(1.15, 1.7)
    return lambda x: srgb_decode(1 - (1 - np.clip(srgb_encode(x), 0, 1) ** p) ** q)


def make_curve(family: str, seed: int, strength: float = 1.0) -> Curve:
    """A curve of a family with parameters drawn by the seed; ``strength`` 0 is a straight line.

    Raises
    ------
    KeyError
        When the family is unknown.
    """
    grid = _TOP * np.linspace(0, 1, _TABLE + 1) ** 2
    straight = np.clip(grid, 0, 1)
    makers = {"sigmoid": _sigmoid, "hill": _hill, "filmic": _filmic, "knee": _knee}
    if family == "linear" or strength == 0:
        return Curve(straight)
    maker = makers[family](np.random.default_rng([seed, 21]))
    values = np.asarray(maker(grid)) / float(np.asarray(maker(np.array([1.0])))[0])
    values = np.clip(values, 0, 1)
    # Strength blends in coded values, where a curve is felt.
    coded = strength * srgb_encode(values) + (1 - strength) * srgb_encode(straight)
    values = np.maximum.accumulate(np.clip(srgb_decode(coded), 0, 1))
    return Curve(values)
