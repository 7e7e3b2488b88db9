"""Light over the sheet, and where the camera stands."""

from __future__ import annotations

import numpy as np
import pytest

from tests.render.lighting import make_light_field, shadow_map
from tests.render.viewpoint import Curl, make_viewpoint

A4 = (210.0, 297.0)


@pytest.mark.parametrize("factor", [1.05, 1.3, 1.6])
@pytest.mark.parametrize("seed", [1, 2])
def test_light_is_as_uneven_as_asked(factor: float, seed: int) -> None:
    field = make_light_field(A4, factor, 130, 45, seed)
    window, reflected = field.parts(*np.meshgrid(np.linspace(0, 210, 22), np.linspace(0, 297, 30)))
    total = window + reflected
    assert total.max() == pytest.approx(1.0, abs=0.01)
    assert total.max() / total.min() == pytest.approx(factor, rel=0.03)


def test_a_raised_place_nearer_the_window_gets_other_light() -> None:
    field = make_light_field(A4, 1.5, 0, 60, 3)
    flat, _ = field.parts(np.array(105.0), np.array(148.0), 0.0)
    raised, _ = field.parts(np.array(105.0), np.array(148.0), 50.0)
    assert 1.02 < raised / flat < 1.6


def test_no_shadow_is_one_everywhere_and_a_shadow_has_its_depth() -> None:
    x, y = np.meshgrid(np.linspace(-100, 100, 50), np.linspace(-140, 140, 60))
    assert np.all(shadow_map(x, y, 0.0, 20, 0, 0, 1) == 1)
    dark = shadow_map(x, y, 0.4, 20, 0, 0, 1)
    assert dark.min() == pytest.approx(0.6, abs=0.01)
    assert dark.max() == pytest.approx(1.0, abs=0.01)


@pytest.mark.parametrize("tilt", [0, 20, 35])
@pytest.mark.parametrize("k1", [-0.08, 0.0, 0.08])
@pytest.mark.parametrize("turn", [0, 90, 187])
def test_places_and_pixels_are_each_others_inverse(tilt: float, k1: float, turn: float) -> None:
    view = make_viewpoint(A4, (900, 1200), tilt, 70, turn, 700, 0.9, k1)
    curl = Curl(A4, np.array([8.0, 0.0, 12.0, 3.0]), 4.0)
    x, y = view.places((0, 0, 900, 1200), 0.0, curl)
    rows, columns = np.array([100, 600, 1100]), np.array([150, 450, 820])
    places = np.column_stack([x[rows, columns], y[rows, columns]])
    back = view.project(places, curl.height(places[:, 0], places[:, 1]))
    assert back == pytest.approx(np.column_stack([columns, rows]), abs=0.02)


def test_the_page_is_whole_in_the_photo_and_not_mirrored() -> None:
    for tilt in (0, 35):
        view = make_viewpoint(A4, (900, 1200), tilt, 200, 3, 700, 0.92, 0.05)
        corners = view.project(np.array([[0, 0], [210, 0], [210, 297], [0, 297]], dtype=float))
        assert np.all(corners > 0)
        assert np.all(corners < [900, 1200])
        a, b = corners[1] - corners[0], corners[3] - corners[0]
        assert a[0] * b[1] - a[1] * b[0] > 0


def test_a_raised_place_moves_in_a_tilted_photo() -> None:
    view = make_viewpoint(A4, (900, 1200), 30, 90, 0, 700, 0.92, 0.0)
    place = np.array([[105.0, 148.5]])
    moved = np.linalg.norm(view.project(place, 20.0) - view.project(place, 0.0))
    per_mm = np.linalg.norm(view.project(place + np.array([0, 1]), 0.0) - view.project(place, 0.0))
    assert 8 < moved / per_mm < 16
