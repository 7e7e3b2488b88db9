"""Light, tone curve and white, solved together from the greys and the bare paper.

For patch *i* and channel *c*::

    g(log s_ic) = log w_c + log(light(x_i) * reflectance_i * print_i + flare) + noise

with `g` the camera's tone curve undone (`response`), `light` smooth over the page (`light_field`),
`print` the smooth departure of this print from a plain one, and `flare` the veiling light. All are
unknown with stated priors; the solution is the maximum a posteriori by Gauss-Newton, and its
curvature is the first thing the uncertainty is made of. Patches that disagree (under yarn, in
shadow, glaring) lose their weight (Student's t, annealed).
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.grey_fit import GreyFit, GreySignals, unpack
from dyeshade.measure.light_field import LightField
from dyeshade.measure.response import KNOTS, InverseCurve, curve_prior, on_grid

Array = NDArray[np.float64]

PRINT_KNOTS = np.log(np.array([0.035, 0.1, 0.25, 0.5, 0.88]))
"""Log reflectances of a plain print at which its departure is free (none at paper)."""
_PRINT_SPREAD = np.array([0.047, 0.055, 0.041, 0.021])
"""Spread of that, of prints whose levels are off by up to 8 % (two spreads), as
``tests/studies/print_constants.py`` makes it."""

_PATCH_NOISE = 0.006
"""Spread of a patch's own log reflectance: half a per cent and a little (common practice, no
source)."""

_FLARE_MEAN, _FLARE_SPREAD = np.log(0.004), 0.9
"""Of the log of veiling light over that of a perfect white: 0.1 to 2 per cent (common practice, no
source). Greys tell it well: with 0.007 and 0.66 cloth comes out the same within 0.2 %."""

_COLOUR_TILT_SPREAD = 0.01
"""Of log light of red and of blue against green over half a page: reflected light has another
colour than the window (ours, by judgement)."""

_REMAINDERS = (0.004, 0.02, 0.08)
_FREEDOM = 4.0
_SHADOWS = 1e-5
_LEAST_GAIN = 1e-3
"""Of the cost, what is not worth another step."""

_ANNEALING = (60.0, 30.0, 15.0, 8.0, 4.0, 2.5, 1.5, 1.5, 1.5)


def _print_hats(reflectance: Array) -> Array:
    knots = PRINT_KNOTS
    logs = np.log(np.maximum(reflectance, 1e-3))
    return np.stack([np.interp(logs, knots, unit) for unit in np.eye(len(knots))[:-1]], axis=-1)


class _Problem:
    """Residuals and derivatives of one photo's greys; a helper of `fit_greys`."""

    def __init__(self, signals: GreySignals, field: LightField, reference: float) -> None:
        self.signals = signals
        self.field = field
        self.reference = reference
        self.log_signal = np.log(np.maximum(signals.signal, _SHADOWS))
        self.on_grid = on_grid(self.log_signal)
        self.features = field.features(signals.places_mm)
        self.place = field.scaled(signals.places_mm)
        departs = np.broadcast_to(signals.departs, signals.reflectance.shape)
        self.hats = _print_hats(signals.reflectance) * departs[:, None]
        self.log_reflectance = np.log(signals.reflectance)
        self.relative_spread = signals.spread / np.maximum(signals.signal, _SHADOWS)
        self._kept: _There | None = None

    def there(self, vector: Array) -> _There:
        """Residuals where the unknowns are a vector, (p,)."""
        if self._kept is not None and self._kept.vector is vector:
            return self._kept
        return _There(self, vector)

    def keep(self, there: _There) -> None:
        """Keep what will be asked for again."""
        self._kept = there

    def evaluate(self, vector: Array) -> tuple[Array, Array, Array]:
        """Residual (n, 3), derivatives (n, 3, p), noise spread (n, 3)."""
        there = self.there(vector)
        return there.residual, there.slopes, there.spread


