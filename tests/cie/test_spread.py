"""The u95 of a covariance against random draws (JCGM 101)."""

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.spread import u95_of, u95s_of

# Invented shades: undyed wool, weld, madder, cochineal with iron, walnut hull, woad vat.
SHADES = {
    "neutral": (85.0, 0.0, 0.0),
    "grey": (50.0, 0.4, -0.3),
    "vivid yellow": (80.0, -5.0, 85.0),
    "vivid red": (42.0, 55.0, 30.0),
    "dark": (14.0, 4.0, -3.0),
    "blue": (35.0, 10.0, -55.0),
}
COVARIANCES = {
    "small": np.diag([0.04, 0.09, 0.25]),
    "wide": np.diag([4.0, 9.0, 16.0]),
    "slanted": np.array([[2.0, 1.2, 1.8], [1.2, 1.5, 1.1], [1.8, 1.1, 4.0]]),
    "one direction": np.outer([1.0, 0.5, 2.0], [1.0, 0.5, 2.0]),
}


@pytest.mark.parametrize("shade", SHADES)
@pytest.mark.parametrize("covariance", COVARIANCES)
def test_two_hundred_thousand_draws_agree(shade, covariance):
    lab, matrix = np.array(SHADES[shade]), COVARIANCES[covariance]
    random = np.random.default_rng(20)
    draws = random.multivariate_normal(lab, matrix, 200_000, method="eigh")
    brute = np.quantile(ciede2000(lab, draws), 0.95)
    # The draws themselves are uncertain by some 0.3 %, one standard deviation.
    assert u95_of(lab, matrix) == pytest.approx(brute, rel=0.012)


def test_lightness_alone_is_the_normal_distribution_itself():
    # At L* = 50 CIEDE2000 is the lightness difference, nearly: S_L stays below 1.001 here.
    assert u95_of([50.0, 0, 0], np.diag([0.01, 0, 0])) == pytest.approx(0.196, rel=2e-3)


def test_no_covariance_is_no_uncertainty():
    assert u95_of([50.0, 10, 10], np.zeros((3, 3))) == 0.0


def test_the_same_covariance_gives_the_same_number():
    assert u95_of([50.0, 9, 9], np.eye(3)) == u95_of([50.0, 9, 9], np.eye(3))


@pytest.mark.parametrize(
    ("matrix", "words"),
    [
        (np.diag([1.0, 1.0, -1.0]), "negative variance"),
        (np.array([[1.0, 0.5, 0], [0, 1, 0], [0, 0, 1]]), "not symmetric"),
        (np.diag([1.0, np.nan, 1.0]), "not finite"),
        (np.eye(2), "one shade"),
    ],
)
def test_what_is_no_covariance_is_refused(matrix, words):
    with pytest.raises(ValueError, match=words):
        u95_of([50.0, 0, 0], matrix)


def test_several_at_once_are_what_each_is_alone():
    labs = [[50.0, 9, 9], [20.0, 0, 0], [85.0, -3, 70]]
    matrices = [np.eye(3), np.diag([9.0, 0.1, 0.1]), np.zeros((3, 3))]
    each = [u95_of(lab, matrix) for lab, matrix in zip(labs, matrices, strict=True)]
    assert u95s_of(labs, matrices) == pytest.approx(each, rel=1e-4)
    with pytest.raises(ValueError, match="negative"):
        u95s_of(labs, [np.eye(3), -np.eye(3), np.eye(3)])
