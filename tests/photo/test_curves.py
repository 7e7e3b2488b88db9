"""Tone curves by value."""

import numpy as np
import pytest

from dyeshade.cie.rgb_spaces import srgb_decode
from dyeshade.photo.curves import SRGB_CURVE, ParametricCurve, TableCurve

CODED = np.linspace(0.0, 1.0, 501)


def test_the_srgb_curve_is_the_standard_one():
    np.testing.assert_allclose(SRGB_CURVE(CODED), srgb_decode(CODED), atol=1e-12)


def test_a_plain_exponent():
    np.testing.assert_allclose(ParametricCurve(2.2)(CODED), CODED**2.2, atol=1e-12)


def test_a_table_is_joined_by_straight_lines():
    assert TableCurve((0.0, 0.1, 1.0))(0.75) == pytest.approx(0.55)


def test_light_stays_between_none_and_all():
    curve = ParametricCurve(1.0, a=3.0, b=-1.0)
    assert curve([-1.0, 0.0, 1.0, 2.0]).tolist() == [0.0, 0.0, 1.0, 1.0]


def test_a_table_of_one_entry_is_none():
    with pytest.raises(ValueError, match="two"):
        TableCurve((0.5,))
