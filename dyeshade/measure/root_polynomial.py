"""Colours in which a correction is written: roots of products, which exposure leaves alone.

A polynomial of a camera's channels fits well and then turns hues where the light is stronger. Roots
of the same products double where the light doubles, as the channels themselves do, and so does
colour. All that is used here is zero for a neutral: white and greys stay what the greys said.

References
----------
Finlayson, Mackiewicz and Hurlbert 2015, *Color correction using root-polynomial regression*, IEEE
Transactions on Image Processing 24 (5). The terms are theirs; that each is taken less what a
neutral would have there, so that white is kept, is ours.
"""

from __future__ import annotations

from itertools import combinations_with_replacement

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

DEGREES = (1, 2, 3)
"""1 is a plain 3 x 3 matrix."""

_DARKEST = 1e-6


def _powers(degree: int) -> list[tuple[int, int, int]]:
    """Exponents of the products of exactly this degree that are no pure power of one channel."""
    found = []
    for chosen in combinations_with_replacement(range(3), degree):
        power = (chosen.count(0), chosen.count(1), chosen.count(2))
        if max(power) < degree:
            found.append(power)
    return found


def term_count(degree: int) -> int:
    """How many terms `terms` gives: 2, 5 or 12."""
    return 2 + sum(len(_powers(order)) for order in range(2, degree + 1))


def terms(light: Array, degree: int) -> Array:
    """Terms of a root-polynomial that are zero for neutrals.

    Parameters
    ----------
    light : ndarray, shape (..., 3)
        A camera's channels, white divided out: neutrals are equal in all three. What lies below
        zero counts as zero.
    degree : int
        One of `DEGREES`.

    Returns
    -------
    ndarray, shape (..., term_count(degree))
        Each grows in proportion to the light.

    Raises
    ------
    ValueError
        For another degree.
    """
    if degree not in DEGREES:
        raise ValueError(f"not a degree: {degree}")
    held = np.maximum(np.asarray(light, dtype=float), _DARKEST)
    logs = np.log(held)
    columns = [held[..., 0] - held[..., 1], held[..., 2] - held[..., 1]]
    for order in range(2, degree + 1):
        for power in _powers(order):
            share = np.array(power) / order
            columns.append(np.exp(logs @ share) - held @ share)
    return np.stack(columns, axis=-1)
