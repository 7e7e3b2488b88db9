"""Spots that stayed tell of one that may have moved, as a random field of known truth shows."""

import numpy as np
import pytest
from scipy.stats import chi2

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.spread import u95_of
from dyeshade.measure.conditioning import predict_last

COUNT = 12


def a_field(rng):
    """Covariance of a smooth field over random places, three independent numbers a spot."""
    places = rng.uniform(0, 1, (COUNT + 1, 2))
    gaps = ((places[:, None] - places[None]) ** 2).sum(axis=-1)
    return np.kron(np.exp(-0.5 * gaps / 0.5**2), np.eye(3))


def test_what_is_stated_holds_whatever_the_size_of_the_field():
    rng = np.random.default_rng(8)
    noise = 0.02 * np.eye(3 * (COUNT + 1))
    held = []
    for turn in range(240):
        field = a_field(rng)
        size = (0.4, 1.0, 1.6)[turn % 3]
        whole = noise + size**2 * field
        truth = rng.multivariate_normal(np.zeros(len(whole)), whole, method="cholesky")
        told = predict_last(truth[:-3].reshape(-1, 3), noise, [field])
        gap = truth[-3:] - told.mean
        held.append(gap @ np.linalg.solve(told.covariance, gap) <= chi2.ppf(0.95, 3))
    # Exact binomial bounds at 99 in 100: 217 to 237 of 240 at a true 0.95.
    assert 217 <= sum(held) <= 237


def test_spots_near_by_make_it_surer_and_none_leave_it_as_it_was():
    rng = np.random.default_rng(9)
    field, noise = a_field(rng), 0.02 * np.eye(3 * (COUNT + 1))
    none = predict_last(np.zeros((0, 3)), noise[-3:, -3:], [field[-3:, -3:]])
    assert none.used == 0
    np.testing.assert_allclose(none.covariance, (noise + field)[-3:, -3:])
    seen = rng.multivariate_normal(np.zeros(len(field)), noise + field)[:-3].reshape(-1, 3)
    assert np.trace(predict_last(seen, noise, [field]).covariance) < np.trace(none.covariance)


def test_one_spot_that_is_far_off_is_left_out():
    rng = np.random.default_rng(10)
    field, noise = a_field(rng), 0.02 * np.eye(3 * (COUNT + 1))
    seen = rng.multivariate_normal(np.zeros(len(field)), noise + field)[:-3].reshape(-1, 3)
    plain = predict_last(seen, noise, [field])
    seen[4] += 25.0
    told = predict_last(seen, noise, [field])
    assert told.used == COUNT - 1
    np.testing.assert_allclose(told.mean, plain.mean, atol=0.5)


@pytest.mark.parametrize("lab", [(75.0, -5.0, 60.0), (42.0, 45.0, 28.0), (28.0, 2.0, -3.0)])
def test_a_covariance_of_a_difference_goes_over_into_ciede2000(lab):
    """Against random draws. Source of the method: JCGM 101:2008, clause 7."""
    rng = np.random.default_rng(11)
    root = rng.normal(size=(3, 3)) * [0.6, 0.4, 0.5]
    covariance = root @ root.T
    draws = rng.multivariate_normal(np.array(lab), covariance, 100_000)
    drawn = np.percentile(ciede2000(np.array(lab), draws), 95)
    assert u95_of(lab, covariance) == pytest.approx(drawn, rel=0.015)
