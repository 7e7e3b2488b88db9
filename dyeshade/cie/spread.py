"""How far the truth may lie from a stated shade, in CIEDE2000.

What JCGM 101 does with a few hundred thousand random draws is done here by going outwards from
the shade along a thousand directions spread evenly over the sphere: along each, the probability
of staying within a radius is known exactly (a chi distribution with three degrees of freedom).
The same covariance thus always gives the same number, to a few parts in a thousand, within a
few milliseconds; the tests hold it to random draws.

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

_DIRECTIONS = 1000
# Beyond six standard deviations lies a probability of 1e-7, which no quantile here can see.
_FARTHEST = 6.0
_STEP = 1e-3
_ROUNDS = 4
_CLOSE = 1e-7


@lru_cache(maxsize=1)
def _directions() -> FloatArray:
    """Unit vectors spread evenly over the sphere, shape (1000, 3)."""
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


def _quantile(scale: FloatArray, probability: float, start: float) -> float:
    """The difference within which lies `probability`, at `scale` units of it per unit radius.

    Newton's method: beyond the first guesses the probability bends one way, which leads it there
    from below; a step that would more than halve or double the difference is shortened.
    """
    inside, slope = _chi3()
    per_unit = 1.0 / scale
    found = start
    for _ in range(60):
        steps = np.minimum(found * per_unit, _FARTHEST) * (1.0 / _STEP)
        before = steps.astype(np.intp)
        reached = inside.take(before)
        reached += (steps - before) * (inside.take(before + 1) - reached)
        missed = float(reached.mean()) - probability
        if abs(missed) < _CLOSE:
            break
        gain = float((slope.take(before) * per_unit).mean())
        found = min(max(found - missed / max(gain, 1e-300), found / 2.0), 2.0 * found)
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
    if size < 1e-18:
        return 0.0
    root = axes * np.sqrt(np.maximum(variances, 0.0))
    outwards = _directions() @ root.T

    # CIEDE2000 is not proportional to the distance, so each direction's scale is taken again
    # where the boundary was last found to be.
    radius = np.full(_DIRECTIONS, 2.0)
    u95 = 0.0
    for _ in range(_ROUNDS):
        difference = ciede2000(centre, centre + outwards * radius[:, np.newaxis])
        scale = np.maximum(difference / radius, 1e-12)
        u95 = _quantile(scale, 0.95, u95 or 2.0 * float(scale.max()))
        radius = np.clip(u95 / scale, 1e-3, _FARTHEST)
    return u95
