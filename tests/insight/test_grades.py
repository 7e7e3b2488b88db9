"""Grey scale grades against the scales' own steps and a second writing of the formulas.

The texts of ISO 105-A05 and A04 are from memory. Checked is: the steps of the grey scales (ISO
105-A02 and A03, published CIELAB differences of their neutral pairs), that the branches of A05 meet
at 3.4, that a swap of the pair changes nothing, and the chroma and hue terms against the formulas
written down anew below in the standard's own symbols.
"""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dyeshade.insight.grades import (
    CHANGE_HALVES,
    HALVES,
    change_difference,
    change_grade,
    change_half,
    staining_difference,
    staining_grade,
    staining_half,
)

A02_STEPS = (0.0, 0.8, 1.7, 2.5, 3.4, 4.8, 6.8, 9.6, 13.6)
A03_STEPS = (0.0, 2.2, 4.3, 6.0, 8.5, 12.0, 16.9, 24.0, 34.1)
labs = st.tuples(st.floats(10, 95), st.floats(-80, 80), st.floats(-80, 80))


@pytest.mark.parametrize(("step", "half"), list(zip(A02_STEPS, HALVES, strict=True)))
def test_the_pairs_of_the_grey_scale_for_change_get_their_own_grades(step, half):
    difference = change_difference((60.0, 0, 0), (60.0 - step, 0, 0))
    assert difference == pytest.approx(step)
    assert change_half(difference) == half
    # The scale's steps are rounded to a tenth.
    assert change_grade(difference) == pytest.approx(5 - HALVES.index(half) / 2, abs=0.035)


@pytest.mark.parametrize(("step", "half"), list(zip(A03_STEPS, HALVES, strict=True)))
def test_the_pairs_of_the_grey_scale_for_staining_get_their_own_grades(step, half):
    difference = staining_difference((95.0, 0, 0), (95.0 - step, 0, 0))
    assert difference == pytest.approx(step)
    assert staining_half(difference) == half
    assert staining_grade(difference) == pytest.approx(5 - HALVES.index(half) / 2, abs=0.03)


def test_halves_change_over_in_the_middle_between_the_steps():
    middles = [(a + b) / 2 for a, b in pairwise(A02_STEPS)]
    assert pytest.approx(middles, abs=0.01) == CHANGE_HALVES


def test_the_branches_of_the_grade_for_change_meet():
    assert change_grade(3.4) == pytest.approx(3.0)
    assert change_grade(3.4 + 1e-9) == pytest.approx(3.0)


def a05_anew(l_o, c_o, h_o, l_t, c_t, h_t):
    """ISO 105-A05 in its own symbols, on lightness, chroma and hue angle (from memory)."""
    delta_c = c_t - c_o
    c_m = (c_t + c_o) / 2
    delta_e = math.hypot(
        l_t - l_o,
        c_t * math.cos(math.radians(h_t)) - c_o * math.cos(math.radians(h_o)),
        c_t * math.sin(math.radians(h_t)) - c_o * math.sin(math.radians(h_o)),
    )
    delta_h = math.sqrt(max(delta_e**2 - (l_t - l_o) ** 2 - delta_c**2, 0.0))
    if ((h_t - h_o) % 360) > 180:
        delta_h = -delta_h
    if abs(h_t - h_o) <= 180:
        h_m = abs(h_t + h_o) / 2
    elif abs(h_t + h_o) < 360:
        h_m = abs(h_t + h_o) / 2 + 180
    else:
        h_m = abs(h_t + h_o) / 2 - 180
    x = ((h_m - 280) / 30) ** 2
    if abs(h_m - 280) > 180:
        x = ((360 - abs(h_m - 280)) / 30) ** 2
    d = delta_c * c_m * math.exp(-x) / 100
    d_h = (delta_h - d) / (1 + (10 * c_m / 1000) ** 2)
    d_c = (delta_c - d) / (1 + (20 * c_m / 1000) ** 2)
    return math.sqrt((l_t - l_o) ** 2 + d_c**2 + d_h**2)


@given(
    st.floats(10, 95),
    st.floats(0.5, 90),
    st.floats(0, 359.9),
    st.floats(-10, 10),
    st.floats(-0.4, 10),
    st.floats(-100, 100),
)
def test_the_difference_is_the_one_written_anew(lightness, chroma, hue, dl, dc, dh):
    other = (lightness + dl, chroma + dc, (hue + dh) % 360)
    labs_of = [
        (a, b * math.cos(math.radians(c)), b * math.sin(math.radians(c)))
        for a, b, c in ((lightness, chroma, hue), other)
    ]
    expected = a05_anew(lightness, chroma, hue, *other)
    assert change_difference(*labs_of) == pytest.approx(expected, abs=1e-5)


@given(labs, labs)
def test_a_swap_of_the_pair_changes_nothing(one, other):
    there, back = change_difference(one, other), change_difference(other, one)
    # At exactly opposite hues the mean hue is either of two.
    h = [math.atan2(lab[2], lab[1]) for lab in (one, other)]
    if abs(abs(h[0] - h[1]) - math.pi) > 1e-6:
        assert there == pytest.approx(back, rel=1e-9, abs=1e-9)
    assert staining_difference(one, other) == pytest.approx(staining_difference(other, one))


@given(st.floats(0, 60), st.floats(0, 60))
def test_a_larger_difference_never_gets_a_better_grade(one, other):
    small, large = sorted((one, other))
    for grade in (change_grade, staining_grade):
        assert 1.0 <= grade(large) <= grade(small) <= 5.0
    assert HALVES.index(change_half(small)) <= HALVES.index(change_half(large))
    assert HALVES.index(staining_half(small)) <= HALVES.index(staining_half(large))


def test_a_coloured_stain_counts_less_than_a_grey_one_of_the_same_size():
    grey = staining_difference((95, 0, 0), (85, 0, 0))
    yellow = staining_difference((95, 0, 0), (95, 0, 10))
    assert (grey, yellow) == (pytest.approx(10), pytest.approx(6))


def test_vivid_shades_may_differ_more_for_the_same_grade():
    weld = np.array([75.0, -5.0, 60.0])
    assert change_difference(weld, (75.0, -5.0, 66.0)) < change_difference((75, 0, 0), (75, 0, 6))
