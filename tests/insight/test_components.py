"""A difference in plain words: only what is sure is said."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dyeshade.insight.components import parts_of

SURE = np.eye(3) * 0.01
labs = st.tuples(st.floats(10, 95), st.floats(-60, 60), st.floats(-60, 60))


@pytest.mark.parametrize(
    ("one", "other", "ways"),
    [
        ((50, 0, 0), (55, 0, 0), ("lighter",)),
        ((50, 0, 0), (45, 0, 3), ("darker", "yellower")),
        ((50, 0, 0), (50, 2, 0), ("redder",)),
        # Weld that pales: less vivid, and its hue goes nowhere.
        ((75, -5, 60), (78, -4, 48), ("less_vivid", "lighter")),
        # Madder towards orange: the hue angle grows.
        ((45, 40, 20), (45, 33.5, 29.6), ("yellower",)),
        # A greenish yellow whose hue angle shrinks goes to the red.
        ((75, -20, 60), (75, 0.0, 63.2), ("redder",)),
        # A blue whose hue angle grows goes to the red.
        ((35, 0, -40), (35, 14, -37.5), ("redder",)),
    ],
)
def test_the_way_a_shade_has_gone(one, other, ways):
    assert parts_of(one, other, SURE).ways == ways


def test_what_is_not_sure_is_not_said():
    # Lightness is unsure to 3, so 5 lighter is nothing; 2 yellower is sure.
    found = parts_of((50, 0, 0), (55, 0, 2), np.diag([9.0, 0.01, 0.01]))
    assert found.ways == ("yellower",)
    assert found.sd_l == pytest.approx(3.0)


@given(labs, labs)
def test_the_parts_make_up_the_whole(one, other):
    found = parts_of(one, other, SURE)
    whole = np.sum((np.array(one) - np.array(other)) ** 2)
    parts = found.delta_l**2 + found.delta_c**2 + found.delta_h**2
    # CIE 15: ΔE*ab² = ΔL*² + ΔC*ab² + ΔH*ab².
    assert parts == pytest.approx(whole, rel=1e-6, abs=1e-9)


@given(labs)
def test_a_piece_that_stays_goes_no_way(lab):
    assert parts_of(lab, lab, SURE).ways == ()


@given(labs, labs)
def test_their_uncertainties_do_not_depend_on_the_axes_where_errors_are_round(one, other):
    found = parts_of(one, other, np.eye(3) * 0.25)
    assert [found.sd_l, found.sd_c, found.sd_h] == pytest.approx([0.5, 0.5, 0.5])
