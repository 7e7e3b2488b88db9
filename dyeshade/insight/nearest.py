"""Which readings of the library come nearest to a colour."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.interval import DifferenceInterval, difference_interval
from dyeshade.insight.metric import normal_points
from dyeshade.insight.tolerance import TOLERANCE
from dyeshade.library.shade_columns import ShadeColumns
from dyeshade.library.shade_records import matrix_of

Array = NDArray[np.float64]

_BLOCK = 8192
"""Readings looked at in one go: so much stays near the processor."""

_POINTS_LOG2 = 10


@dataclass(frozen=True)
class NearShade:
    """A reading and how near it comes.

    Attributes
    ----------
    reading_id, piece_id : int
    difference : DifferenceInterval
        From the wanted colour.
    chance : float
        That the true difference is at most the tolerance (0..1).
    """

    reading_id: int
    piece_id: int
    difference: DifferenceInterval
    chance: float


def nearest_shades(
    columns: ShadeColumns,
    wanted: ArrayLike,
    wanted_covariance: ArrayLike | None = None,
    tolerance: float = TOLERANCE,
    most: int = 20,
    one_a_piece: bool = True,
) -> list[NearShade]:
    """The readings nearest to a colour, the nearest first.

    Parameters
    ----------
    columns : ShadeColumns
        What is looked through.
    wanted : array_like, shape (3,)
        L*, a*, b*.
    wanted_covariance : array_like, shape (3, 3), optional
        Of a wanted colour that was measured.
    tolerance : float
        CIEDE2000 for `NearShade.chance`.
    most : int
        How many are told.
    one_a_piece : bool
        Whether only the nearest reading of each piece is told.

    Returns
    -------
    list of NearShade
    """
    target = np.asarray(wanted, float)
    spread = np.zeros((3, 3)) if wanted_covariance is None else np.asarray(wanted_covariance, float)
    order = _nearest_rows(columns, differences(columns.lab, target), most, one_a_piece)
    if not len(order):
        return []
    spreads = np.array([matrix_of(tuple(columns.covariance[k])) for k in order]) + spread
    chances = _chances(target, columns.lab[order], spreads, tolerance)
    return [
        NearShade(
            int(columns.reading_ids[row]),
            int(columns.piece_ids[row]),
            difference_interval(target, columns.lab[row], covariance),
            chance,
        )
        for row, covariance, chance in zip(order, spreads, chances, strict=True)
    ]


def differences(lab: Array, wanted: Array) -> Array:
    """CIEDE2000 of many shades from one, shape (n,)."""
    blocks = [ciede2000(lab[k : k + _BLOCK], wanted) for k in range(0, len(lab), _BLOCK)]
    return np.concatenate(blocks) if blocks else np.zeros(0)


def _nearest_rows(
    columns: ShadeColumns, size: Array, most: int, one_a_piece: bool
) -> NDArray[np.int64]:
    looked_at = most
    while True:
        count = min(looked_at, len(size))
        every = count == len(size)
        rows = np.arange(count) if every else np.argpartition(size, count)[:count]
        # Of equal differences the newer reading comes first.
        rows = rows[np.lexsort((-columns.reading_ids[rows], size[rows]))]
        if one_a_piece:
            _, firsts = np.unique(columns.piece_ids[rows], return_index=True)
            rows = rows[np.sort(firsts)]
        if len(rows) >= most or every:
            return np.asarray(rows[:most])
        # A piece of many readings has filled the list: look further.
        looked_at *= 4


def _chances(wanted: Array, labs: Array, spreads: Array, tolerance: float) -> list[float]:
    """As `dyeshade.insight.interval.chance_below`, for many at once."""
    values, axes = np.linalg.eigh(spreads)
    roots = axes * np.sqrt(np.maximum(values, 0.0))[:, None, :]
    points = labs[:, None, :] + normal_points(_POINTS_LOG2) @ roots.transpose(0, 2, 1)
    return [float(one) for one in (ciede2000(points, wanted) <= tolerance).mean(axis=1)]
