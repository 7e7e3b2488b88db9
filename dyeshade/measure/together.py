"""Light and tone curve of two photos of one sheet, solved together.

Both photos show the same print: that a grey is darker than a plain one, or tinted, is as true of
one as of the other, and leaves the difference of two readings. So the print's departure is one set
of unknowns for both, and what else is wrong with a patch is taken as shared error. What a photo
has for itself, beyond noise, is how far its patches disagree with those of the other photo.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure import greys
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.grey_problem import PATCH_NOISE, GreyProblem

Array = NDArray[np.float64]

PRINT_LEVEL, PRINT_TINT = 0.006, 0.004
"""Spreads of a patch's own log reflectance about the smooth departure of its print: of all channels
together, and of each for itself (tinted ink). As wide as `greys` takes both together for."""

_LEAST_LEVEL, _LEAST_TINT = 0.001, 0.0005
"""A photo's own disagreement is never taken for smaller: JPEG's rounding (ours)."""

_UNSEEN = 1e4
_ROUNDS = 6


@dataclass(frozen=True, eq=False)
class Together:
    """Two photos with one print.

    Attributes
    ----------
    fits : (GreyFit, GreyFit)
    covariance : ndarray, shape (2 q, 2 q)
        Of the unknowns of both photos, the first one's before the second one's: those of
        `GreyFit.parameters` but the print's departure.
    level, tint : float
        Spread of a photo's log light about its fit: of all channels together, and of each.
    """

    fits: tuple[GreyFit, GreyFit]
    covariance: Array
    level: float
    tint: float


def solve_together(
    signals: tuple[GreySignals, GreySignals], fits: tuple[GreyFit, GreyFit], linear: bool
) -> Together:
    """Solve two photos of one sheet together, from where each stands alone.

    Parameters
    ----------
    signals : (GreySignals, GreySignals)
        Patches of one sheet in the same order.
    fits : (GreyFit, GreyFit)
        As `dyeshade.measure.greys.fit_greys` gives each alone.
    linear : bool
        True for raw light.

    Returns
    -------
    Together
    """
    problems = [
        GreyProblem(one, fit.field, fit.curve.reference)
        for one, fit in zip(signals, fits, strict=True)
    ]
    priors = [_prior_of(problem, fit, linear) for problem, fit in zip(problems, fits, strict=True)]
    level, tint = _own_spread(signals, fits)
    precision = _patch_precision(problems, fits, level, tint)
    own = len(fits[0].parameters()) - len(fits[0].print_departure)
    vector = np.concatenate(
        [
            *(fit.parameters()[:own] for fit in fits),
            (fits[0].print_departure + fits[1].print_departure) / 2,
        ]
    )

    def evaluate(at: Array) -> tuple[float, Array, Array]:
        parts = (np.r_[0:own, 2 * own : len(at)], np.arange(own, len(at)))
        residual, jac = [], []
        cost, information, gradient = 0.0, np.zeros((len(at),) * 2), np.zeros(len(at))
        for problem, (mean, pull), index in zip(problems, priors, parts, strict=True):
            seen, by_vector, _ = problem.evaluate(at[index])
            whole = np.zeros((*seen.shape, len(at)))
            whole[..., index] = by_vector
            residual.append(seen)
            jac.append(whole)
            gap = at[index] - mean
            cost += 0.5 * float(gap @ pull @ gap)
            information[np.ix_(index, index)] += pull
            gradient[index] += pull @ gap
        both = np.concatenate(residual, axis=1)
        rows = np.concatenate(jac, axis=1)
        weighted = precision @ both[..., None]
        cost += 0.5 * float((both[..., None] * weighted).sum())
        scaled = precision @ rows
        information += np.tensordot(rows, scaled, axes=((0, 1), (0, 1)))
        gradient += np.tensordot(rows, weighted[..., 0], axes=((0, 1), (0, 1)))
        return cost, information, gradient

    cost, information, gradient = evaluate(vector)
    for _ in range(_ROUNDS):
        step = np.linalg.solve(information, -gradient)
        share = 1.0
        tried = evaluate(vector + step)
        while tried[0] > cost and share > 0.1:
            share /= 2
            tried = evaluate(vector + share * step)
        if tried[0] >= cost:
            break
        gain, vector = cost - tried[0], vector + share * step
        cost, information, gradient = tried
        if gain < 1e-4 * cost:
            break
    departure = vector[2 * own :]
    solved = tuple(
        fit.with_parameters(np.concatenate([part, departure]))
        for fit, part in zip(fits, (vector[:own], vector[own : 2 * own]), strict=True)
    )
    covariance = np.asarray(np.linalg.inv(information)[: 2 * own, : 2 * own], dtype=np.float64)
    return Together((solved[0], solved[1]), covariance, level, tint)


def _prior_of(problem: GreyProblem, fit: GreyFit, linear: bool) -> tuple[Array, Array]:
    """Mean and precision that the fit alone was made with; the print's is halved for two photos."""
    vector = fit.parameters()
    _, jac, spread = problem.evaluate(vector)
    importance = np.where(problem.signals.usable, fit.weights[:, None] / spread**2, 0.0)
    rows = jac.reshape(-1, jac.shape[-1])
    told = np.diag(rows.T @ (rows * importance.reshape(-1, 1)))
    whole = np.diag(np.linalg.inv(fit.covariance))
    asked = [greys._prior(fit.field, size, linear) for size in greys._REMAINDERS]
    misfits = [np.abs(np.log((told + np.diag(one[1])) / whole)).sum() for one in asked]
    mean, precision = asked[int(np.argmin(misfits))]
    precision = precision.copy()
    count = len(fit.print_departure)
    precision[-count:, -count:] /= 2
    return mean, precision


