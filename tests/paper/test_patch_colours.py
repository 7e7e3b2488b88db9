"""The colours of a sheet with colours are many, far apart, and mixed over the page."""

from itertools import product

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import lab_to_lch, xyz_to_lab
from dyeshade.cie.rgb_spaces import SRGB, srgb_decode
from dyeshade.paper.patch_colours import PATCH_COLOURS
from dyeshade.sheet.layout import build_layout

SHEETS = list(product(("A4", "Letter"), ("six", "one")))


@pytest.fixture(scope="module")
def lab() -> np.ndarray:
    return xyz_to_lab(srgb_decode(np.array(PATCH_COLOURS) / 255) @ SRGB.to_xyz.T)


def test_colours_are_spread_over_hue_lightness_and_chroma(lab):
    lch = lab_to_lch(lab)
    assert len(lch) >= 18
    hues = np.sort(lch[:, 2])
    assert np.diff([*hues, hues[0] + 360]).max() < 25
    assert np.ptp(lch[:, 0]) > 50
    assert np.ptp(lch[:, 1]) > 50


def test_no_two_colours_are_alike(lab):
    apart = ciede2000(lab[:, None], lab[None])
    # Ten units of CIEDE2000 are another colour to any eye (common practice, no source).
    assert apart[~np.eye(len(lab), dtype=bool)].min() > 9


@pytest.mark.parametrize(("paper", "cells"), SHEETS)
def test_neighbours_differ(lab, paper, cells):
    places = np.array([colour.centre for colour in build_layout(paper, cells, True).colours])
    near = np.linalg.norm(places[:, None] - places[None], axis=-1) < 45
    np.fill_diagonal(near, False)
    apart = ciede2000(lab[:, None], lab[None])
    assert near.sum() >= 48
    assert apart[near].min() > 18


@pytest.mark.parametrize(("paper", "cells"), SHEETS)
def test_light_that_falls_off_over_the_page_is_no_ramp_of_colours(lab, paper, cells):
    places = np.array([colour.centre for colour in build_layout(paper, cells, True).colours])
    for values, along in product(lab.T, places.T):
        assert abs(np.corrcoef(values, along)[0, 1]) < 0.12


def test_each_half_of_the_page_holds_colours_of_every_sort(lab):
    lch = lab_to_lch(lab)
    for half in (lch[::2], lch[1::2], lch[:12], lch[12:]):
        assert np.diff([*np.sort(half[:, 2]), half[:, 2].min() + 360]).max() < 90
        assert np.ptp(half[:, 0]) > 40
