"""Root-polynomials as Finlayson, Mackiewicz and Hurlbert (2015) describe them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dyeshade.measure.root_polynomial import DEGREES, term_count, terms

channel = st.floats(0.01, 1.0)


@given(st.tuples(channel, channel, channel), st.floats(0.1, 8.0), st.sampled_from(DEGREES))
def test_exposure_scales_every_term_and_turns_no_hue(light, exposure, degree):
    # The paper's own claim, section III: what is fitted at one exposure holds at every other.
    one = terms(np.array(light), degree)
    assert terms(exposure * np.array(light), degree) == pytest.approx(exposure * one, abs=1e-9)


@given(channel, st.sampled_from(DEGREES))
def test_white_and_greys_are_kept(level, degree):
    assert terms(np.full(3, level), degree) == pytest.approx(np.zeros(term_count(degree)), abs=1e-9)


def test_there_are_as_many_terms_as_the_paper_lists():
    # 3, 6 and 13 (its equations 5 and 6, and the linear ones); ours are one fewer: white is kept.
    assert [term_count(degree) + 1 for degree in DEGREES] == [3, 6, 13]


def test_a_degree_that_there_is_not_is_our_mistake():
    with pytest.raises(ValueError, match="degree"):
        terms(np.ones(3), 4)


@given(st.tuples(channel, channel, channel), st.floats(0.3, 3.0))
def test_a_calibrated_colour_keeps_its_chromaticity_in_any_exposure(light, exposure):
    weights = np.random.default_rng(3).normal(0, 0.1, (3, term_count(2)))
    seen = np.array(light)
    xyz = seen + terms(seen, 2) @ weights.T
    brighter = exposure * seen + terms(exposure * seen, 2) @ weights.T
    assert brighter == pytest.approx(exposure * xyz, abs=1e-9)