def _own_spread(
    signals: tuple[GreySignals, GreySignals], fits: tuple[GreyFit, GreyFit]
) -> tuple[float, float]:
    """How far two photos disagree on the same patches, beyond their noise, a photo."""
    seen = (fits[0].weights > 0.3) & (fits[1].weights > 0.3)
    seen &= signals[0].usable.all(axis=1) & signals[1].usable.all(axis=1)
    if seen.sum() < 8:
        return PATCH_NOISE, PATCH_NOISE
    gap = (fits[1].residual - fits[0].residual)[seen]
    noise = sum((one.spread[seen] / one.signal[seen]) ** 2 for one in signals)
    middle = gap.mean(axis=1)
    level = _robust_variance(middle) - float(np.median(noise)) / 3
    tint = 1.5 * _robust_variance((gap - middle[:, None]).ravel()) - float(np.median(noise))
    return (
        float(np.sqrt(max(level / 2, _LEAST_LEVEL**2))),
        float(np.sqrt(max(tint / 2, _LEAST_TINT**2))),
    )


def _robust_variance(values: Array) -> float:
    return float((1.4826 * np.median(np.abs(values - np.median(values)))) ** 2)


def _patch_precision(
    problems: list[GreyProblem], fits: tuple[GreyFit, GreyFit], level: float, tint: float
) -> Array:
    """Inverse covariance of a patch's six residuals, the first photo first; (n, 6, 6)."""
    one, each = np.ones((3, 3)), np.eye(3)
    count = len(fits[0].weights)
    whole = np.zeros((count, 6, 6))
    for k, (problem, fit) in enumerate(zip(problems, fits, strict=True)):
        curve = fit.curve.slope(problem.log_signal)
        variance = (curve * problem.relative_spread) ** 2
        block = variance[:, :, None] * each + level**2 * one + tint**2 * each
        block = block / np.maximum(fit.weights, 1e-3)[:, None, None]
        block += np.where(problem.signals.usable, 0.0, _UNSEEN)[:, :, None] * each
        whole[:, 3 * k : 3 * k + 3, 3 * k : 3 * k + 3] = block
    of_print = PRINT_LEVEL**2 * one + PRINT_TINT**2 * each
    whole += np.tile(of_print, (2, 2))
    return np.asarray(np.linalg.inv(whole))
