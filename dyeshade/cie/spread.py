"""How far the truth may lie from a stated shade, in CIEDE2000.

What JCGM 101 does with a few hundred thousand random draws is done here by going outwards from
the shade along four hundred directions spread evenly over the sphere: along each, the probability
of staying within a radius is known exactly (a chi distribution with three degrees of freedom).
The same covariance thus always gives the same number, to a part in a thousand, within a
millisecond; the tests hold it to random draws.

References
----------
JCGM 101:2008, propagation of distributions using a Monte Carlo method (what this stands for).
Swinbank, R. and Purser, R. J. (2006). Fibonacci grids: a novel approach to global modelling.
Quarterly Journal of the Royal Meteorological Society 132, 1769-1793 (the directions).
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.white import FloatArray

_DIRECTIONS = 400
# Beyond six standard deviations lies a probability of 1e-7, which no quantile here can see.
_FARTHEST = 6.0
_STEP = 1e-3
_ROUNDS = 4
_CLOSE = 1e-6


@lru_cache(maxsize=1)
def _directions() -> FloatArray:
    """Unit vectors spread evenly over the sphere, shape (400, 3)."""
    index = np.arange(_DIRECTIONS) + 0.5
    height = 1.0 - 2.0 * index / _DIRECTIONS
    turn = math.pi * (3.0 - math.sqrt(5.0)) * index
    across = np.sqrt(1.0 - height**2)
    directions = np.stack([across * np.cos(turn), across * np.sin(turn), height], axis=1)
    directions.flags.writeable = False
    return np.asarray(directions)


@lru_cache(maxsize=1)
def _chi3() -> tuple[FloatArray, FloatArray]:
    """Probability that three standard normals lie within a radius, and its slope; by `_STEP`."""
    radii = np.arange(0.0, _FARTHEST + 1.5 * _STEP, _STEP)
    erf = np.array([math.erf(value) for value in (radii / math.sqrt(2.0)).tolist()])
    falling = math.sqrt(2.0 / math.pi) * radii * np.exp(-(radii**2) / 2.0)
    return erf - falling, radii * falling


def _quantiles(scales: FloatArray, probability: float, starts: FloatArray) -> FloatArray:
    """The differences within which lies `probability`, at `scales` (n, k) units of it per radius.

    Newton's method: beyond the first guesses the probability bends one way, which leads it there
    from below; a step that would more than halve or double the difference is shortened.
    """
    inside, slope = _chi3()
    per_unit = 1.0 / scales
    count = scales.shape[1]
    found = starts
    for _ in range(60):
        steps = np.minimum(found[:, None] * per_unit, _FARTHEST) * (1.0 / _STEP)
        before = steps.astype(np.intp)
        reached = inside.take(before)
        reached += (steps - before) * (inside.take(before + 1) - reached)
        missed = reached.sum(axis=1) / count - probability
        if (np.abs(missed) < _CLOSE).all():
            break
        gain = np.einsum("nk,nk->n", slope.take(before), per_unit) / count
        better = found - missed / np.maximum(gain, 1e-300)
        found = np.minimum(np.maximum(better, found / 2.0), 2.0 * found)
    return found


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
    centre, matrix = np.asarray(lab, dtype=np.float64), np.asarray(covariance, dtype=np.float64)
    if centre.shape != (3,) or matrix.shape != (3, 3):
        raise ValueError(f"one shade and its covariance, not {centre.shape} and {matrix.shape}")
    return float(u95s_of(centre[None], matrix[None])[0])


def u95s_of(labs: ArrayLike, covariances: ArrayLike) -> FloatArray:
    """`u95_of` for several shades at once, which takes hardly longer than for one.

    Parameters
    ----------
    labs : array_like, shape (n, 3)
        One at least.
    covariances : array_like, shape (n, 3, 3)

    Returns
    -------
    ndarray, shape (n,)

    Raises
    ------
    ValueError
        As `u95_of`, of any of them.
    """
    centres = np.asarray(labs, dtype=np.float64)
    matrices = np.asarray(covariances, dtype=np.float64)
    if centres.ndim != 2 or matrices.shape != (len(centres), 3, 3) or centres.shape[1] != 3:
        raise ValueError(f"shades and covariances, not {centres.shape} and {matrices.shape}")
    if not (np.isfinite(matrices).all() and np.isfinite(centres).all()):
        raise ValueError("shade or covariance is not finite")
    turned = matrices.transpose(0, 2, 1)
    sizes = np.abs(matrices).max(axis=(1, 2))
    if (np.abs(matrices - turned).max(axis=(1, 2)) > 1e-6 * sizes).any():
        raise ValueError("covariance is not symmetric")
    variances, axes = np.linalg.eigh((matrices + turned) / 2.0)
    if (variances[:, 0] < -1e-6 * sizes).any():
        raise ValueError(f"covariance has a negative variance {variances[:, 0].min()}")
    roots = axes * np.sqrt(np.maximum(variances, 0.0))[:, None, :]
    outwards = _directions() @ roots.transpose(0, 2, 1)

    # CIEDE2000 is not proportional to the distance, so each direction's scale is taken again
    # where the boundary was last found to be.
    radii = np.full(outwards.shape[:2], 2.0)
    u95s: FloatArray | None = None
    for _ in range(_ROUNDS):
        differences = ciede2000(centres[:, None], centres[:, None] + outwards * radii[..., None])
        scales = np.maximum(differences / radii, 1e-12)
        starts = 2.0 * scales.max(axis=1) if u95s is None else u95s
        u95s = _quantiles(scales, 0.95, starts)
        radii = np.clip(u95s[:, None] / scales, 1e-3, _FARTHEST)
    assert u95s is not None
    return np.where(sizes < 1e-18, 0.0, u95s)