class _There:
    """Residual and noise spread, both (n, 3), where the unknowns are a vector (p,)."""

    def __init__(self, problem: _Problem, vector: Array) -> None:
        self._problem, self.vector, self.usable = problem, vector, problem.signals.usable
        parts = unpack(vector, problem.field.size)
        log_slopes, white, weights, tilt, self._log_flare, departure = parts
        self._curve = InverseCurve(log_slopes, problem.reference)
        seen, slope = self._curve.light_and_slope(problem.on_grid)
        colour = np.zeros((len(problem.log_reflectance), 3)) + problem.signals.tint
        colour[:, [0, 2]] += problem.place @ tilt.T
        log_paper = problem.log_reflectance + problem.hats @ departure
        log_direct = (problem.features @ weights + log_paper)[:, None] + colour
        log_total = np.logaddexp(log_direct, self._log_flare)
        self._share = np.exp(log_direct - log_total)
        self.residual = seen - white - log_total
        self.spread = np.hypot(slope * problem.relative_spread, _PATCH_NOISE)

    @cached_property
    def slopes(self) -> Array:
        """Derivatives of the residual, (n, 3, p); most of the work, and not always wanted."""
        problem, share = self._problem, self._share
        size, k = problem.field.size, len(KNOTS)
        jac = np.zeros((len(share), 3, len(self.vector)))
        jac[:, :, :k] = self._curve.derivatives(problem.on_grid)
        jac[:, range(3), range(k, k + 3)] = -1.0
        jac[:, :, k + 3 : k + 3 + size] = -share[..., None] * problem.features[:, None]
        for row, channel in ((0, 0), (1, 2)):
            at = k + 3 + size + 2 * row
            jac[:, channel, at : at + 2] = -share[:, channel, None] * problem.place
        jac[:, :, k + 7 + size] = -(1 - share)
        jac[:, :, k + 8 + size :] = -share[..., None] * problem.hats[:, None]
        return jac


def _prior(field: LightField, remainder: float, linear: bool = False) -> tuple[Array, Array]:
    curve_mean, curve_precision = curve_prior(linear)
    spreads = np.concatenate(
        [
            np.full(3, 10.0),
            field.prior_spread(remainder),
            np.full(4, _COLOUR_TILT_SPREAD),
            [_FLARE_SPREAD],
            _PRINT_SPREAD,
        ]
    )
    k = len(curve_mean)
    precision = np.zeros((k + len(spreads), k + len(spreads)))
    precision[:k, :k] = curve_precision
    precision[range(k, k + len(spreads)), range(k, k + len(spreads))] = spreads**-2.0
    mean = np.zeros(k + len(spreads))
    mean[:k] = curve_mean
    mean[k + 7 + field.size] = _FLARE_MEAN
    return mean, precision


def _settle(
    problem: _Problem, vector: Array, weights: Array, prior: tuple[Array, Array], scale: float
) -> Array:
    """A few damped Gauss-Newton steps at fixed weights; each lowers the cost or is not taken."""
    damping = 1e-3
    here = problem.there(vector)
    cost, importance = _cost(here, weights, prior, scale)
    information, gradient = _curvature(here, importance, prior)
    for _ in range(8):
        damped = information.copy()
        damped.flat[:: len(damped) + 1] *= 1.0 + damping
        there = problem.there(here.vector + np.linalg.solve(damped, -gradient))
        tried, importance = _cost(there, weights, prior, scale)
        if tried < cost:
            gain, here, cost = cost - tried, there, tried
            damping = max(damping / 10, 1e-9)
            if gain < _LEAST_GAIN * cost:
                break
            information, gradient = _curvature(here, importance, prior)
        elif tried - cost < _LEAST_GAIN * cost:
            # Smaller steps would bring no more than what counts as nothing.
            break
        else:
            damping *= 10
    problem.keep(here)
    return here.vector


def _cost(
    there: _There, weights: Array, prior: tuple[Array, Array], scale: float
) -> tuple[float, Array]:
    """Half the weighted square, and how much each residual counts, (n, 3)."""
    mean, precision = prior
    # The spread counts as given within a step: were it let free, a flat curve would look certain.
    counted = weights[:, None] / (scale * there.spread) ** 2
    importance = np.where(there.usable, counted, 0.0)
    gap = there.vector - mean
    cost = 0.5 * float((importance * there.residual**2).sum() + gap @ (precision @ gap))
    return cost, importance


def _curvature(there: _There, importance: Array, prior: tuple[Array, Array]) -> tuple[Array, Array]:
    """Curvature (p, p) and gradient (p,) of the cost."""
    mean, precision = prior
    rows = there.slopes.reshape(-1, len(mean))
    root = np.sqrt(importance).reshape(-1, 1)
    scaled = rows * root
    gradient = scaled.T @ (root.ravel() * there.residual.ravel())
    return scaled.T @ scaled + precision, gradient + precision @ (there.vector - mean)


