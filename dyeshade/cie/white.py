"""The whites that dyeshade states colours against.

References
----------
CIE 15:2018, *Colorimetry*, 4th edition: tristimulus values of illuminant D65 for the CIE 1931
(2 degrees) standard observer, X = 95.04, Y = 100, Z = 108.88 (also CIE 15:2004, table T.3).
ICC.1:2022, 6.3.4.3: the illuminant of the profile connection space, X = 0.9642, Y = 1,
Z = 0.8249.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


def _constant(*values: float) -> FloatArray:
    array = np.array(values, dtype=np.float64)
    array.flags.writeable = False
    return array


D65: Final[FloatArray] = _constant(0.9504, 1.0, 1.0888)
"""XYZ of the perfect diffuser in daylight D65, seen at 2 degrees; Y = 1."""

D50: Final[FloatArray] = _constant(0.9642, 1.0, 0.8249)
"""XYZ of the ICC profile connection space's white; Y = 1."""


def xy_to_xyz(xy: tuple[float, float]) -> FloatArray:
    """XYZ with Y = 1 of a chromaticity.

    Parameters
    ----------
    xy : tuple of float
        CIE 1931 chromaticity coordinates x and y; y is not zero.

    Returns
    -------
    ndarray, shape (3,)
    """
    x, y = xy
    return np.array([x / y, 1.0, (1.0 - x - y) / y])
