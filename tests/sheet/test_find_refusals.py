"""Photos in which the sheet cannot be placed are refused, each with its own reason."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.sheet.find import find_sheet
from dyeshade.sheet.place import notices

from .warp import Shot, furthest_off, hide, photograph, printed, spoil

SHOT = Shot(tilt=10)


def refusal(photo: np.ndarray) -> DyeshadeError:
    with pytest.raises(DyeshadeError) as refused:
        find_sheet(photo)
    return refused.value


def plain(shot: Shot = SHOT) -> np.ndarray:
    layout, page = printed()
    return photograph(page, layout.paper_mm, shot)


def test_a_sharp_photo_of_something_else_has_no_sheet() -> None:
    picture = np.full((1200, 1600), 90, np.uint8)
    for number in range(40):
        centre = (40 * number % 1600, 170 * number % 1200)
        cv2.circle(picture, centre, 30 + number, 5 * number + 40, -1, cv2.LINE_AA)
    assert refusal(spoil(picture, noise=2)).code == "no_sheet"


def test_a_bare_wall_has_no_sheet() -> None:
    assert refusal(spoil(np.full((1200, 1600), 120, np.uint8), noise=3)).code == "no_sheet"


@pytest.mark.parametrize("kept", [1, 3])
def test_fewer_than_four_marks_are_too_few(kept: int) -> None:
    layout, page = printed()
    covered = hide(page, layout.marks[kept:])
    error = refusal(spoil(photograph(covered, layout.paper_mm, SHOT)))
    assert error.code == "too_few_marks"
    assert error.facts == {"seen": kept, "needed": 4}


@pytest.mark.parametrize("blur", [5.0, 9.0, 20.0])
def test_a_blurred_photo_is_told_as_blurred_whether_marks_are_read_or_not(blur: float) -> None:
    assert refusal(spoil(plain(), blur=blur, noise=2)).code == "too_blurred"


def test_slight_blur_is_no_reason_to_refuse() -> None:
    assert find_sheet(spoil(plain(), blur=2.0, noise=2)).edge_mm < 1.5


def test_a_small_sheet_is_refused_with_its_scale() -> None:
    error = refusal(spoil(plain(Shot(size=(1200, 900), fill=0.55))))
    assert error.code == "too_small"
    assert error.facts["px_per_mm"] == pytest.approx(2.2, abs=0.1)


def test_beyond_45_degrees_is_too_tilted_and_40_is_told() -> None:
    layout, _ = printed()
    error = refusal(spoil(plain(Shot(size=(3000, 2250), tilt=52, towards=20, fill=0.6))))
    assert error.code == "too_tilted"
    assert error.facts["degrees"] == pytest.approx(52, abs=3)
    shot = Shot(size=(3000, 2250), tilt=40, towards=20, fill=0.6)
    place = find_sheet(spoil(plain(shot)))
    assert "tilted" in {notice.code for notice in notices(place)}
    assert furthest_off(place, layout, shot) < 0.3


def test_a_mirrored_photo_is_refused() -> None:
    assert refusal(np.ascontiguousarray(spoil(plain())[:, ::-1])).code == "sheet_mirrored"


def test_a_sheet_from_which_a_strip_was_cut_is_refused() -> None:
    layout, page = printed()
    half = page.shape[0] // 2
    bare = np.full_like(page[:160], page.max())
    torn = np.concatenate([page[: half - 160], page[half:], bare])
    error = refusal(spoil(photograph(torn, layout.paper_mm, SHOT)))
    assert error.code == "marks_disagree"


def test_of_two_sheets_the_larger_is_read_and_the_other_told() -> None:
    layout, page = printed()
    large = Shot(size=(2400, 1600), roll=0, fill=0.6, shift=(-0.25, 0.0))
    small = replace(large, fill=0.5, shift=(0.25, 0.0))
    both = photograph(page, layout.paper_mm, large)
    both[:, 1200:] = photograph(page, layout.paper_mm, small)[:, 1200:]
    place = find_sheet(spoil(both))
    assert furthest_off(place, layout, large) < 0.3
    assert [notice.code for notice in notices(place)] == ["more_sheets"]
