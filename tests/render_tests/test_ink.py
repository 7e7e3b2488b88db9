"""Prints: the plain one, and how real ones differ."""

from __future__ import annotations

import numpy as np
import pytest

from tests.render.ink import (
    INK,
    PAPER,
    Print,
    printed_spectra,
    random_print,
    srgb_decode,
    srgb_encode,
)
from tests.render.spectra import lab_of, xyz_of

GREYS = np.linspace(0, 1, 9)


def test_a_plain_print_reflects_what_the_layout_says() -> None:
    got = xyz_of(printed_spectra(GREYS, Print()))[:, 1]
    assert got == pytest.approx(INK + (PAPER - INK) * srgb_decode(GREYS), rel=1e-6)


def test_levels_miss_by_what_the_print_says_on_average() -> None:
    plain = INK + (PAPER - INK) * srgb_decode(GREYS[:-1])
    rng = np.random.default_rng(1)
    errors = [
        np.log(xyz_of(printed_spectra(GREYS[:-1], random_print(rng, 0.02)))[:, 1] / plain)
        for _ in range(60)
    ]
    assert 0.014 < np.sqrt(np.mean(np.square(errors))) < 0.028


def test_errors_are_smooth_in_tone() -> None:
    fine = np.linspace(0, 1, 101)
    how = Print(gain=0.05, skew=-0.05, density=0.05)
    error = np.log(
        xyz_of(printed_spectra(fine, how))[:, 1] / (INK + (PAPER - INK) * srgb_decode(fine))
    )
    assert np.max(np.abs(np.diff(error, 2))) < 0.004


def test_paper_and_ink_take_their_tints() -> None:
    spectra = printed_spectra(np.array([0.0, 1.0]), Print(paper_b=-1.4, paper_a=0.2, ink_b=0.8))
    lab = lab_of(spectra)
    assert lab[1, 1:] == pytest.approx([0.2, -1.4], abs=0.1)
    assert lab[0, 1:] == pytest.approx([0.0, 0.8], abs=0.1)


def test_srgb_coding_is_undone_by_decoding() -> None:
    assert srgb_decode(srgb_encode(GREYS)) == pytest.approx(GREYS, abs=1e-12)
    # IEC 61966-2-1: coded 0.5 is 0.21404 in linear light.
    assert float(srgb_decode(np.array(0.5))) == pytest.approx(0.21404, abs=1e-5)
