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

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.grey_fit import GreyFit, GreySignals, unpack
from dyeshade.measure.grey_problem import GreyProblem
from dyeshade.measure.grey_steps import Solved, anneal
from dyeshade.measure.light_field import LightField
from dyeshade.measure.response import InverseCurve, curve_prior
from dyeshade.measure.tone_pieces import KNOTS

Array = NDArray[np.float64]

_PRINT_SPREAD = np.array([0.047, 0.055, 0.041, 0.021])
"""Spread of a print's departure at `dyeshade.measure.grey_problem.PRINT_KNOTS`, of prints whose
levels are off by up to 8 % (two spreads), as ``tests/studies/print_constants.py`` makes it."""

_FLARE_MEAN, _FLARE_SPREAD = np.log(0.004), 0.9
"""Of the log of veiling light over that of a perfect white: 0.1 to 2 per cent (common practice, no
source). Greys tell it well: with 0.007 and 0.66 cloth comes out the same within 0.2 %."""

_COLOUR_TILT_SPREAD = 0.01
"""Of log light of red and of blue against green over half a page: reflected light has another
colour than the window (ours, by judgement)."""

_REMAINDERS = (0.004, 0.02, 0.08)


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


def _start(problem: GreyProblem, mean: Array) -> Array:
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
    problem = GreyProblem(signals, field, reference)
    best: Solved | None = None
    for remainder in _REMAINDERS:
        mean, precision = _prior(field, remainder, linear)
        solved = anneal(problem, _start(problem, mean), mean, precision)
        if best is not None and solved.score <= best.score:
            # Beyond its summit over the remainder's size the score was never seen to rise again.
            break
        best = solved
    assert best is not None
    vector, information = best.vector, best.information
    residual = np.where(usable, best.residual, np.nan)
    held = usable & (best.weights > 0.3)[:, None]
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
        best.weights,
        scatter,
    )
