"""Chromatic adaptation: what a colour seen under one white is under another.

References
----------
ICC.1:2022, annex E.3 (linear Bradford), which ICC profiles use to reach D50; matrix by Lam
(1985), as quoted there.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from dyeshade.cie.white import FloatArray

BRADFORD: Final[FloatArray] = np.array(
    [
        [0.8951, 0.2664, -0.1614],
        [-0.7502, 1.7135, 0.0367],
        [0.0389, -0.0685, 1.0296],
    ]
)
"""XYZ to the sharpened cone responses of the linear Bradford model."""


def bradford(white_from: ArrayLike, white_to: ArrayLike) -> FloatArray:
    """The matrix that carries XYZ seen under one white over to another.

    Parameters
    ----------
    white_from, white_to : array_like, shape (3,)
        XYZ of both whites; where their Y differ, that is scaled too, so that the one white
        becomes the other exactly.

    Returns
    -------
    ndarray, shape (3, 3)
        Multiplies column vectors of XYZ.

    Raises
    ------
    ValueError
        Where the first white has a cone response of zero or less.
    """
    response_from = BRADFORD @ np.asarray(white_from, dtype=np.float64)
    response_to = BRADFORD @ np.asarray(white_to, dtype=np.float64)
    if np.any(response_from <= 0.0):
        raise ValueError(f"not a white: XYZ {white_from!r}")
    scaled = (response_to / response_from)[:, np.newaxis] * BRADFORD
    return np.asarray(np.linalg.solve(BRADFORD, scaled))
