"""The camera's tone curve, undone: from decoded signal back to light.

A camera bends the light's values before it writes them down: shoulder, toe, contrast. One curve,
shared by the three channels, is taken as the model. It is written as the *inverse*, since that is
what a reader applies: ``u = g(log s)`` with `s` the signal decoded by the file's profile and `u`
the log of the light, zero at the reference signal. The slope is ``exp(h)`` with `h` piecewise
linear, so that the curve rises everywhere and goes on straight where no grey tells it more.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.tone_pieces import FIRST, KNOTS, LAST, CurvePlaces, Pieces, curve_places

Array = NDArray[np.float64]

_GRID_STEPS = 600
_SENSOR_BEND = 0.005

_GRID: Array = np.linspace(FIRST, LAST, _GRID_STEPS)
_GRID_PLACES = curve_places(_GRID, 0.0)

# Over the square root a table is dense in the shadows, without a logarithm a pixel.
_ROOTS: Array = np.linspace(0.0, np.sqrt(np.exp(_GRID[-1])), 4096)
_ROOTS_LOG: Array = np.log(np.maximum(_ROOTS**2, np.exp(FIRST)))
_BELOW: Array = np.minimum(_ROOTS**2 / np.exp(FIRST), 1.0)
_SIGNALS: Array = np.linspace(1e-4, 1.05, 3000) ** 2


@dataclass(frozen=True)
class InverseCurve:
    """The tone curve undone.

    Attributes
    ----------
    log_slopes : ndarray, shape (16,)
        Log of d(log light)/d(log signal) at `KNOTS`; all zero is a camera that bends nothing.
    reference : float
        Log signal at which the log light is zero.
    """

    log_slopes: Array
    reference: float

    @cached_property
    def _on_grid(self) -> tuple[Array, Array]:
        whole = Pieces(self.log_slopes, _GRID_PLACES)
        zero = Pieces(self.log_slopes, curve_places(np.array([self.reference]), 0.0))
        return whole.slope, whole.log_light - zero.log_light

    def log_light(self, log_signal: Array) -> Array:
        """Log light for log signals of any shape."""
        _, values = self._on_grid
        return np.interp(np.clip(log_signal, _GRID[0], _GRID[-1]), _GRID, values)

    def slope(self, log_signal: Array) -> Array:
        """d(log light)/d(log signal), the factor by which signal noise grows."""
        slope, _ = self._on_grid
        return np.interp(log_signal, _GRID, slope)

    def light(self, signal: Array) -> Array:
        """Light for decoded signals of any shape; zero and less gives zero.

        Parameters
        ----------
        signal : ndarray
            Decoded linear signal, 0..1.

        Returns
        -------
        ndarray
            Light, 1 at the reference signal, same shape.
        """
        return np.asarray(np.interp(np.sqrt(np.maximum(signal, 0.0)), _ROOTS, self._light_of_roots))

    @cached_property
    def _light_of_roots(self) -> Array:
        _, values = self._on_grid
        return np.asarray(np.exp(np.interp(_ROOTS_LOG, _GRID, values)) * _BELOW)

    def signal(self, light: Array) -> Array:
        """Decoded signals that light of any shape becomes; the opposite of `light`, 1e-8 to 1.1."""
        return np.interp(light, self._light_of_signals, _SIGNALS)

    @cached_property
    def _light_of_signals(self) -> Array:
        return self.light(_SIGNALS)

    def at(self, places: CurvePlaces) -> Pieces:
        """Log light, slope and derivatives, where signals are the same time and again.

        Parameters
        ----------
        places : CurvePlaces
            Of the log signals, for this curve's reference.

        Returns
        -------
        Pieces
            At all of them at once.
        """
        return Pieces(self.log_slopes, places)


def curve_prior(linear: bool = False) -> tuple[Array, Array]:
    """Prior of the log slopes: mean, shape (16,), and precision, shape (16, 16).

    Parameters
    ----------
    linear : bool
        True for raw light: no maker has bent it, and sensors are straight to half a per cent
        (common practice, no source).

    Notes
    -----
    The slopes wander from knot to knot (a random walk) around that of a camera that bends nothing;
    spreads are about twice those seen in eleven real photographs of a neutral scale.
    """
    count = len(KNOTS)
    if linear:
        return np.zeros(count), np.eye(count) / _SENSOR_BEND**2
    difference = np.diff(np.eye(count), axis=0)
    # The shoulder turns fast: the last knots may differ more than the others.
    spread = np.where(np.arange(count - 1) >= count - 5, 0.5, 0.3)
    precision = difference.T @ (difference / spread[:, None] ** 2)
    precision += np.eye(count) / 1.2**2
    return np.zeros(count), precision
