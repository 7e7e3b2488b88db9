"""CIEDE2000 against the published pairs and against colour-science."""

from pathlib import Path

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000

PAIRS = np.loadtxt(Path(__file__).with_name("ciede2000_pairs.txt"))


def test_the_34_pairs_of_sharma_wu_and_dalal():
    assert PAIRS.shape == (34, 7)
    np.testing.assert_allclose(ciede2000(PAIRS[:, :3], PAIRS[:, 3:6]), PAIRS[:, 6], atol=5.1e-5)


def test_the_order_of_two_colours_does_not_matter():
    forth, back = PAIRS[:, :3], PAIRS[:, 3:6]
    np.testing.assert_allclose(ciede2000(forth, back), ciede2000(back, forth), atol=1e-12)


@pytest.mark.parametrize("spread", [0.5, 5.0, 60.0])
def test_colour_science_agrees(spread):
    import colour

    random = np.random.default_rng(7)
    first = random.uniform([0, -100, -100], [100, 100, 100], (3000, 3))
    second = first + random.normal(0.0, spread, first.shape)
    np.testing.assert_allclose(
        ciede2000(first, second), colour.delta_E(first, second, method="CIE 2000"), atol=1e-10
    )


def test_equal_colours_do_not_differ():
    colours = np.random.default_rng(3).uniform([0, -100, -100], [100, 100, 100], (500, 3))
    np.testing.assert_array_equal(ciede2000(colours, colours), 0.0)


def test_neutrals_differ_by_lightness_alone():
    # S_L is 1 at a mean lightness of 50.
    assert ciede2000([45.0, 0, 0], [55.0, 0, 0]) == pytest.approx(10.0)


def test_one_colour_is_compared_with_many():
    many = np.zeros((4, 5, 3))
    assert ciede2000([50.0, 1, 1], many).shape == (4, 5)
    assert ciede2000([50.0, 1, 1], [50.0, 1, 2]).shape == ()


def test_what_is_not_a_number_stays_so():
    assert np.isnan(ciede2000([np.nan, 0, 0], [50.0, 0, 0]))
