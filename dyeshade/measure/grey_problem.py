"""What one photo's greys say of light, tone curve, white, flare and print: misfit and derivatives.

For patch *i* and channel *c*::

    g(log s_ic) = log w_c + log(light(x_i) * reflectance_i * print_i + flare) + noise

The unknowns that a channel meets by itself (curve, white, colour of the light, flare) are few;
those that all three meet in the same way (the light over the page, the print's departure) are the
many. The solver keeps the former before the latter, so that what a step needs of the many is summed
over channels before it is multiplied out. Everywhere else the order is that of `grey_fit.unpack`.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.grey_fit import GreySignals
from dyeshade.measure.light_field import LightField
from dyeshade.measure.tone_pieces import KNOTS, Pieces, curve_places

Array = NDArray[np.float64]

PRINT_KNOTS = np.log(np.array([0.035, 0.1, 0.25, 0.5, 0.88]))
"""Log reflectances of a plain print at which its departure is free (none at paper)."""

PATCH_NOISE = 0.006
"""Spread of a patch's own log reflectance: half a per cent and a little (common practice, no
source)."""

_SHADOWS = 1e-5

_CURVE = len(KNOTS)
_WHITE, _TILT, _FLARE = slice(_CURVE, _CURVE + 3), slice(_CURVE + 3, _CURVE + 7), _CURVE + 7
_OWN = _CURVE + 8
"""How many unknowns a channel meets by itself; in the solver's order they are the first."""


def _print_hats(reflectance: Array) -> Array:
    knots = PRINT_KNOTS
    logs = np.log(np.maximum(reflectance, 1e-3))
    return np.stack([np.interp(logs, knots, unit) for unit in np.eye(len(knots))[:-1]], axis=-1)


class GreyProblem:
    """Residuals and derivatives of one photo's greys; a helper of `fit_greys`.

    Parameters
    ----------
    signals : GreySignals
    field : LightField
    reference : float
        Log signal at which the curve's log light is zero.

    Attributes
    ----------
    usable : ndarray, shape (3, n)
        1 where a channel of a patch counts, 0 where not.
    log_signal, relative_spread : ndarray, shape (n, 3)
    shared : ndarray, shape (n, q)
        What the log light of a patch changes by with the unknowns that all channels share.
    """

    def __init__(self, signals: GreySignals, field: LightField, reference: float) -> None:
        self.signals, self.reference = signals, reference
        self.usable = np.array(signals.usable.T, dtype=np.float64, order="C")
        self.log_signal = np.log(np.maximum(signals.signal, _SHADOWS))
        self.curve_places = curve_places(self.log_signal.T, reference)
        departs = np.broadcast_to(signals.departs, signals.reflectance.shape)
        hats = _print_hats(signals.reflectance) * departs[:, None]
        self.shared = np.hstack([field.features(signals.places_mm), hats])
        self.place = np.ascontiguousarray(field.scaled(signals.places_mm).T)
        self.log_reflectance = np.log(signals.reflectance)
        tint = np.broadcast_to(signals.tint, signals.signal.shape)
        self.log_plain = self.log_reflectance + tint.T
        self.relative_spread = signals.spread / np.maximum(signals.signal, _SHADOWS)
        self.variance = np.where(signals.usable, self.relative_spread, 0.0).T ** 2
        # Of the solver's order in that of `grey_fit.unpack`: the field comes before the tilt there.
        own, size = np.arange(_OWN), field.size
        ahead = np.where(own < _TILT.start, own, own + size)
        light = np.arange(_TILT.start, _TILT.start + size)
        self.order = np.concatenate(
            [ahead, light, np.arange(_OWN + size, _OWN + hats.shape[1] + size)]
        )
        self.back = np.argsort(self.order)

    def evaluate(self, vector: Array) -> tuple[Array, Array, Array]:
        """Residual (n, 3), derivatives (n, 3, p) as in `grey_fit.unpack`, noise spread (n, 3)."""
        here = GreysAt(self, vector[self.order])
        shared = -here.share[..., None] * self.shared
        own = np.moveaxis(here.own_slopes, 0, -1)
        slopes = np.concatenate([own, shared], axis=-1)[..., self.back]
        return here.residual.T, slopes.transpose(1, 0, 2), np.sqrt(here.variance.T)


class GreysAt:
    """Greys where the unknowns are a vector (p,) in the solver's order.

    Attributes
    ----------
    vector : ndarray, shape (p,)
    residual, variance : ndarray, shape (3, n)
        Misfit of log light, and its noise as the slope of the curve makes it.
    certainty : ndarray, shape (3, n)
        One over the variance; 0 where a channel of a patch is not usable.
    share : ndarray, shape (3, n)
        Of a patch's light, what is not flare.
    """

    def __init__(self, problem: GreyProblem, vector: Array) -> None:
        self._problem, self.vector = problem, vector
        self._curve = Pieces(vector[:_CURVE], problem.curve_places)
        log_direct = problem.log_plain + problem.shared @ vector[_OWN:]
        log_direct[::2] += vector[_TILT].reshape(2, 2) @ problem.place
        direct = np.exp(log_direct)
        total = direct + np.exp(vector[_FLARE])
        self.share = direct / total
        self.residual = self._curve.log_light - np.log(total)
        self.residual -= vector[_WHITE, None]
        self.variance = self._curve.slope**2 * problem.variance + PATCH_NOISE**2
        self.certainty = problem.usable / self.variance

    @cached_property
    def own_slopes(self) -> Array:
        """Derivatives of the residual by what a channel meets by itself, shape (24, 3, n)."""
        slopes = np.zeros((_OWN, *self.share.shape))
        slopes[:_CURVE] = self._curve.derivatives()
        for channel in range(3):
            slopes[_WHITE.start + channel, channel] = -1.0
        slopes[_FLARE] = self.share - 1.0
        tilt = self._problem.place * -self.share[::2, None]
        slopes[_TILT.start : _TILT.start + 2, 0] = tilt[0]
        slopes[_TILT.start + 2 : _TILT.stop, 2] = tilt[1]
        return slopes

    def curvature(self, importance: Array) -> tuple[Array, Array]:
        """Gauss-Newton's curvature (p, p) and the gradient (p,) of half the weighted square.

        Parameters
        ----------
        importance : ndarray, shape (3, n)
            Weight of each squared residual.
        """
        own, shared, share = self.own_slopes, self._problem.shared, self.share
        weighted, by_share = importance * self.residual, importance * share
        rows = (own * np.sqrt(importance)).reshape(_OWN, -1)
        columns = shared * np.sqrt((by_share * share).sum(axis=0))[:, None]
        across = (own * by_share).sum(axis=1) @ shared
        size = len(self.vector)
        curvature, gradient = np.empty((size, size)), np.empty(size)
        curvature[:_OWN, :_OWN] = rows @ rows.T
        curvature[_OWN:, _OWN:] = columns.T @ columns
        np.negative(across, out=curvature[:_OWN, _OWN:])
        np.negative(across.T, out=curvature[_OWN:, :_OWN])
        gradient[:_OWN] = own.reshape(_OWN, -1) @ weighted.ravel()
        gradient[_OWN:] = -(weighted * share).sum(axis=0) @ shared
        return curvature, gradient
