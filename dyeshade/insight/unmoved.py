"""Whether all readings of a piece together say more than that it stayed as it was."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chi2

from dyeshade.insight.difference import Difference, DifferenceOf, Measured, stored_difference
from dyeshade.insight.occasions import Occasion, between

Array = NDArray[np.float64]

_LEAST_VALUE = 0.25


class Told:
    """Differences of occasions by their places; each is worked out once.

    Parameters
    ----------
    occasions : sequence of Occasion
    difference_of : callable
        Of two readings.
    """

    def __init__(self, occasions: Sequence[Occasion], difference_of: DifferenceOf) -> None:
        self.occasions = occasions
        self._difference_of = difference_of
        self._whole: dict[tuple[int, int], Difference] = {}
        self._quick: dict[tuple[int, int], Difference] = {}

    def __call__(self, i: int, j: int) -> Difference:
        """From one occasion to a later one."""
        if (i, j) not in self._whole:
            self._whole[i, j] = between(self.occasions[i], self.occasions[j], self._difference_of)
        return self._whole[i, j]

    def covariance(self, i: int, j: int) -> Array:
        """Of the difference of two occasions, whichever of them is first."""
        for pair in ((i, j), (j, i)):
            if pair in self._whole:
                return self._whole[pair].covariance
        pair = (min(i, j), max(i, j))
        if pair not in self._quick:
            one, other = self.occasions[pair[0]], self.occasions[pair[1]]
            self._quick[pair] = between(one, other, self._difference_of, quick=True)
        return self._quick[pair].covariance


def chance_of_none(
    readings: Sequence[Measured], difference_of: DifferenceOf = stored_difference
) -> float:
    """How often readings of a piece that never moved would differ at least as much (0..1).

    Each reading is taken as an occasion of its own.
    """
    return chance(Told([Occasion((one,), ()) for one in readings], difference_of))


def chance(told: Told) -> float:
    """How often occasions of a piece that never moved would differ at least as much (0..1).

    A chi-square over the differences of all occasions from the surest of them.

    What two of these differences have in common follows from the differences of their occasions
    from each other.
    """
    count = len(told.occasions)
    if count < 2:
        return 1.0
    total = [
        sum(float(np.trace(told.covariance(i, j))) for j in range(count) if j != i)
        for i in range(count)
    ]
    surest = int(np.argmin(total))
    others = [k for k in range(count) if k != surest]
    moved, roots = [], []
    for k in others:
        first, last = min(k, surest), max(k, surest)
        one = told(first, last)
        root = np.linalg.cholesky(one.covariance + 1e-8 * np.eye(3))
        roots.append(root)
        moved.append(np.linalg.solve(root, (one.lab_to - one.lab_from) * (1 if last == k else -1)))
    # In spreads of each difference: one unsure occasion leaves the others as sure as they are.
    whole = np.eye(3 * (count - 1))
    for i in range(count - 1):
        for j in range(i + 1, count - 1):
            block = roots[i] @ roots[i].T + roots[j] @ roots[j].T
            block = (block - told.covariance(others[i], others[j])) / 2
            block = np.linalg.solve(roots[i], np.linalg.solve(roots[j], block.T).T)
            whole[3 * i : 3 * i + 3, 3 * j : 3 * j + 3] = block
            whole[3 * j : 3 * j + 3, 3 * i : 3 * i + 3] = block.T
    values, axes = np.linalg.eigh(whole)
    # Pairs told in different ways need not fit into one covariance; with errors of their own,
    # occasions beside the surest one leave no value below a half.
    values = np.maximum(values, _LEAST_VALUE)
    weighted = (axes.T @ np.concatenate(moved)) ** 2 / values
    return float(chi2.sf(weighted.sum(), 3 * (count - 1)))
