"""What a Gaussian process of shade against pH takes to be likely before any bath is seen.

Shades are handled as steps of CIEDE2000 about the series' mean shade (three numbers, each 1 just
visible), so that a length, three sizes and one spread describe any dyestuff. What is taken to be
likely is wide and ours: shades turn over some 1.5 pH (a factor of 2 either way), move by some 8
units in all (a factor of 3), and baths at one pH differ by 0.8 (a factor of 2).

References
----------
Rasmussen, C. E. and Williams, C. K. I. (2006). Gaussian Processes for Machine Learning, 2.7 and
4.2 (Matern class), 5.4 (marginal likelihood).
McHutchon, A. and Rasmussen, C. E. (2011). Gaussian process training with input noise. Advances in
Neural Information Processing Systems 24 (an unsure pH as a slope's worth of unsure shade).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve

Array = NDArray[np.float64]

MEAN_SD = 60.0
"""Standard deviation of the level of the whole curve: anywhere."""

PRIOR_MEAN = np.log([1.5, 8.0, 8.0, 8.0, 0.8])
PRIOR_SD = np.array([0.7, 1.1, 1.1, 1.1, 0.7])
"""Of the logarithms of length in pH, size along three steps, and spread from bath to bath."""

_FARTHEST = 4.0
LIMITS = list(
    zip(PRIOR_MEAN - _FARTHEST * PRIOR_SD, PRIOR_MEAN + _FARTHEST * PRIOR_SD, strict=True)
)
"""Within which they are sought: beyond, covariances can no longer be told from singular ones."""


@dataclass(frozen=True, eq=False)
class Seen:
    """What was seen of a series, in steps of CIEDE2000 about its mean.

    Attributes
    ----------
    ph : ndarray, shape (n,)
    shade : ndarray, shape (3 n,)
        Three numbers a reading.
    error : ndarray, shape (3 n, 3 n)
        Covariance of their errors but for what differs from bath to bath.
    same_bath : ndarray, shape (n, n)
        1 where two readings are of one bath, else 0.
    """

    ph: Array
    shade: Array
    error: Array
    same_bath: Array


def matern(one: Array, other: Array, length: float) -> Array:
    """Matern kernel of order 5/2, shape (n, m)."""
    apart = np.abs(one[:, None] - other[None, :]) * (np.sqrt(5.0) / length)
    return np.asarray((1 + apart + apart**2 / 3) * np.exp(-apart))


def covariance(one: Array, other: Array, logs: Array) -> Array:
    """Covariance of the curve at two lists of pH, shape (3 n, 3 m)."""
    alike = matern(one, other, float(np.exp(logs[0])))
    sizes = np.diag(np.exp(2 * logs[1:4]))
    return np.asarray(np.kron(alike, sizes) + np.kron(np.ones_like(alike), MEAN_SD**2 * np.eye(3)))


def seen_covariance(seen: Seen, logs: Array) -> Array:
    """Covariance of what was seen, shape (3 n, 3 n)."""
    spread = np.exp(2 * logs[4]) * np.kron(seen.same_bath, np.eye(3))
    return np.asarray(covariance(seen.ph, seen.ph, logs) + seen.error + spread)


def unlikely(logs: Array, seen: Seen) -> float:
    """Negative logarithm of how likely lengths, sizes and spread are, after what was seen."""
    factor = cho_factor(seen_covariance(seen, logs), lower=True)
    fit = 0.5 * float(seen.shade @ cho_solve(factor, seen.shade))
    fit += float(np.log(np.diag(factor[0])).sum())
    return fit + 0.5 * float((((logs - PRIOR_MEAN) / PRIOR_SD) ** 2).sum())
