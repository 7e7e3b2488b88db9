"""The renderer's colorimetry, against published values."""

from __future__ import annotations

import colour
import numpy as np
import pytest

from tests.render import spectra


def test_the_diffuser_in_d65_has_the_published_white() -> None:
    # CIE 015:2018, table of the D65 white for the 2 degree observer: 95.04, 100, 108.88 (by 5 nm).
    white = spectra.xyz_of(np.ones(81)) * 100
    assert white == pytest.approx([95.04, 100.0, 108.88], abs=0.03)
    assert spectra.lab_of(np.ones(81)) == pytest.approx([100, 0, 0], abs=1e-9)


@pytest.mark.parametrize("index", [0, 5, 12, 23])
def test_lab_agrees_with_an_independent_integration(index: int) -> None:
    reflectance = spectra.chart_colours()[index]
    shape = colour.SpectralShape(380, 780, 5)
    sd = colour.SpectralDistribution(dict(zip(spectra.WAVELENGTHS, reflectance, strict=True)))
    d65 = colour.SDS_ILLUMINANTS["D65"].copy().align(shape)
    cmfs = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    xyz = colour.sd_to_XYZ(sd, cmfs, d65, method="Integration") / 100
    white = colour.sd_to_XYZ(sd * 0 + 1, cmfs, d65, method="Integration") / 100
    lab = colour.XYZ_to_Lab(xyz, colour.XYZ_to_xy(white))
    assert spectra.lab_of(reflectance) == pytest.approx(lab, abs=0.01)


def test_linear_srgb_and_back_gives_the_same_lab() -> None:
    colours = spectra.cie224_colours()
    there = spectra.linear_srgb_of(colours)
    assert spectra.lab_of_linear(there) == pytest.approx(spectra.lab_of(colours), abs=1e-6)


def test_52_cameras_and_99_test_colours_are_there() -> None:
    assert len(spectra.cameras()) == 52
    assert all(s.shape == (81, 3) for s in spectra.cameras().values())
    assert spectra.cie224_colours().shape == (99, 81)


def test_a_deeper_dyeing_is_darker_at_every_wavelength() -> None:
    madder = spectra.chart_colours()[8]
    pale = spectra.mixture([(madder, 1.0)], 0.5)
    deep = spectra.mixture([(madder, 1.0)], 2.0)
    assert np.all(deep < pale)
    assert spectra.mixture([(madder, 1.0)]) == pytest.approx(madder, abs=1e-9)
