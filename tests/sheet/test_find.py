"""The sheet is found in photos with the troubles that a photo may have."""

from __future__ import annotations

import numpy as np
import pytest

from dyeshade.sheet.find import find_sheet
from dyeshade.sheet.place import notices

from .warp import Shot, furthest_off, hide, photograph, printed, spoil

UPRIGHT = Shot(size=(1512, 2016), roll=0.0)

TROUBLES = {
    "straight from above": Shot(),
    "tilted by 35 degrees": Shot(tilt=35, towards=30, fill=0.7),
    "tilted by 35 degrees to the other side": Shot(tilt=35, towards=120, fill=0.7),
    "upright": UPRIGHT,
    "upside down": Shot(size=(1512, 2016), roll=182),
    "turned to the left": Shot(roll=-92, tilt=15),
    "lying across": Shot(roll=40, fill=0.6),
    "barrel lens": Shot(k1=-0.08, fill=0.9, tilt=10),
    "pincushion lens": Shot(k1=0.08, fill=0.85, tilt=10),
    "lens bend of another formula": Shot(k1=-0.08, fill=0.9, outward=False),
    "small in the frame": Shot(fill=0.45),
    "to one side": Shot(shift=(0.12, 0.08), fill=0.6, tilt=20),
    "from afar": Shot(focal=4.0, tilt=10),
}

CURLS = {
    "corners lifted": Shot(lift=lambda x, y: 5 * np.abs(x * y) ** 1.5),
    "rolled along": Shot(lift=lambda x, y: 6 * x**2, tilt=25, towards=40),
    "one corner lifted": Shot(lift=lambda x, y: 4 * np.maximum(0, x + y - 0.5) ** 2, tilt=15),
}


@pytest.mark.parametrize("shot", TROUBLES.values(), ids=TROUBLES.keys())
def test_greys_and_cells_of_a_flat_sheet_are_placed_to_0_3_mm(shot: Shot) -> None:
    layout, page = printed()
    place = find_sheet(spoil(photograph(page, layout.paper_mm, shot), noise=3, uneven=1.6))
    assert furthest_off(place, layout, shot) < 0.3
    assert len(place.marks_seen) == len(layout.marks)
    assert place.tilt_degrees == pytest.approx(shot.tilt, abs=6)


@pytest.mark.parametrize("shot", CURLS.values(), ids=CURLS.keys())
def test_greys_and_cells_of_a_curled_sheet_are_placed_to_1_mm(shot: Shot) -> None:
    layout, page = printed()
    place = find_sheet(spoil(photograph(page, layout.paper_mm, shot), noise=3))
    assert furthest_off(place, layout, shot) < 1.0
    assert "paper_curled" in {notice.code for notice in notices(place)}


def test_noise_blur_and_uneven_light_together_do_not_move_the_sheet() -> None:
    layout, page = printed()
    shot = Shot(tilt=20, towards=75, k1=-0.04)
    photo = spoil(photograph(page, layout.paper_mm, shot), noise=6, blur=1.5, uneven=1.6, jpeg=75)
    assert furthest_off(find_sheet(photo), layout, shot) < 0.3


def test_the_marks_tell_paper_cells_and_serial() -> None:
    layout, page = printed()
    place = find_sheet(spoil(photograph(page, layout.paper_mm, UPRIGHT)))
    assert place.layout == layout


def test_a_photo_without_troubles_carries_no_notice() -> None:
    layout, page = printed()
    assert notices(find_sheet(spoil(photograph(page, layout.paper_mm, UPRIGHT)))) == ()


@pytest.mark.parametrize("seed", range(6))
def test_any_four_marks_are_enough_for_a_flat_sheet(seed: int) -> None:
    layout, page = printed()
    chance = np.random.default_rng(seed)
    kept = set(chance.permutation(len(layout.marks))[:4].tolist())
    covered = hide(page, [mark for i, mark in enumerate(layout.marks) if i not in kept])
    shot = Shot(tilt=15, towards=60 * seed, k1=0.03)
    place = find_sheet(spoil(photograph(covered, layout.paper_mm, shot), noise=2))
    assert len(place.marks_seen) == 4
    off = furthest_off(place, layout, shot)
    # Four marks in one row leave the far side of the page less sure, and the place says so.
    assert off < max(0.3, place.doubt_mm)
    assert off < 1.0
    assert notices(place)[0].facts == {"seen": 4, "of": len(layout.marks)}


def test_marks_out_of_the_frame_do_no_harm() -> None:
    layout, page = printed()
    shot = Shot(fill=1.0, shift=(0.16, 0.0))
    place = find_sheet(spoil(photograph(page, layout.paper_mm, shot)))
    assert len(place.marks_seen) < len(layout.marks)
    assert furthest_off(place, layout, shot) < 0.3


def test_a_mark_moved_on_the_page_is_left_out() -> None:
    layout, page = printed()
    false = page.copy()
    mark = layout.marks[0]
    side = round(mark.size_mm * 8)
    at = round(mark.x_mm * 8), round(mark.y_mm * 8)
    piece = page[at[1] : at[1] + side, at[0] : at[0] + side].copy()
    false[at[1] : at[1] + side, at[0] : at[0] + side] = 240
    false[at[1] + 36 : at[1] + 36 + side, at[0] : at[0] + side] = piece
    shot = Shot(tilt=10)
    place = find_sheet(spoil(photograph(false, layout.paper_mm, shot)))
    assert mark.ident not in place.marks_seen
    assert furthest_off(place, layout, shot) < 0.3


def test_a_hard_shadow_across_marks_does_not_hide_them() -> None:
    layout, page = printed()
    photo = spoil(photograph(page, layout.paper_mm, UPRIGHT)).astype(float)
    photo[:, : photo.shape[1] // 4] *= 0.45
    place = find_sheet(photo.astype(np.uint8))
    assert len(place.marks_seen) == len(layout.marks)
    assert furthest_off(place, layout, UPRIGHT) < 0.3


def test_to_page_undoes_to_pixels_under_bend_and_curl() -> None:
    layout, page = printed()
    shot = Shot(k1=0.07, tilt=25, lift=lambda x, y: 5 * x**2 * y)
    place = find_sheet(spoil(photograph(page, layout.paper_mm, shot)))
    points = np.array([[5.0, 5.0], [105.0, 148.0], [200.0, 20.0], [30.0, 290.0]])
    assert np.abs(place.to_page(place.to_pixels(points)) - points).max() < 1e-4
