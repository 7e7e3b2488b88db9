"""CIELAB against CIE 15's own figures and colour-science."""

import numpy as np
import pytest

from dyeshade.cie.lab import lab_to_lch, lab_to_xyz, lch_to_lab, xyz_to_lab
from dyeshade.cie.white import D50, D65, xy_to_xyz

LABS = np.random.default_rng(11).uniform([0, -110, -110], [100, 110, 110], (400, 3))


def test_d65_is_as_cie_15_prints_it():
    # CIE 15:2018 and 2004: X = 95.04, Y = 100, Z = 108.88; x = 0.31272, y = 0.32903 (table T.3).
    np.testing.assert_allclose(D65 * 100, [95.04, 100.0, 108.88], atol=1e-9)
    np.testing.assert_allclose(D65[:2] / D65.sum(), [0.31272, 0.32903], atol=1e-5)


def test_colour_science_prints_the_same_d65():
    import colour

    name = "CIE 1931 2 Degree Standard Observer"
    np.testing.assert_allclose(D65 * 100, colour.TVS_ILLUMINANTS[name]["D65"], atol=1e-9)
    np.testing.assert_allclose(xy_to_xyz((0.3127, 0.3290)), D65, atol=4e-4)
    # The connection space's white, ICC.1:2022, 6.3.4.3, is D50 to four decimals.
    np.testing.assert_allclose(D50 * 100, colour.TVS_ILLUMINANTS[name]["D50"], atol=0.02)


def test_the_white_is_100_and_black_is_0():
    np.testing.assert_allclose(xyz_to_lab(D65), [100.0, 0.0, 0.0], atol=1e-12)
    np.testing.assert_allclose(xyz_to_lab([0.0, 0.0, 0.0]), [0.0, 0.0, 0.0], atol=1e-12)


def test_the_middle_grey_of_18_4_percent_is_lightness_50():
    # L* = 116 * 0.184187**(1/3) - 16 = 50: the grey whose reflectance is ((50 + 16) / 116)**3.
    assert xyz_to_lab(D65 * 0.184187)[0] == pytest.approx(50.0, abs=1e-4)


@pytest.mark.parametrize("white", [D65, D50])
def test_colour_science_agrees_both_ways(white):
    import colour

    xy = white[:2] / white.sum()
    xyz = lab_to_xyz(LABS, white)
    np.testing.assert_allclose(xyz, colour.Lab_to_XYZ(LABS, xy), atol=1e-9)
    np.testing.assert_allclose(xyz_to_lab(xyz, white), colour.XYZ_to_Lab(xyz, xy), atol=1e-9)


def test_the_chart_patches_published_in_xyy_come_out_as_colour_science_has_them():
    import colour

    chart = colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"]
    xyz = colour.xyY_to_XYZ(np.array(list(chart.data.values())))
    white = colour.xy_to_XYZ(chart.illuminant)
    np.testing.assert_allclose(
        xyz_to_lab(xyz, white), colour.XYZ_to_Lab(xyz, chart.illuminant), atol=1e-9
    )
    # The white patch and the black one, as the maker publishes them (CIELAB, D50):
    # 95.19, -1.03, 2.93 and 20.64, 0.07, -0.46.
    lab = dict(zip(chart.data, xyz_to_lab(xyz, white), strict=True))
    np.testing.assert_allclose(lab["white 9.5 (.05 D)"], [95.19, -1.03, 2.93], atol=0.02)
    np.testing.assert_allclose(lab["black 2 (1.5 D)"], [20.64, 0.07, -0.46], atol=0.02)


def test_there_and_back():
    np.testing.assert_allclose(xyz_to_lab(lab_to_xyz(LABS)), LABS, atol=1e-10)
    np.testing.assert_allclose(lch_to_lab(lab_to_lch(LABS)), LABS, atol=1e-10)


def test_both_branches_of_the_cube_root_meet():
    knee = (6 / 29) ** 3
    below, above = xyz_to_lab(np.outer([knee - 1e-12, knee + 1e-12], D65))
    np.testing.assert_allclose(below, above, atol=1e-6)


def test_noise_around_black_keeps_its_sign():
    assert xyz_to_lab([-0.001, -0.001, -0.001])[0] < 0.0


def test_hue_angles_go_round_from_red_over_yellow():
    angles = lab_to_lch([[50, 10, 0], [50, 0, 10], [50, -10, 0], [50, 0, -10], [50, 0, 0]])
    np.testing.assert_allclose(angles[:, 2], [0, 90, 180, 270, 0], atol=1e-12)
    assert lab_to_lch([50.0, 10.0, -1e-18])[2] < 360.0


def test_any_shape_is_kept():
    assert xyz_to_lab(np.ones((2, 5, 3))).shape == (2, 5, 3)
    assert lab_to_lch(np.ones((3,))).shape == (3,)
