"""Cameras, looks and curves."""

from __future__ import annotations

import numpy as np
import pytest

from tests.render.calibrate_look import real_errors, rendered_errors
from tests.render.camera import balanced, own_matrix
from tests.render.curves import FAMILIES, make_curve
from tests.render.look import apply_look, make_look
from tests.render.spectra import cameras, chart_colours, delta_e, lab_of, lab_of_linear


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("seed", [0, 1, 2, 3])
def test_curves_rise_from_black_to_white_and_can_be_undone(family: str, seed: int) -> None:
    curve = make_curve(family, seed)
    light = np.linspace(0.004, 0.97, 200)
    shown = curve(light)
    assert np.all(np.diff(shown) > 0)
    assert curve(np.array([0.0, 1.0])) == pytest.approx([0, 1], abs=2e-4)
    assert curve.inverse(shown) == pytest.approx(light, rel=1e-5)
    assert curve(light.astype(np.float32)) == pytest.approx(shown, rel=0.003)


def test_a_curve_is_s_shaped() -> None:
    for family in FAMILIES[1:]:
        curve = make_curve(family, 5)
        x = np.array([0.05, 0.07, 0.7, 0.9])
        slope = np.diff(np.log(curve(x)))[[0, 2]] / np.diff(np.log(x))[[0, 2]]
        assert slope[0] > 1.02
        assert slope[1] < 0.8


def test_every_cameras_matrix_keeps_white_and_shows_the_chart_nearly_right() -> None:
    for name in cameras():
        matrix = own_matrix(name)
        assert matrix.sum(axis=1) == pytest.approx([1, 1, 1], abs=1e-9)
        raw = balanced(chart_colours(), name, "daylight 5500")
        errors = delta_e(lab_of_linear(raw @ matrix.T), lab_of(chart_colours()))
        assert errors[:18].mean() < 2.6


@pytest.mark.parametrize("strength", ["mild", "typical", "strong"])
def test_a_look_leaves_greys_alone_and_moves_colours(strength: str) -> None:
    look = make_look(strength, 4)
    greys = np.repeat(np.linspace(0.01, 1, 20)[:, None], 3, axis=1)
    assert apply_look(greys, look) == pytest.approx(greys, abs=1e-5)
    colours = np.array([[0.5, 0.1, 0.05], [0.05, 0.2, 0.6]])
    moved = delta_e(lab_of_linear(apply_look(colours, look)), lab_of_linear(colours))
    assert np.all(moved > 0.3)


def test_typical_looks_are_as_far_off_as_real_photographs() -> None:
    real, typical = real_errors(), rendered_errors("typical")
    low, high = np.percentile(real, [10, 90])
    assert low < np.median(typical) < high
    assert np.median(rendered_errors("mild")) < 0.65 * np.median(typical)
