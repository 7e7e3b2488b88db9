"""Spread taken apart, against certified and published analyses.

Sources: NIST Statistical Reference Datasets, analysis of variance, SiRstv (resistivity of silicon,
certified sums of squares). Davies, O. L. and Goldsmith, P. L. (1972), Statistical Methods in
Research and Production, 4th ed., p. 138: strength of a paste in 3 casks of 10 batches, twice each;
its REML estimates as the documentation of R's lme4 prints them (Pastes).
"""

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from dyeshade.insight.variance_parts import Nested, twice_unlikely, variance_parts

SILICON = np.array(
    [
        [196.3052, 196.1240, 196.1890, 196.2569, 196.3403],
        [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
        [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
        [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
        [196.2119, 196.1051, 196.1850, 196.0052, 196.2090],
    ]
)
CERTIFIED_BETWEEN, CERTIFIED_WITHIN = 1.27865654000000e-2, 1.08318280000000e-2

# fmt: off
PASTE = [
    62.8, 62.6, 60.1, 62.3, 62.7, 63.1, 60.0, 61.4, 57.5, 56.9, 61.1, 58.9, 58.7, 57.5, 63.9,
    63.1, 65.4, 63.7, 57.1, 56.4, 56.9, 58.6, 64.7, 64.5, 55.1, 55.1, 54.7, 54.2, 58.8, 57.5,
    63.4, 64.9, 59.3, 58.1, 60.5, 60.0, 62.5, 62.6, 61.0, 58.7, 56.9, 57.7, 59.2, 59.4, 65.2,
    66.0, 64.8, 64.1, 54.8, 54.8, 64.0, 64.0, 57.7, 56.8, 58.3, 59.3, 59.2, 59.2, 58.9, 56.6,
]
# fmt: on


def nested(values, baths, pieces):
    return Nested(np.reshape(values, (len(baths), -1)), list(baths), list(pieces))


def test_between_and_within_are_those_of_the_certified_analysis():
    # Five instruments as baths, each day's value as a piece of its own: one stage.
    group = nested(SILICON.ravel(), np.repeat(np.arange(5), 5), np.arange(25))
    found = variance_parts([group], intervals=False)
    assert found.reading is None
    assert found.piece.sd**2 == pytest.approx(CERTIFIED_WITHIN, rel=1e-3)
    between = (CERTIFIED_BETWEEN - CERTIFIED_WITHIN) / 5
    assert found.bath.sd**2 == pytest.approx(between, rel=1e-2)


def test_three_stages_are_those_of_the_textbook():
    group = nested(PASTE, np.repeat(np.arange(10), 6), np.repeat(np.arange(30), 2))
    found = variance_parts([group])
    assert found.bath.sd == pytest.approx(1.2874, abs=2e-4)
    assert found.piece.sd == pytest.approx(2.9041, abs=2e-4)
    assert found.reading.sd == pytest.approx(0.8234, abs=2e-4)
    # Thirty pairs: the reading's own interval is close to the chi-square's with 30 degrees.
    assert found.reading.low == pytest.approx(0.8234 * np.sqrt(30 / 46.98), rel=0.03)
    assert found.reading.high == pytest.approx(0.8234 * np.sqrt(30 / 16.79), rel=0.03)
    assert found.bath.low == 0.0
    assert found.piece.low < 2.9041 < found.piece.high


def test_the_likelihood_is_that_of_scipys_normal_distribution():
    random = np.random.default_rng(1)
    baths, pieces = [1, 1, 1, 2, 2, 3], [1, 1, 2, 3, 4, 5]
    group = nested(random.normal(size=(6, 2)), baths, pieces)
    same = [[[float(a == b) for a in names] for b in names] for names in (baths, pieces)]

    def by_scipy(bath, piece, reading):
        within = bath**2 * np.array(same[0]) + piece**2 * np.array(same[1])
        within += reading**2 * np.eye(6)
        # Restricted: differences from the first reading, whose mean is zero (a fixed Jacobian).
        turn = np.eye(6)[1:] - np.eye(6)[[0]]
        law = multivariate_normal(np.zeros(5), turn @ within @ turn.T)
        return -2 * sum(law.logpdf(turn @ group.values[:, k]) for k in range(2))

    first, second = (1.0, 0.5, 0.3), (0.4, 1.2, 0.8)
    ours = twice_unlikely([group], *first) - twice_unlikely([group], *second)
    assert ours == pytest.approx(by_scipy(*first) - by_scipy(*second), rel=1e-9)


def test_known_spreads_are_found_again_from_uneven_repeats():
    random = np.random.default_rng(2)
    groups = []
    for _ in range(25):
        baths, pieces, values = [], [], []
        middle = random.normal(size=3) * 20
        for bath in range(random.integers(2, 6)):
            of_bath = middle + random.normal(size=3) * 1.0
            for piece in range(random.integers(1, 4)):
                of_piece = of_bath + random.normal(size=3) * 0.6
                for _ in range(random.integers(1, 3)):
                    baths.append(bath)
                    pieces.append((bath, piece))
                    values.append(of_piece + random.normal(size=3) * 0.3)
        groups.append(nested(values, baths, pieces))
    found = variance_parts(groups)
    for part, true in ((found.bath, 1.0), (found.piece, 0.6), (found.reading, 0.3)):
        assert part.low < true < part.high
        assert part.sd == pytest.approx(true, rel=0.15)


def test_without_repeats_of_measuring_its_stated_spread_stands_in():
    random = np.random.default_rng(3)
    baths = np.repeat(np.arange(30), 2)
    values = np.repeat(random.normal(size=(30, 3)), 2, axis=0) + random.normal(size=(60, 3)) * 0.5
    found = variance_parts([nested(values, baths, range(60))], reading_sd=0.3)
    assert (found.reading.sd, found.reading.stated) == (0.3, True)
    # 0.5² is a piece's own and the stated 0.3² together.
    assert found.piece.sd == pytest.approx(0.4, abs=0.08)
    assert found.bath.sd == pytest.approx(1.0, abs=0.2)


def test_what_nothing_repeats_is_not_told():
    group = nested([[0.0], [0.3], [0.1]], [1, 1, 1], [1, 1, 1])
    found = variance_parts([group], intervals=False)
    assert (found.bath, found.piece) == (None, None)
    assert found.reading.sd == pytest.approx(np.std([0.0, 0.3, 0.1], ddof=1), rel=1e-3)
