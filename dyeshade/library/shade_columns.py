"""Shades of many readings as arrays: what is looked through at once, nothing made of each row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.library.edit import Reader
from dyeshade.library.readings import NEWEST
from dyeshade.library.shade_records import Reading

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class ShadeColumns:
    """Readings side by side.

    Attributes
    ----------
    reading_ids, piece_ids : ndarray of int, shape (n,)
    lab : ndarray, shape (n, 3)
    covariance : ndarray, shape (n, 6)
        Both parts together, as `dyeshade.library.shade_records` keeps six numbers.
    """

    reading_ids: NDArray[np.int64]
    piece_ids: NDArray[np.int64]
    lab: Array
    covariance: Array


def shade_columns(reader: Reader, wet_too: bool = False) -> ShadeColumns:
    """The newest shade of every sample of every photo, in the order of their ids.

    Parameters
    ----------
    reader : Reader
    wet_too : bool
        Whether wet readings are among them.
    """
    condition = NEWEST if wet_too else f"{NEWEST} AND state <> 'wet'"
    rows = reader.rows(
        "SELECT id, piece_id, lab_l, lab_a, lab_b, covariance_photo, covariance_common"
        f" FROM reading WHERE {condition} ORDER BY id"
    )
    if not rows:
        return columns_of(())
    ids, pieces, l_star, a_star, b_star, photo, common = zip(*rows, strict=True)
    return ShadeColumns(
        np.array(ids, np.int64),
        np.array(pieces, np.int64),
        np.stack([l_star, a_star, b_star], axis=1).astype(float),
        _sixes(photo) + _sixes(common),
    )


def _sixes(blobs: Sequence[bytes]) -> Array:
    """Six little-endian numbers a blob, as `dyeshade.library.tables` packs them."""
    return np.frombuffer(b"".join(blobs), "<f8").reshape(-1, 6).astype(float)


def columns_of(readings: Sequence[Reading]) -> ShadeColumns:
    """Readings at hand as columns."""
    return ShadeColumns(
        np.array([one.id for one in readings], np.int64),
        np.array([one.piece_id for one in readings], np.int64),
        np.array([one.lab for one in readings], float).reshape(-1, 3),
        np.array(
            [np.add(one.covariance_photo, one.covariance_common) for one in readings], float
        ).reshape(-1, 6),
    )
