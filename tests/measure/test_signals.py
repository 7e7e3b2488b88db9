"""What is read inside small boxes of the page."""

from __future__ import annotations

import numpy as np
import pytest

from dyeshade.measure.signals import sample_boxes
from dyeshade.photo.encoding import srgb_encoding
from dyeshade.photo.photo import Photo
from dyeshade.sheet.find import find_sheet
from dyeshade.sheet.layout import Box, paper_spots
from dyeshade.sheet.place import SheetPlace
from tests.sheet.warp import Shot, photograph, printed, spoil

SHOT = Shot(tilt=20, towards=50, k1=0.04, roll=95)


def as_photo(coded: np.ndarray) -> Photo:
    return Photo("a.png", coded, srgb_encoding(), None, None, "PNG", None, ())


@pytest.fixture(scope="module")
def grey() -> np.ndarray:
    layout, page = printed()
    return spoil(photograph(page, layout.paper_mm, SHOT), noise=2, jpeg=None)


@pytest.fixture(scope="module")
def place(grey: np.ndarray) -> SheetPlace:
    return find_sheet(grey)


def srgb_light(coded: np.ndarray) -> np.ndarray:
    """IEC 61966-2-1, decoding."""
    share = coded / 255.0
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def test_greys_are_read_as_they_were_printed(grey: np.ndarray, place: SheetPlace) -> None:
    layout, page = printed()
    found = sample_boxes(as_photo(np.dstack([grey] * 3)), place, layout.patches)
    middles = np.array([patch.centre for patch in layout.patches]) * 8
    printed_light = srgb_light(page[middles[:, 1].astype(int), middles[:, 0].astype(int)])
    assert found.mean[:, 1] == pytest.approx(printed_light, rel=0.01, abs=0.001)
    assert found.clipped.max() == 0.0
    assert found.patchy.max() < 0.02
    assert np.array_equal(found.centre_mm, [patch.centre for patch in layout.patches])


def test_spread_is_that_of_the_pixels(grey: np.ndarray, place: SheetPlace) -> None:
    layout, _ = printed()
    chance = np.random.default_rng(1)
    coded = np.clip(chance.normal(30000, 900, (*grey.shape, 3)), 0, 65535).astype(np.uint16)
    found = sample_boxes(as_photo(coded), place, layout.patches)
    slope = (srgb_light(255 * 30100 / 65535) - srgb_light(255 * 29900 / 65535)) / 200
    assert found.spread == pytest.approx(900 * slope, rel=0.1)


def test_a_box_of_the_page_holds_its_pixels(grey: np.ndarray, place: SheetPlace) -> None:
    box = Box("middle", 95.0, 138.0, 20.0, 20.0)
    found = sample_boxes(as_photo(np.dstack([grey] * 3)), place, [box], inner=0.5)
    assert found.pixels[0] == pytest.approx((10.0 * place.px_per_mm) ** 2, rel=0.08)


def test_a_patch_partly_under_yarn_is_patchy(grey: np.ndarray, place: SheetPlace) -> None:
    layout, _ = printed()
    patch = layout.patches[5]
    over = np.dstack([grey] * 3)
    left, top = place.to_pixels(patch.corners).min(axis=0)
    right, _ = place.to_pixels(patch.corners).max(axis=0)
    over[int(top) - 5 :, int(left) : int(left + 0.4 * (right - left))] = 230
    found = sample_boxes(as_photo(over), place, [patch])
    assert found.patchy[0] > 0.05


def test_clipped_pixels_are_counted(grey: np.ndarray, place: SheetPlace) -> None:
    layout, _ = printed()
    over = np.dstack([grey] * 3)
    over[::4, :, 0] = 255
    found = sample_boxes(as_photo(over), place, layout.patches)
    assert found.clipped == pytest.approx(0.25, abs=0.06)


def test_boxes_out_of_the_photo_are_empty(grey: np.ndarray, place: SheetPlace) -> None:
    layout, _ = printed()
    away = Box("away", -200.0, 0.0, 10.0, 10.0)
    found = sample_boxes(as_photo(np.dstack([grey] * 3)), place, [away, layout.patches[0]])
    assert found.pixels[0] == 0
    assert np.isnan(found.mean[0]).all()
    assert np.isfinite(found.mean[1]).all()


def test_bare_paper_spots_are_plain_paper(grey: np.ndarray, place: SheetPlace) -> None:
    layout, _ = printed()
    found = sample_boxes(as_photo(np.dstack([grey] * 3)), place, paper_spots(layout))
    assert found.mean[:, 1] == pytest.approx(
        np.full(len(found.mean), srgb_light(np.array(240.0))), rel=0.015
    )
    assert found.patchy.max() < 0.02
