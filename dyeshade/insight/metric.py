"""CIEDE2000 as a ruler near a shade, and evenly spread points of a normal distribution."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtri
from scipy.stats import qmc

from dyeshade.cie.metric import metric_at, root_of

__all__ = ["metric_at", "normal_points", "root_of", "spread_points"]

Array = NDArray[np.float64]


@lru_cache(maxsize=8)
def normal_points(count_log2: int = 12, dimensions: int = 3) -> Array:
    """Points of a standard normal distribution, spread evenly; always the same ones.

    Shape (2**count_log2, dimensions). With 4096 of them a chance is good to about 0.002.

    References
    ----------
    Sobol', I. M. (1967). On the distribution of points in a cube and the approximate evaluation of
    integrals. USSR Computational Mathematics and Mathematical Physics 7(4), 86-112.
    """
    sobol = qmc.Sobol(dimensions, scramble=True, rng=np.random.default_rng(20))
    points = np.asarray(ndtri(sobol.random_base2(count_log2)))
    points.flags.writeable = False
    return points


def spread_points(centre: ArrayLike, covariance: ArrayLike, count_log2: int = 12) -> Array:
    """Evenly spread points of a normal distribution of shades, shape (2**count_log2, 3)."""
    values, axes = np.linalg.eigh(np.asarray(covariance, float))
    root = axes * np.sqrt(np.maximum(values, 0.0))
    return np.asarray(np.asarray(centre, float) + normal_points(count_log2) @ root.T)
