"""CIEDE2000 as a ruler near a shade: for small differences it is a plain length in bent axes."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.white import FloatArray

_STEP = 0.05
"""Lab units: small beside what CIEDE2000 bends over, large beside rounding."""


def metric_at(lab: ArrayLike) -> FloatArray:
    """The matrix M with CIEDE2000² = d · M · d for a small difference d in Lab about a shade.

    Parameters
    ----------
    lab : array_like, shape (..., 3)

    Returns
    -------
    ndarray, shape (..., 3, 3)
        Symmetric and positive.

    References
    ----------
    Pant, D. R. and Farup, I. (2012). Riemannian formulation and comparison of color difference
    formulas. Color Research and Application 37(6), 429-440. doi:10.1002/col.20710 (the idea; here
    the matrix is read off the formula itself by small steps).
    """
    middle = np.asarray(lab, float)[..., np.newaxis, :]
    unit = np.eye(3)
    steps = _STEP * np.concatenate([unit, unit[[0, 0, 1]] + unit[[1, 2, 2]]])
    squares = (ciede2000(middle - steps / 2, middle + steps / 2) / _STEP) ** 2
    metric = np.empty((*squares.shape[:-1], 3, 3))
    for i in range(3):
        metric[..., i, i] = squares[..., i]
    for k, (i, j) in enumerate(((0, 1), (0, 2), (1, 2)), 3):
        both = (squares[..., k] - squares[..., i] - squares[..., j]) / 2
        metric[..., i, j] = metric[..., j, i] = both
    return metric


def root_of(metric: FloatArray) -> FloatArray:
    """A matrix R with M = Rᵀ R, so that CIEDE2000 is the plain length of R d; shape (3, 3)."""
    values, axes = np.linalg.eigh(metric)
    return np.asarray((axes * np.sqrt(np.maximum(values, 1e-12))).T)
