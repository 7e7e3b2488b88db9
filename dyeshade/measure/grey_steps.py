"""How the greys of one photo are solved: damped steps, while patches that disagree lose weight."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.grey_problem import GreyProblem, GreysAt

Array = NDArray[np.float64]

_FREEDOM = 4.0
_LEAST_GAIN = 1e-3
"""Of the cost, what is not worth another step."""

_ANNEALING = (60.0, 30.0, 15.0, 8.0, 4.0, 2.5, 1.5, 1.5, 1.5)
"""Factors on the noise, one after the other: first nearly all patches are believed."""


@dataclass(frozen=True, eq=False)
class Solved:
    """Where annealing ended, in the order of `grey_fit.unpack`.

    Attributes
    ----------
    vector : ndarray, shape (p,)
    information : ndarray, shape (p, p)
        Curvature of the cost there: the inverse of the unknowns' covariance.
    weights : ndarray, shape (n,)
        0..1, how far each patch was believed.
    residual : ndarray, shape (n, 3)
    score : float
        Laplace's log evidence of the prior, up to what priors share.
    """

    vector: Array
    information: Array
    weights: Array
    residual: Array
    score: float


def anneal(problem: GreyProblem, start: Array, mean: Array, precision: Array) -> Solved:
    """Solve greys under one prior.

    Parameters
    ----------
    problem : GreyProblem
    start, mean : ndarray, shape (p,)
        Where to start, and the prior's mean; in the order of `grey_fit.unpack`.
    precision : ndarray, shape (p, p)
        Of the prior.

    Returns
    -------
    Solved
    """
    order, back = problem.order, problem.back
    prior = mean[order], precision[np.ix_(order, order)]
    # A step that went much too far overflows: it costs more than all, and is not taken.
    with np.errstate(over="ignore", invalid="ignore"):
        here = GreysAt(problem, start[order])
        for scale in _ANNEALING:
            here = _settle(problem, here, _believe(here, scale), prior, scale)
    weights = _believe(here, _ANNEALING[-1])
    score, information = _evidence(here, weights, prior)
    return Solved(
        here.vector[back], information[np.ix_(back, back)], weights, here.residual.T, score
    )


def _settle(
    problem: GreyProblem, here: GreysAt, weights: Array, prior: tuple[Array, Array], scale: float
) -> GreysAt:
    """A few damped Gauss-Newton steps at fixed weights; each lowers the cost or is not taken."""
    damping = 1e-3
    counted = weights / scale**2
    cost, importance = _cost(here, counted, prior)
    information, gradient = _curvature(here, importance, prior)
    for _ in range(8):
        damped = information.copy()
        damped.flat[:: len(damped) + 1] *= 1.0 + damping
        step = np.linalg.solve(damped, gradient)
        if 0.5 * gradient @ step < _LEAST_GAIN * cost:
            break
        there = GreysAt(problem, here.vector - step)
        # The spread counts as given within a step: were it let free, a flat curve would look
        # certain.
        tried, importance = _cost(there, counted, prior)
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
    return here


def _cost(here: GreysAt, counted: Array, prior: tuple[Array, Array]) -> tuple[float, Array]:
    """Half the weighted square, and how much each residual counts, (3, n)."""
    mean, precision = prior
    importance = here.certainty * counted
    gap = here.vector - mean
    square = np.vdot(importance * here.residual, here.residual)
    return 0.5 * float(square + gap @ (precision @ gap)), importance


def _curvature(here: GreysAt, importance: Array, prior: tuple[Array, Array]) -> tuple[Array, Array]:
    """Curvature (p, p) and gradient (p,) of the cost."""
    mean, precision = prior
    information, gradient = here.curvature(importance)
    information += precision
    gradient += precision @ (here.vector - mean)
    return information, gradient


def _misfit(here: GreysAt, scale: float) -> Array:
    """Sum over channels of squared residuals in units of their noise, shape (n,)."""
    return np.asarray((here.certainty * here.residual**2).sum(axis=0) / scale**2)


def _believe(here: GreysAt, scale: float) -> Array:
    """Student's t weights, one a patch: all channels of a hidden patch go together."""
    return np.asarray(_FREEDOM / (_FREEDOM + _misfit(here, scale)))


def _evidence(here: GreysAt, weights: Array, prior: tuple[Array, Array]) -> tuple[float, Array]:
    """Laplace's log evidence of a prior (up to what priors share), and the information there."""
    mean, precision = prior
    count = (here.certainty > 0.0).sum(axis=0)
    square = _misfit(here, _ANNEALING[-1])
    likelihood = -0.5 * ((_FREEDOM + count) * np.log1p(square / _FREEDOM)).sum()
    information, _ = _curvature(here, here.certainty * weights, prior)
    gap = here.vector - mean
    score = likelihood - 0.5 * gap @ precision @ gap
    score += 0.5 * np.linalg.slogdet(precision)[1] - 0.5 * np.linalg.slogdet(information)[1]
    return float(score), information
