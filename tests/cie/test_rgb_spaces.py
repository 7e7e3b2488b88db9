"""SRGB, Display P3 and Adobe RGB against their standards and colour-science."""

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import lab_to_lch, xyz_to_lab
from dyeshade.cie.rgb_spaces import (
    ADOBE_RGB,
    DISPLAY_P3,
    SRGB,
    lab_to_srgb,
    primaries_to_xyz,
    srgb_decode,
    srgb_encode,
    xyz_to_srgb,
)
from dyeshade.cie.white import D65


def test_the_matrix_of_iec_61966_2_1():
    published = [
        [0.4124, 0.3576, 0.1805],
        [0.2126, 0.7152, 0.0722],
        [0.0193, 0.1192, 0.9505],
    ]
    np.testing.assert_allclose(SRGB.native_to_xyz, published, atol=5.1e-5)


def test_the_curve_of_iec_61966_2_1():
    # Coded values at or below 0.04045 are divided by 12.92; above, ((c + 0.055) / 1.055)**2.4.
    assert srgb_decode(0.04) == pytest.approx(0.04 / 12.92)
    assert srgb_decode(0.5) == pytest.approx((0.555 / 1.055) ** 2.4)
    assert srgb_decode(1.0) == pytest.approx(1.0)
    # The standard's two knees meet to its own rounding.
    assert srgb_encode(0.0031308) == pytest.approx(0.04045, abs=2e-6)


def test_display_p3_is_p3_with_d65():
    # SMPTE EG 432-1: red 0.680, 0.320; green 0.265, 0.690; blue 0.150, 0.060.
    columns = DISPLAY_P3.native_to_xyz
    np.testing.assert_allclose(
        (columns / columns.sum(axis=0))[:2].T,
        [[0.680, 0.320], [0.265, 0.690], [0.150, 0.060]],
        atol=1e-12,
    )
    # The same as CSS Color 4's matrix, to its published digits.
    published = [
        [0.4865709, 0.2656677, 0.1982173],
        [0.2289746, 0.6917385, 0.0792869],
        [0.0000000, 0.0451134, 1.0439444],
    ]
    np.testing.assert_allclose(columns, published, atol=1e-7)


@pytest.mark.parametrize(
    ("space", "name"), [(SRGB, "sRGB"), (DISPLAY_P3, "Display P3"), (ADOBE_RGB, "Adobe RGB (1998)")]
)
def test_colour_science_agrees_on_the_primaries(space, name):
    import colour

    theirs = colour.RGB_COLOURSPACES[name]
    np.testing.assert_allclose([space.red, space.green, space.blue], theirs.primaries, atol=1e-12)
    np.testing.assert_allclose(space.white, theirs.whitepoint, atol=1e-12)
    np.testing.assert_allclose(space.native_to_xyz, theirs.matrix_RGB_to_XYZ, atol=1e-4)


def test_colour_science_agrees_on_the_curve():
    import colour

    coded = np.linspace(0.0, 1.0, 1001)
    np.testing.assert_allclose(srgb_decode(coded), colour.models.eotf_sRGB(coded), atol=1e-8)
    np.testing.assert_allclose(srgb_encode(srgb_decode(coded)), coded, atol=2e-7)


@pytest.mark.parametrize("space", [SRGB, DISPLAY_P3, ADOBE_RGB])
def test_equal_channels_are_an_exact_neutral(space):
    np.testing.assert_allclose(space.to_xyz @ np.ones(3), D65, atol=1e-12)


def test_the_rounding_of_the_white_is_all_that_is_adapted():
    white = xyz_to_lab(SRGB.native_to_xyz @ np.ones(3))
    assert ciede2000(white, [100.0, 0, 0]) < 0.03


def test_primaries_on_a_line_span_nothing():
    with pytest.raises(np.linalg.LinAlgError):
        primaries_to_xyz(((0.5, 0.25), (0.5, 0.25), (0.15, 0.06)), (0.3127, 0.3290))


def test_every_srgb_colour_shows_as_itself():
    for srgb in np.random.default_rng(5).integers(0, 256, (60, 3)):
        lab = xyz_to_lab(SRGB.to_xyz @ srgb_decode(srgb / 255.0))
        assert lab_to_srgb(lab) == (tuple(srgb.tolist()), True)


@pytest.mark.parametrize("lab", [(55.0, 100.0, 40.0), (80.0, -10.0, 110.0), (30.0, -60.0, 5.0)])
def test_a_shade_too_vivid_keeps_its_lightness_and_hue(lab):
    srgb, in_gamut = lab_to_srgb(lab)
    assert not in_gamut
    shown = lab_to_lch(xyz_to_lab(SRGB.to_xyz @ srgb_decode(np.array(srgb) / 255.0)))
    wanted = lab_to_lch(lab)
    assert shown[0] == pytest.approx(wanted[0], abs=0.8)
    assert shown[2] == pytest.approx(wanted[2], abs=1.5)
    assert shown[1] < wanted[1]
    # As vivid as it can be: a channel is at its end.
    assert min(srgb) == 0 or max(srgb) == 255


def test_lighter_than_white_is_shown_as_white_and_says_so():
    assert lab_to_srgb((104.0, 0.0, 0.0)) == ((255, 255, 255), False)
    assert lab_to_srgb((-3.0, 0.0, 0.0)) == ((0, 0, 0), False)
    assert lab_to_srgb((100.0, 0.0, 0.0)) == ((255, 255, 255), True)


def test_coded_values_outside_the_gamut_are_not_clipped():
    assert xyz_to_srgb(np.array([0.1, 0.3, 0.1])).min() < 0.0
