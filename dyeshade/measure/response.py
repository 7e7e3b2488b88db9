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

Array = NDArray[np.float64]

# Knots stand at sRGB-coded levels, where makers draw their curves: evenly spread there, a knot
# costs the same freedom in the shadows as in the shoulder, and the shoulder needs a few more.
_KNOTS_CODED = np.array(
    [0.02, 0.06, 0.11, 0.17, 0.24, 0.32, 0.4, 0.48, 0.56, 0.64, 0.72, 0.8, 0.87, 0.93, 0.97, 1.0]
)
_SMALLEST_SIGNAL = 2e-5
_GRID_STEPS = 600
_SENSOR_BEND = 0.005


def _decode_srgb(coded: Array) -> Array:
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


KNOTS: Array = np.log(_decode_srgb(_KNOTS_CODED))
"""Log signals at which the log slope of the inverse curve is free, shape (16,)."""

_GRID: Array = np.linspace(np.log(_SMALLEST_SIGNAL), 0.15, _GRID_STEPS)


def _hats(values: Array, knots: Array) -> Array:
    """Piecewise linear basis, constant beyond the end knots; shape (len(values), len(knots))."""
    return np.stack([np.interp(values, knots, unit) for unit in np.eye(len(knots))], axis=-1)


_GRID_HATS: Array = _hats(_GRID, KNOTS)

# Over the square root a table is dense in the shadows, without a logarithm a pixel.
_ROOTS: Array = np.linspace(0.0, np.sqrt(np.exp(_GRID[-1])), 4096)
_ROOTS_LOG: Array = np.log(np.maximum(_ROOTS**2, _SMALLEST_SIGNAL))
_BELOW: Array = np.minimum(_ROOTS**2 / _SMALLEST_SIGNAL, 1.0)
_SIGNALS: Array = np.linspace(1e-4, 1.05, 3000) ** 2


def _running_integral(values: Array) -> Array:
    """Trapezoid rule along axis 0, zero at the first grid point."""
    steps = np.diff(_GRID).reshape((-1,) + (1,) * (values.ndim - 1))
    out = np.zeros_like(values)
    parts = values[1:] + values[:-1]
    parts *= 0.5 * steps
    np.cumsum(parts, axis=0, out=out[1:])
    return out


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
        slope = np.exp(_GRID_HATS @ self.log_slopes)
        integral = _running_integral(slope)
        return slope, integral - np.interp(self.reference, _GRID, integral)

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

    def light_and_slope(self, places: GridPlaces) -> tuple[Array, Array]:
        """Log light and slope at once, where signals are the same time and again.

        Parameters
        ----------
        places : tuple of ndarray
            Of the log signals, as `on_grid` gives them.

        Returns
        -------
        log_light, slope : ndarray
            In the shape of the signals.
        """
        slope, values = self._on_grid
        found = _between(np.stack([values, slope], axis=1), places)
        return found[..., 0], found[..., 1]

    def derivatives(self, places: GridPlaces) -> Array:
        """d(log light)/d(log_slopes) at places of `on_grid`, in their shape + (16,)."""
        slope, _ = self._on_grid
        sums = _running_integral(slope[:, None] * _GRID_HATS)
        sums -= _between(sums, on_grid(self.reference))
        return _between(sums, places)


GridPlaces = tuple[NDArray[np.intp], Array]
"""The grid point before each log signal, and the share of the way to the next."""


def on_grid(log_signal: Array | float) -> GridPlaces:
    """Where log signals of any shape lie on the grid of the curve; beyond its ends, at the end."""
    steps = (np.asarray(log_signal, float) - _GRID[0]) / (_GRID[1] - _GRID[0])
    steps = np.clip(steps, 0.0, _GRID_STEPS - 1.0)
    before = np.minimum(steps.astype(np.intp), _GRID_STEPS - 2)
    return before, steps - before


def _between(table: Array, places: GridPlaces) -> Array:
    """Rows of a table over the grid, straight between them."""
    before, share = places
    first, second = table.take(before, axis=0), table.take(before + 1, axis=0)
    second -= first
    second *= share[..., None]
    return np.asarray(first + second)


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
