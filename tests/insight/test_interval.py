"""How large a difference is: intervals that hold as often as they say, and near zero too."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.stats import chi, ncx2

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.interval import chance_below, difference_interval, smallest_shown
from dyeshade.insight.metric import metric_at, normal_points, root_of

# Invented shades: a middle grey, weld on wool, madder on wool, walnut hull.
SHADES = {
    "grey": (50.0, 0.3, 0.2),
    "weld": (75.0, -5.0, 60.0),
    "madder": (42.0, 45.0, 28.0),
    "walnut": (28.0, 8.0, 12.0),
}
ERRORS = {
    "round": np.eye(3),
    "in lightness": np.diag([1.0, 0.01, 0.01]),
    "in the yellows": np.diag([0.02, 0.02, 4.0]),
    "slanted": np.array([[1.0, 0.8, 0.3], [0.8, 1.5, 0.2], [0.3, 0.2, 0.5]]),
}
shades = st.tuples(st.floats(15, 90), st.floats(-40, 50), st.floats(-40, 70))


def another(lab, size, direction):
    """A shade that lies `size` CIEDE2000 away, nearly, in a direction of Lab."""
    lab = np.array(lab)
    return lab + direction * size / np.sqrt(direction @ metric_at(lab) @ direction)


@pytest.mark.parametrize("error", ERRORS)
def test_the_interval_holds_the_truth_95_times_in_100(error):
    random = np.random.default_rng(7)
    covariance = ERRORS[error]
    held = moved = 0
    for turn in range(400):
        size = (0.0, 0.5, 1.0, 2.0, 4.0)[turn % 5]
        lab = np.array(list(SHADES.values())[turn % len(SHADES)])
        direction = random.normal(size=3)
        other = another(lab, size, direction)
        seen = random.multivariate_normal(other, covariance)
        found = difference_interval(lab, seen, covariance)
        held += found.low <= ciede2000(lab, other) <= found.high
        moved += found.significant and size == 0.0
    # Three standard deviations of 400 turns are 0.033, of the 80 that did not move 0.073.
    assert held / 400 >= 0.917
    assert moved / 80 <= 0.123


def test_where_errors_are_round_the_interval_is_that_of_the_noncentral_chi_square():
    # About (50, 0, 0) the CIEDE2000 is 1.0 in lightness and 1.5 along a* (G = 0.5 for neutrals).
    lab = np.array([50.0, 0.0, 0.0])
    inverse = np.linalg.inv(root_of(metric_at(lab)))
    covariance = inverse @ inverse.T
    for seen in (3.5, 6.0):
        found = difference_interval((50 - seen / 2, 0, 0), (50 + seen / 2, 0, 0), covariance)

        def outside(r, seen=seen):
            # The same test turned round, with scipy's distribution in place of our formula.
            def within(k):
                inner = ncx2.cdf(max(r - k, 0.0) ** 2, 3, r**2) if r > k else 0.0
                return ncx2.cdf((r + k) ** 2, 3, r**2) - inner - 0.95

            return abs(seen - r) - brentq(within, 1.0, 3.5)

        assert found.high == pytest.approx(brentq(outside, seen, seen + 4), abs=0.02)
        assert found.low == pytest.approx(brentq(outside, 0.01, seen), abs=0.02)


def test_a_difference_that_chance_explains_may_be_none():
    # 2.7955: the 95 in 100 point of a chi distribution with 3 degrees of freedom.
    limit = chi.ppf(0.95, 3)
    lab = np.array([50.0, 0.0, 0.0])
    inverse = np.linalg.inv(root_of(metric_at(lab)))
    below, above = (
        difference_interval(lab, (50 + size, 0, 0), inverse @ inverse.T)
        for size in (limit - 0.05, limit + 0.05)
    )
    assert (below.low, below.significant) == (0.0, False)
    assert above.low > 0.0
    assert above.significant


@given(shades, shades, st.floats(0.01, 3.0))
@settings(max_examples=60, deadline=None)
def test_it_is_all_one_which_reading_comes_first(one, other, spread):
    covariance = np.diag([1.0, 2.0, 3.0]) * spread
    there = difference_interval(one, other, covariance)
    back = difference_interval(other, one, covariance)
    assert there.value == pytest.approx(back.value, abs=1e-9)
    assert there.low == pytest.approx(back.low, abs=2e-3)
    assert there.high == pytest.approx(back.high, rel=1e-3)


@given(shades, shades, st.floats(0.01, 3.0))
@settings(max_examples=60, deadline=None)
def test_an_interval_holds_its_own_value_and_never_goes_below_none(one, other, spread):
    found = difference_interval(one, other, np.diag([1.0, 2.0, 3.0]) * spread)
    assert 0.0 <= found.low <= found.value + 1e-3
    assert found.value <= found.high + 1e-3
    assert (found.low > 0) == found.significant


@pytest.mark.parametrize("error", ERRORS)
def test_the_smallest_change_shown_is_seen_nine_times_in_ten_over_all_directions(error):
    lab, covariance = np.array(SHADES["madder"]), ERRORS[error]
    size = difference_interval(lab, lab, covariance).smallest_shown
    assert smallest_shown(lab, covariance) == pytest.approx(size)
    random = np.random.default_rng(3)
    even = np.linalg.inv(root_of(metric_at(lab)))
    seen = []
    for direction in random.normal(size=(500, 3)):
        other = another(lab, size, even @ direction)
        one = random.multivariate_normal(other, covariance)
        seen.append(difference_interval(lab, one, covariance).significant)
    # Two and a half standard deviations of 500 turns.
    assert np.mean(seen) == pytest.approx(0.9, abs=0.034)


def test_nearly_exact_readings_give_a_narrow_interval():
    found = difference_interval((50, 0, 0), (52, 0, 0), np.zeros((3, 3)))
    assert found.high - found.low < 1e-3


def test_the_chance_below_a_tolerance_agrees_with_random_draws():
    lab, other = np.array(SHADES["weld"]), np.array([76.0, -4.0, 63.0])
    covariance = ERRORS["slanted"] * 3
    random = np.random.default_rng(8)
    draws = random.multivariate_normal(other, covariance, 200_000)
    for tolerance in (1.0, 2.0, 4.0):
        brute = np.mean(ciede2000(lab, draws) <= tolerance)
        assert chance_below(lab, other, covariance, tolerance) == pytest.approx(brute, abs=0.005)


@pytest.mark.parametrize("lab", SHADES.values(), ids=SHADES)
def test_the_ruler_measures_small_differences_as_ciede2000_does(lab):
    metric = metric_at(lab)
    for direction in np.random.default_rng(1).normal(size=(20, 3)) * 0.1:
        straight = np.sqrt(direction @ metric @ direction)
        half = direction / 2
        exact = ciede2000(np.array(lab) - half, np.array(lab) + half)
        assert straight == pytest.approx(exact, rel=0.03)


def test_points_of_a_normal_distribution_have_its_moments():
    points = normal_points()
    assert points.mean(axis=0) == pytest.approx([0, 0, 0], abs=1e-3)
    assert np.cov(points.T) == pytest.approx(np.eye(3), abs=0.01)
