"""How far the truth may lie from a stated shade, in CIEDE2000.

References
----------
JCGM 101:2008, propagation of distributions using a Monte Carlo method. The draws here are a
fixed, evenly spread set instead of random ones, so that the same covariance always gives the
same number and four thousand draws do what a hundred thousand random ones would.
Evenly spread points: Roberts, M. (2018), "The unreasonable effectiveness of quasirandom
sequences" (the additive recurrence on the generalised golden ratio).
"""

from __future__ import annotations

from functools import lru_cache
from statistics import NormalDist

import numpy as np
from numpy.typing import ArrayLike

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.white import FloatArray

_DRAWS = 4096
# The real root of x**4 = x + 1.
_GOLDEN_3 = 1.2207440846057596


@lru_cache(maxsize=1)
def _standard_draws() -> FloatArray:
    """Draws of three independent standard normals, shape (4096, 3), mean and covariance exact."""
    steps = 1.0 / _GOLDEN_3 ** np.arange(1, 4)
    # Half of the points and their mirror images: the mean is then zero exactly.
    index = np.arange(1, _DRAWS // 2 + 1)[:, np.newaxis]
    uniform = (0.5 + index * steps) % 1.0
    to_normal = NormalDist().inv_cdf
    half = np.array([[to_normal(value) for value in row] for row in uniform.tolist()])
    draws = np.vstack([half, -half])
    whiten = np.linalg.inv(np.linalg.cholesky(np.cov(draws, rowvar=False, bias=True)))
    draws = draws @ whiten.T
    draws.flags.writeable = False
    return np.asarray(draws)


def u95_of(lab: ArrayLike, covariance: ArrayLike) -> float:
    """The CIEDE2000 within which the truth lies 95 times in 100.

    Parameters
    ----------
    lab : array_like, shape (3,)
        The stated shade: L*, a*, b*.
    covariance : array_like, shape (3, 3)
        Covariance of its error in L*, a*, b*, taken as normal; symmetric, no negative variance.

    Returns
    -------
    float
        In CIEDE2000 units, 0 for a covariance of zeros.

    Raises
    ------
    ValueError
        Where the covariance is not finite, not symmetric or has a negative eigenvalue beyond
        rounding.
    """
    centre = np.asarray(lab, dtype=np.float64)
    matrix = np.asarray(covariance, dtype=np.float64)
    if centre.shape != (3,) or matrix.shape != (3, 3):
        raise ValueError(f"one shade and its covariance, not {centre.shape} and {matrix.shape}")
    if not (np.all(np.isfinite(matrix)) and np.all(np.isfinite(centre))):
        raise ValueError("shade or covariance is not finite")
    size = float(np.max(np.abs(matrix)))
    if not np.allclose(matrix, matrix.T, rtol=0.0, atol=1e-6 * size):
        raise ValueError("covariance is not symmetric")
    variances, axes = np.linalg.eigh((matrix + matrix.T) / 2.0)
    if variances[0] < -1e-6 * size:
        raise ValueError(f"covariance has a negative variance {variances[0]}")
    root = axes * np.sqrt(np.maximum(variances, 0.0))
    truths = centre + _standard_draws() @ root.T
    return float(np.quantile(ciede2000(centre, truths), 0.95))
