"""Grey scale grades worked out from a colour difference: change in colour, and staining of white.

Grade 5 is no change, 1 the strongest, in halves. The formulas of both standards are given from
memory; the tests hold them to what is published about them (the scales' own steps, where the
branches meet, symmetry) and to a second, independent writing.

References
----------
ISO 105-A05:1996, Textiles. Tests for colour fastness. Instrumental assessment of change in colour
for determination of grey scale rating.
ISO 105-A04:1989, Instrumental assessment of the degree of staining of adjacent fabrics.
ISO 105-A02:1993 and ISO 105-A03:2019, the grey scales themselves.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

CHANGE_HALVES = (0.40, 1.25, 2.10, 2.95, 4.10, 5.80, 8.20, 11.60)
"""Upper bounds of the difference of ISO 105-A05 for grades 5, 4-5, 4, ... 1-2; 1 beyond."""

HALVES = ("5", "4-5", "4", "3-4", "3", "2-3", "2", "1-2", "1")
"""Grades as the standards write them."""


def change_difference(lab_from: ArrayLike, lab_to: ArrayLike) -> float:
    """The difference ΔE_F of ISO 105-A05 between an original and a treated piece.

    Parameters
    ----------
    lab_from, lab_to : array_like, shape (3,)
        L*, a*, b*. The standard knows D65 and 10 degrees; shades here are for 2 degrees, which
        shifts a pair together and hardly its difference.

    Returns
    -------
    float
    """
    l_1, a_1, b_1 = (float(value) for value in np.asarray(lab_from, float))
    l_2, a_2, b_2 = (float(value) for value in np.asarray(lab_to, float))
    c_1, c_2 = math.hypot(a_1, b_1), math.hypot(a_2, b_2)
    h_1 = math.degrees(math.atan2(b_1, a_1)) % 360
    h_2 = math.degrees(math.atan2(b_2, a_2)) % 360
    delta_c = c_2 - c_1
    turn = (h_2 - h_1 + 180) % 360 - 180
    delta_h = 2 * math.sqrt(c_1 * c_2) * math.sin(math.radians(turn) / 2)
    mean_c = (c_1 + c_2) / 2
    mean_h = (h_1 + turn / 2) % 360
    apart = abs(mean_h - 280)
    x = (min(apart, 360 - apart) / 30) ** 2
    # The blues: part of their chroma difference is seen as a hue difference.
    d = delta_c * mean_c * math.exp(-x) / 100
    delta_hf = (delta_h - d) / (1 + (10 * mean_c / 1000) ** 2)
    delta_cf = (delta_c - d) / (1 + (20 * mean_c / 1000) ** 2)
    return math.sqrt((l_2 - l_1) ** 2 + delta_cf**2 + delta_hf**2)


def change_grade(difference: float) -> float:
    """Grade for change in colour as a number from 5 (none) down to 1.

    Parameters
    ----------
    difference : float
        As `change_difference` gives it.
    """
    if difference <= 3.4:
        return 5 - difference / 1.7
    return max(1.0, 5 - math.log2(difference / 0.85))


def change_half(difference: float) -> str:
    """Grade for change in colour in halves, as "4-5"."""
    return HALVES[sum(difference >= bound for bound in CHANGE_HALVES)]


def staining_difference(lab_from: ArrayLike, lab_to: ArrayLike) -> float:
    """The difference ΔE_GS of ISO 105-A04 between white cloth before and after.

    Parameters
    ----------
    lab_from, lab_to : array_like, shape (3,)
    """
    one, other = np.asarray(lab_from, float), np.asarray(lab_to, float)
    square = float(np.sum((other - one) ** 2))
    coloured = math.sqrt(max(square - float(other[0] - one[0]) ** 2, 0.0))
    return math.sqrt(square) - 0.4 * coloured


def staining_grade(difference: float) -> float:
    """Grade for staining as a number from 5 (none) down to 1.

    Parameters
    ----------
    difference : float
        As `staining_difference` gives it.
    """
    if difference <= 0:
        return 5.0
    grade = 6.1 - 1.45 * math.log(difference)
    if grade > 4:
        # The branches do not quite meet at 4: that jump of 0.02 is the standard's own.
        return 5 - 0.23 * difference
    return max(1.0, grade)


def staining_half(difference: float) -> str:
    """Grade for staining in halves, as "4-5": the nearest half of `staining_grade`."""
    return HALVES[round((5 - staining_grade(difference)) * 2)]
