"""What a cloth has for itself: how it grows with the colour, and that differences state it."""

import colour
import numpy as np
import pytest

from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.measure.own_cloth import (
    BY_RATIO,
    BY_SIZE,
    OWN_BEND,
    OWN_CHANNEL,
    bend_factor,
    own_channels,
)
from dyeshade.photo.camera_space import camera_to_srgb


def lab_of_srgb(linear):
    """CIELAB of linear sRGB, by colour-science."""
    white = SRGB.to_xyz.sum(axis=1)
    xyz = SRGB.to_xyz @ np.asarray(linear, float)
    return colour.XYZ_to_Lab(xyz, colour.XYZ_to_xy(white))


@pytest.mark.parametrize("ratio", [1.0, 4.0, 20.0])
def test_a_bend_of_its_own_grows_with_how_dark_the_darkest_channel_is(ratio):
    lab = lab_of_srgb([0.5, 0.5 / ratio, 0.4])
    assert bend_factor(lab, 1.0) == pytest.approx(OWN_BEND * max(ratio, 1.25) ** BY_RATIO, rel=2e-3)


def test_it_grows_with_what_inks_show_of_the_rendering():
    lab = lab_of_srgb([0.5, 0.1, 0.4])
    more, less = bend_factor(lab, 4.0), bend_factor(lab, 0.09)
    assert more / less == pytest.approx((4.0 / 0.09) ** BY_SIZE)


def test_out_of_srgb_it_is_as_large_as_at_its_border_and_no_larger():
    inside, outside = lab_of_srgb([0.001, 0.3, 0.3]), lab_of_srgb([-0.04, 0.3, 0.3])
    assert bend_factor(inside, 1.0) == pytest.approx(bend_factor(outside, 1.0))


def test_a_neutral_has_no_channels_of_its_own():
    np.testing.assert_allclose(own_channels(np.array([60.0, 0.0, 0.0])), 0.0, atol=1e-5)


def test_channels_of_its_own_are_what_relative_errors_of_them_do_to_lab():
    """Drawn at random through colour-science's Lab, instead of by slopes."""
    to_xyz = SRGB.to_xyz @ camera_to_srgb()
    channels = np.array([0.12, 0.5, 0.3])
    white = SRGB.to_xyz.sum(axis=1)
    rng = np.random.default_rng(3)
    spread = OWN_CHANNEL * (channels.max() / channels - 1) ** 0.25
    drawn = channels * np.exp(rng.normal(size=(40_000, 3)) * spread)
    lab = colour.XYZ_to_Lab(drawn @ to_xyz.T, colour.XYZ_to_xy(white))
    middle = colour.XYZ_to_Lab(to_xyz @ channels, colour.XYZ_to_xy(white))
    np.testing.assert_allclose(own_channels(middle), np.cov(lab.T), rtol=0.05, atol=5e-3)
