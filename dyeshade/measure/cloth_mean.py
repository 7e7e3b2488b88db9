"""The mean of a textured surface and how sure it is."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.blocks import Masked

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Mask = NDArray[np.bool_]

_LEAST_BLOCKS = 6


def mean_and_covariance(picture: Picture, mask: Mask, block_px: float) -> tuple[Array, Array]:
    """Linear mean over a mask, and the covariance of that mean.

    Neighbouring pixels of cloth are alike (one strand, one shadow), so that the covariance of
    single pixels divided by their number would be far too small. Blocks larger than the texture
    count as independent instead (batch means).

    Parameters
    ----------
    picture : ndarray, shape (h, w, 3)
    mask : ndarray of bool, shape (h, w)
    block_px : float
        Side of a block; halved until there are enough blocks.

    Returns
    -------
    mean : ndarray, shape (3,)
    covariance : ndarray, shape (3, 3)

    Raises
    ------
    ValueError
        An empty mask.
    """
    masked = Masked(picture, mask)
    while True:
        sums, counts = masked.blocks(block_px)
        mean = np.asarray(sums.sum(axis=0) / masked.count, dtype=np.float64)
        sums, counts = sums[counts > 0], counts[counts > 0]
        if len(counts) >= _LEAST_BLOCKS or block_px <= 2:
            break
        block_px /= 2
    if len(counts) < 2:
        values = masked.values()
        return mean, np.asarray(np.cov(values.T) if len(values) > 1 else np.diag(mean**2 * 0.01))
    # A ratio estimate: blocks at the edge hold fewer pixels and weigh less.
    away = sums - counts[:, None] * mean
    covariance = away.T @ away / counts.sum() ** 2 * len(counts) / (len(counts) - 1)
    return mean, covariance
