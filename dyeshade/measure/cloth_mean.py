"""The mean of a textured surface and how sure it is."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

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
    rows, columns = np.nonzero(mask)
    if not rows.size:
        raise ValueError("nothing to average")
    values = picture[rows, columns].astype(np.float64)
    mean = values.mean(axis=0)
    while True:
        sums, counts = _blocks(values, rows, columns, block_px)
        if len(counts) >= _LEAST_BLOCKS or block_px <= 2:
            break
        block_px /= 2
    if len(counts) < 2:
        return mean, np.asarray(np.cov(values.T) if len(values) > 1 else np.diag(mean**2 * 0.01))
    # A ratio estimate: blocks at the edge hold fewer pixels and weigh less.
    away = sums - counts[:, None] * mean
    covariance = away.T @ away / counts.sum() ** 2 * len(counts) / (len(counts) - 1)
    return mean, covariance


def _blocks(
    values: Array, rows: NDArray[np.intp], columns: NDArray[np.intp], block_px: float
) -> tuple[Array, Array]:
    down = ((rows - rows.min()) / block_px).astype(np.intp)
    across = ((columns - columns.min()) / block_px).astype(np.intp)
    which = down * (across.max() + 1) + across
    counts = np.asarray(np.bincount(which), dtype=np.float64)
    sums = np.stack([np.bincount(which, weights=values[:, k]) for k in range(3)], axis=-1)
    filled = counts > 0
    return np.asarray(sums[filled], dtype=np.float64), np.asarray(counts[filled])
