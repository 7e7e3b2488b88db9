"""Two photos of a turned piece make one reading, with the spread between them."""

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import lab_to_xyz
from dyeshade.measure.result import Shade
from dyeshade.measure.sheen import turned_shade

PHOTO, COMMON = np.eye(3) * 0.2, np.eye(3) * 4.0


def shade(lab):
    return Shade(np.array(lab, float), PHOTO, COMMON, 3.0)


def test_the_light_of_both_ways_is_averaged():
    told = turned_shade(shade((40, 20, 10)), shade((48, 20, 10)))
    light = (lab_to_xyz(np.array([40.0, 20, 10])) + lab_to_xyz(np.array([48.0, 20, 10]))) / 2
    np.testing.assert_allclose(lab_to_xyz(told.shade.lab), light)
    assert told.sheen == pytest.approx(float(ciede2000((40, 20, 10), (48, 20, 10))))


def test_a_piece_without_sheen_is_surer_by_two_photos():
    told = turned_shade(shade((40, 20, 10)), shade((40, 20, 10)))
    np.testing.assert_allclose(told.shade.covariance_photo, PHOTO / 2)
    np.testing.assert_allclose(told.shade.covariance_common, COMMON)
    assert told.sheen == 0


def test_sheen_widens_along_its_own_direction_only():
    told = turned_shade(shade((40, 20, 10)), shade((46, 20, 10)))
    # An even distribution over 6: variance 36 / 12.
    np.testing.assert_allclose(np.diag(told.shade.covariance_photo), [0.1 + 3.0, 0.1, 0.1])


def test_a_gap_that_was_solved_together_is_taken_for_the_spread():
    told = turned_shade(shade((40, 20, 10)), shade((46, 20, 10)), np.array([2.0, 0.0, 0.0]))
    assert told.shade.covariance_photo[0, 0] == pytest.approx(0.1 + 4 / 12)
    assert told.sheen == pytest.approx(float(ciede2000((42, 20, 10), (44, 20, 10))), rel=1e-6)
