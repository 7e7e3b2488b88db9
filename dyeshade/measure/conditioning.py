"""What spots that are known to have stayed tell of one that may have moved.

All errors are taken as normal and as sums of parts whose covariance between any two spots is
known, but for how large two of the parts are in this pair of photos. The spots that stayed tell
that, too: sizes are weighed by how likely they make what was seen, and the answer is the mean over
them (Rasmussen and Williams 2006, 2.2 and 5.2).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_UNLIKELY = 30.0
"""Squared misfit of three numbers beyond which a spot is left out: by chance once in 700 000."""

_MOST_LEFT_OUT = 1 / 3
_SIZES = (0.3, 0.55, 0.9, 1.4, 2.0)
"""Sizes that a part may have, as multiples of its usual one; none is ever wholly gone (ours)."""


@dataclass(frozen=True, eq=False)
class Predicted:
    """The error at the last spot.

    Attributes
    ----------
    mean : ndarray, shape (3,)
    covariance : ndarray, shape (3, 3)
    used : int
        Spots that told of it.
    squared_sizes : ndarray, shape (p,)
        Mean square of each sized part's size.
    """

    mean: Array
    covariance: Array
    used: int
    squared_sizes: Array


def predict_last(seen: Array, known: Array, sized: Sequence[Array]) -> Predicted:
    """The error at the last of n + 1 spots, from what the first n show.

    Parameters
    ----------
    seen : ndarray, shape (n, 3)
        Errors at the first n spots.
    known : ndarray, shape (3 (n + 1), 3 (n + 1))
        Covariance of all errors whose size is known: noise, light, tone curve. The last spot's own
        must be in it.
    sized : sequence of ndarray
        Covariances of parts of unknown size, of the same shape.

    Returns
    -------
    Predicted
    """
    count = len(seen)
    whole = known + sum(sized)
    if count == 0:
        return Predicted(np.zeros(3), whole, 0, np.ones(len(sized)))
    kept = np.ones(count, dtype=bool)
    sizes = list(product(_SIZES, repeat=len(sized)))
    while True:
        answers = [
            _with_sizes(
                seen, known + sum(s * s * part for s, part in zip(how, sized, strict=True)), kept
            )
            for how in sizes
        ]
        misfit = max(answers, key=lambda one: one[0])[3]
        worst = int(np.argmax(misfit))
        if misfit[worst] < _UNLIKELY or (~kept).sum() + 1 > _MOST_LEFT_OUT * count:
            break
        kept[np.flatnonzero(kept)[worst]] = False
    likely = np.array([one[0] for one in answers])
    weights = np.exp(likely - likely.max())
    weights /= weights.sum()
    means = np.array([one[1] for one in answers])
    mean = weights @ means
    spread = means - mean
    covariance = np.einsum("s,sij->ij", weights, np.array([one[2] for one in answers]))
    covariance = covariance + np.einsum("s,si,sj->ij", weights, spread, spread)
    return Predicted(mean, covariance, int(kept.sum()), weights @ np.square(sizes))


def _with_sizes(
    seen: Array, whole: Array, kept: NDArray[np.bool_]
) -> tuple[float, Array, Array, Array]:
    """Log likelihood, mean and covariance at the last spot, and each kept spot's misfit."""
    rows = np.flatnonzero(np.repeat(kept, 3))
    own = whole[np.ix_(rows, rows)]
    across = whole[-3:][:, rows]
    inverse = np.linalg.inv(own)
    pull = inverse @ seen[kept].ravel()
    likely = -0.5 * float(seen[kept].ravel() @ pull) - 0.5 * float(np.linalg.slogdet(own)[1])
    blocks = [inverse[i : i + 3, i : i + 3] for i in range(0, len(rows), 3)]
    misfit = [
        float(part @ np.linalg.solve(block, part))
        for part, block in zip(pull.reshape(-1, 3), blocks, strict=True)
    ]
    covariance = whole[-3:, -3:] - across @ inverse @ across.T
    return likely, across @ pull, (covariance + covariance.T) / 2, np.array(misfit)
