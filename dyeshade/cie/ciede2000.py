"""The CIEDE2000 colour difference.

A short implementation of our own rather than colour-science's: it is called on thousands of
draws for each sample, and importing colour-science would cost the command line a second or two.
The tests hold it to the published pairs and to colour-science.

References
----------
CIE 142-2001; ISO/CIE 11664-6:2014.
Sharma, G., Wu, W. and Dalal, E. N. (2005). The CIEDE2000 color-difference formula:
implementation notes, supplementary test data, and mathematical observations. Color Research and
Application 30(1), 21-30. doi:10.1002/col.20070. Symbols below are theirs.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from dyeshade.cie.white import FloatArray

_TWENTY_FIVE_TO_7 = 25.0**7
_TURN = 2.0 * np.pi
_TURNED = tuple(
    weight * turned(np.radians(degrees))
    for weight, degrees in ((0.17, 30.0), (0.32, 6.0), (0.20, 63.0))
    for turned in (np.cos, np.sin)
)


def ciede2000(lab_1: ArrayLike, lab_2: ArrayLike) -> FloatArray:
    """CIEDE2000 difference with all parametric factors (kL, kC, kH) at 1.

    Parameters
    ----------
    lab_1, lab_2 : array_like, shape (..., 3)
        L*, a*, b* of the two colours, against the same white; shapes broadcast.

    Returns
    -------
    ndarray, shape (...)
        The difference, symmetric in its arguments; 0-dimensional for a single pair.
    """
    lab_1 = np.asarray(lab_1, dtype=np.float64)
    lab_2 = np.asarray(lab_2, dtype=np.float64)
    l_1, a_1, b_1 = lab_1[..., 0], lab_1[..., 1], lab_1[..., 2]
    l_2, a_2, b_2 = lab_2[..., 0], lab_2[..., 1], lab_2[..., 2]

    c_bar_7 = _to_7((_length(a_1, b_1) + _length(a_2, b_2)) / 2.0)
    g = 0.5 * (1.0 - np.sqrt(c_bar_7 / (c_bar_7 + _TWENTY_FIVE_TO_7)))
    a_1, a_2 = (1.0 + g) * a_1, (1.0 + g) * a_2
    c_1, c_2 = _length(a_1, b_1), _length(a_2, b_2)
    h_1, h_2 = _hue(a_1, b_1), _hue(a_2, b_2)

    # The hue of a neutral is undefined; its difference is then zero and the mean is the other's.
    both_coloured = c_1 * c_2 != 0.0
    delta_h = np.where(both_coloured, h_2 - h_1, 0.0)
    # Opposite hues are not wrapped, and rounding must not decide: three published pairs are such.
    wrapped = np.abs(delta_h) > np.pi + 1e-12
    h_bar = np.where(both_coloured, (h_1 + h_2) / 2.0, h_1 + h_2)
    h_bar = np.where(wrapped, h_bar + np.pi, h_bar)
    h_bar = np.where(h_bar >= _TURN, h_bar - _TURN, h_bar)
    delta_h = np.where(wrapped, delta_h - np.sign(delta_h) * _TURN, delta_h)

    delta_l = l_2 - l_1
    delta_c = c_2 - c_1
    delta_big_h = 2.0 * np.sqrt(c_1 * c_2) * np.sin(delta_h / 2.0)

    l_bar_50 = ((l_1 + l_2) / 2.0 - 50.0) ** 2
    c_bar = (c_1 + c_2) / 2.0
    t = _hue_weight(h_bar)
    s_l = 1.0 + 0.015 * l_bar_50 / np.sqrt(20.0 + l_bar_50)
    s_c = 1.0 + 0.045 * c_bar
    s_h = 1.0 + 0.015 * c_bar * t
    delta_theta = np.radians(30.0) * np.exp(-(((np.degrees(h_bar) - 275.0) / 25.0) ** 2))
    c_bar_7 = _to_7(c_bar)
    r_c = 2.0 * np.sqrt(c_bar_7 / (c_bar_7 + _TWENTY_FIVE_TO_7))
    r_t = -np.sin(2.0 * delta_theta) * r_c

    lightness, chroma, hue = delta_l / s_l, delta_c / s_c, delta_big_h / s_h
    squared = lightness**2 + chroma**2 + hue**2 + r_t * chroma * hue
    # The rotation term may leave a square of -1e-17 between equal colours.
    return np.asarray(np.sqrt(np.maximum(squared, 0.0)))


def _hue(a: FloatArray, b: FloatArray) -> FloatArray:
    """Angle from 0 to a turn."""
    angle = np.arctan2(b, a)
    return np.asarray(np.where(angle < 0.0, angle + _TURN, angle))


def _hue_weight(hue: FloatArray) -> FloatArray:
    """The formula's T: 1 - 0.17 cos(h - 30) + 0.24 cos 2h + 0.32 cos(3h + 6) - 0.20 cos(4h - 63).

    Multiples of an angle are worked out from its own sine and cosine, which take the time here.
    """
    c_1, s_1 = np.cos(hue), np.sin(hue)
    c_2, s_2 = c_1 * c_1 - s_1 * s_1, 2.0 * s_1 * c_1
    c_3, s_3 = c_2 * c_1 - s_2 * s_1, s_2 * c_1 + c_2 * s_1
    c_4, s_4 = c_2 * c_2 - s_2 * s_2, 2.0 * s_2 * c_2
    weight = 1.0 - _TURNED[0] * c_1 - _TURNED[1] * s_1 + 0.24 * c_2
    weight += _TURNED[2] * c_3 - _TURNED[3] * s_3
    return np.asarray(weight - _TURNED[4] * c_4 - _TURNED[5] * s_4)


def _length(a: FloatArray, b: FloatArray) -> FloatArray:
    """Chroma of a* and b*; numpy's own guards against overflow, and takes five times as long."""
    return np.asarray(np.sqrt(a * a + b * b))


def _to_7(values: FloatArray) -> FloatArray:
    """The seventh power, by products: a tenth of a power's time."""
    square = values * values
    return np.asarray(square * square * square * values)