def _believe(problem: _Problem, vector: Array, scale: float) -> Array:
    """Student's t weights, one a patch: all channels of a hidden patch go together."""
    there = problem.there(vector)
    square = np.where(there.usable, (there.residual / (there.spread * scale)) ** 2, 0.0)
    return np.asarray(_FREEDOM / (_FREEDOM + square.sum(axis=1)))


def _start(problem: _Problem, mean: Array) -> Array:
    vector = mean.copy()
    k = len(KNOTS)
    for channel in range(3):
        usable = problem.signals.usable[:, channel]
        if usable.any():
            light = problem.log_signal[usable, channel] - problem.reference
            vector[k + channel] = np.median(light - problem.log_reflectance[usable])
    return vector


def fit_greys(signals: GreySignals, field: LightField, linear: bool = False) -> GreyFit:
    """Solve light, tone curve and white of one photo.

    Parameters
    ----------
    signals : GreySignals
        At least one usable patch.
    field : LightField
    linear : bool
        True for raw light, whose tone curve is known to be straight.

    Returns
    -------
    GreyFit

    Raises
    ------
    ValueError
        Where no patch is usable; callers refuse the photo before.

    References
    ----------
    The inverse curve solved together with exposures: Debevec and Malik 1997, *Recovering high
    dynamic range radiance maps from photographs* (the idea; the model here is our own).
    """
    usable = signals.usable
    if not usable.any():
        raise ValueError("no usable grey")
    bright = signals.reflectance >= signals.reflectance[usable.any(axis=1)].max() - 1e-9
    chosen = bright & usable[:, 1] if (bright & usable[:, 1]).any() else usable[:, 1]
    reference = float(np.log(np.median(signals.signal[chosen, 1]))) if chosen.any() else -0.7
    problem = _Problem(signals, field, reference)
    best: tuple[float, Array, Array, Array] | None = None
    for remainder in _REMAINDERS:
        mean, precision = _prior(field, remainder, linear)
        vector = _start(problem, mean)
        for scale in _ANNEALING:
            weights = _believe(problem, vector, scale)
            vector = _settle(problem, vector, weights, (mean, precision), scale)
        weights = _believe(problem, vector, _ANNEALING[-1])
        score, information = _evidence(problem, vector, weights, mean, precision)
        if best is None or score > best[0]:
            best = (score, vector, information, weights)
    assert best is not None
    _, vector, information, weights = best
    residual = np.where(usable, problem.there(vector).residual, np.nan)
    held = usable & (weights > 0.3)[:, None]
    scatter = float(np.sqrt(np.mean(residual[held] ** 2))) if held.any() else float("nan")
    known = np.arange(len(vector)) < len(vector) - len(_PRINT_SPREAD)
    given_print = np.zeros_like(information)
    given_print[np.ix_(known, known)] = np.linalg.inv(information[np.ix_(known, known)])
    slopes, white, light, tilt, flare, departure = unpack(vector, field.size)
    return GreyFit(
        InverseCurve(slopes, reference),
        field,
        white,
        light,
        tilt,
        flare,
        departure,
        np.asarray(np.linalg.inv(information), dtype=np.float64),
        given_print,
        residual,
        weights,
        scatter,
    )


def _evidence(
    problem: _Problem, vector: Array, weights: Array, mean: Array, precision: Array
) -> tuple[float, Array]:
    """Laplace's log evidence of a prior (up to what priors share), and the information there."""
    residual, jac, spread = problem.evaluate(vector)
    usable = problem.signals.usable
    square = np.where(usable, (residual / (1.5 * spread)) ** 2, 0.0).sum(axis=1)
    count = usable.sum(axis=1)
    likelihood = -0.5 * ((_FREEDOM + count) * np.log1p(square / _FREEDOM)).sum()
    gap = vector - mean
    importance = np.where(usable, weights[:, None] / spread**2, 0.0).reshape(-1, 1)
    rows = jac.reshape(-1, jac.shape[-1])
    information = rows.T @ (rows * importance) + precision
    score = likelihood - 0.5 * gap @ precision @ gap
    score += 0.5 * np.linalg.slogdet(precision)[1] - 0.5 * np.linalg.slogdet(information)[1]
    return float(score), information
