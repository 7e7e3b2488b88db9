"""The integral of a slope whose logarithm is straight from knot to knot, without a table.

Within a piece between two knots the slope is ``exp(h + d t)``, `t` going from 0 to 1, so that its
integral and what that changes by with either knot's `h` are elementary functions. Asked at the same
places again and again, as a fit does, that is a handful of operations on short arrays.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

# Knots stand at sRGB-coded levels, where makers draw their curves: evenly spread there, a knot
# costs the same freedom in the shadows as in the shoulder, and the shoulder needs a few more.
_KNOTS_CODED = np.array(
    [0.02, 0.06, 0.11, 0.17, 0.24, 0.32, 0.4, 0.48, 0.56, 0.64, 0.72, 0.8, 0.87, 0.93, 0.97, 1.0]
)


def _decode_srgb(coded: Array) -> Array:
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


KNOTS: Array = np.log(_decode_srgb(_KNOTS_CODED))
"""Log signals at which the log slope of the inverse curve is free, shape (16,)."""

FIRST, LAST = float(np.log(2e-5)), 0.15
"""Log signals at which the curve ends; beyond them it stays where it is."""

# From the outer knots to the ends the slope stays as it is: two more pieces.
_BOUNDS: Array = np.concatenate([[FIRST], KNOTS, [LAST]])
_WIDTHS: Array = np.diff(_BOUNDS)
_COUNT = len(_WIDTHS)
_BEFORE: Array = np.eye(len(KNOTS))[:, np.maximum(np.arange(_COUNT) - 1, 0)]
_AFTER: Array = np.eye(len(KNOTS))[:, np.minimum(np.arange(_COUNT), len(KNOTS) - 1)]

_FLAT = 1e-2
"""Change of log slope below which differences of exponentials lose more than a short series."""


@dataclass(frozen=True, eq=False)
class CurvePlaces:
    """Log signals as places on the pieces of a curve; after them the reference, then whole pieces.

    Attributes
    ----------
    shape : tuple of int
        Of the log signals.
    piece : ndarray of int, shape (m,)
        Which piece each is in; m is the number of signals and 1 and 17.
    along : ndarray, shape (m,)
        Share of the way through it, 0..1.
    before, after : ndarray, shape (16, signals + 1)
        1 at the knot that the piece begins and ends with.
    passed : ndarray, shape (17, signals + 1)
        1 for whole pieces that lie before.
    """

    shape: tuple[int, ...]
    piece: NDArray[np.intp]
    along: Array
    before: Array
    after: Array
    passed: Array


def curve_places(log_signal: Array, reference: float) -> CurvePlaces:
    """Where log signals lie on a curve.

    Parameters
    ----------
    log_signal : ndarray
        Of any shape.
    reference : float
        Log signal at which the log light is zero.

    Returns
    -------
    CurvePlaces
    """
    signals = np.append(np.asarray(log_signal, float), reference)
    at = np.clip(signals, FIRST, LAST)
    piece = np.clip(np.searchsorted(_BOUNDS, at, side="right") - 1, 0, _COUNT - 1)
    along = (at - _BOUNDS[piece]) / _WIDTHS[piece]
    return CurvePlaces(
        np.shape(log_signal),
        np.concatenate([piece, np.arange(_COUNT)]),
        np.concatenate([along, np.ones(_COUNT)]),
        _BEFORE.take(piece, axis=1),
        _AFTER.take(piece, axis=1),
        (np.arange(_COUNT)[:, None] < piece).astype(float),
    )


class Pieces:
    """A curve at places, whose log slopes at the knots are given; a helper of `InverseCurve`.

    Parameters
    ----------
    log_slopes : ndarray, shape (16,)
        Log of d(log light)/d(log signal) at `KNOTS`.
    places : CurvePlaces

    Attributes
    ----------
    log_light, slope : ndarray
        Log light, zero at the reference, and d(log light)/d(log signal); in the signals' shape.
    """

    def __init__(self, log_slopes: Array, places: CurvePlaces) -> None:
        self._places = places
        ends = np.concatenate([log_slopes[:1], log_slopes, log_slopes[-1:]])
        first = np.exp(ends[:-1]).take(places.piece)
        self._turn = (ends[1:] - ends[:-1]).take(places.piece) * places.along
        # Where the slope stays the same, the limit: no division by nothing.
        self._turn[self._turn == 0.0] = 1e-12
        rise = np.expm1(self._turn)
        self._mean = rise / self._turn
        self._slope = first * (rise + 1.0)
        self._scale = first * (_WIDTHS.take(places.piece) * places.along)
        self._part = self._scale * self._mean
        light = self._part[:-_COUNT] + self._part[-_COUNT:] @ places.passed
        light -= light[-1]
        self.log_light = light[:-1].reshape(places.shape)
        self.slope = self._slope[: -_COUNT - 1].reshape(places.shape)

    def derivatives(self) -> Array:
        """d(log light)/d(log_slopes), shape (16,) + that of the signals."""
        places, turn, mean = self._places, self._turn, self._mean
        lean = np.where(
            np.abs(turn) < _FLAT,
            0.5 + turn * (1.0 / 3.0 + turn * (1.0 / 8.0 + turn / 30.0)),
            (turn * mean + 1.0 - mean) / turn,
        )
        # Along a piece the share of the knot that it ends with grows.
        late = self._scale * places.along * lean
        early = self._part - late
        by_knot = (_BEFORE * early[-_COUNT:] + _AFTER * late[-_COUNT:]) @ places.passed
        by_knot += places.before * early[:-_COUNT]
        by_knot += places.after * late[:-_COUNT]
        by_knot -= by_knot[:, -1:]
        return np.asarray(by_knot[:, :-1].reshape(len(KNOTS), *places.shape))
