"""What a person draws on a photo of the sheet is measured like what the program finds."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import xyz_to_lab
from dyeshade.cie.rgb_spaces import SRGB, srgb_decode
from dyeshade.errors import DyeshadeError
from dyeshade.measure.corrected import as_corrected, as_taken
from dyeshade.measure.photo_to_shade import Solved, solve_photo
from dyeshade.measure.regions import DrawnOnSheet, HandSample
from dyeshade.photo.photo import Photo
from dyeshade.photo.read import read_photo

EXAMPLES = Path(__file__).parents[2] / "example_images"
PHOTO = "hw27_2_vinegar.jpg"


@pytest.fixture(scope="module")
def photo() -> Photo:
    return read_photo(EXAMPLES / PHOTO)


@pytest.fixture(scope="module")
def found(photo: Photo) -> Solved:
    return solve_photo(photo)


def test_a_cell_drawn_anew_gives_its_shade_again(photo: Photo, found: Solved) -> None:
    cell = found.measurement.samples[0]
    spot = HandSample("spot", cell.outline_px)
    drawn = solve_photo(photo, DrawnOnSheet((spot,), frozenset({cell.name}))).measurement
    names = [sample.name for sample in drawn.samples]
    assert cell.name not in names
    (again,) = (sample for sample in drawn.samples if sample.name == "spot")
    # Not the same pixels: gaps between strands are told apart in cells only.
    assert ciede2000(again.shade.lab, cell.shade.lab) < 1.0
    assert again.shade.u95 == pytest.approx(cell.shade.u95, rel=0.2)
    assert np.array_equal(again.outline_px, cell.outline_px)


def test_a_drawn_spot_is_as_near_the_truth_as_it_says(photo: Photo, found: Solved) -> None:
    truth = json.loads((EXAMPLES / "truth.json").read_text(encoding="utf-8"))["photos"][PHOTO]
    for sample in found.measurement.samples:
        middle = sample.outline_px.mean(axis=0)
        small = middle + 0.5 * (sample.outline_px - middle)
        drawn = DrawnOnSheet((HandSample("spot", small),))
        spot = solve_photo(photo, drawn).measurement.samples[-1]
        true = truth["samples"][sample.name]["lab"]
        assert ciede2000(spot.shade.lab, true) < spot.shade.u95


def test_cells_that_are_left_out_are_not_read(photo: Photo, found: Solved) -> None:
    every = frozenset(sample.name for sample in found.measurement.samples)
    with pytest.raises(DyeshadeError, match="no_pieces"):
        solve_photo(photo, DrawnOnSheet(without=every))


def test_what_lies_outside_or_is_a_speck_is_refused(photo: Photo) -> None:
    square = np.array([[0.0, 0.0], [3.0, 0.0], [3.0, 3.0], [0.0, 3.0]])
    for corners, code in ((square - 500, "region_outside"), (square + 50, "sample_too_small")):
        with pytest.raises(DyeshadeError, match=code):
            solve_photo(photo, DrawnOnSheet((HandSample("speck", corners),)))


def test_the_sheet_and_its_greys_are_outlined(photo: Photo, found: Solved) -> None:
    sheet = found.measurement.sheet
    assert sheet is not None
    assert found.place is not None
    assert np.allclose(sheet.outline_px[0], found.place.to_pixels([0.0, 0.0]))
    low, high = sheet.outline_px.min(axis=0), sheet.outline_px.max(axis=0)
    assert sheet.greys_px.shape == (32, 4, 2)
    assert (sheet.greys_px > low).all()
    assert (sheet.greys_px < high).all()


def lab_in(picture: np.ndarray, corners: np.ndarray, scale: float) -> np.ndarray:
    """Mean Lab of the middle of a region of a picture that is smaller than the photo."""
    middle = corners.mean(axis=0)
    low, high = (middle + 0.4 * (edge - middle) for edge in (corners.min(0), corners.max(0)))
    left, top, right, bottom = np.round(np.array([*low, *high]) * scale).astype(int)
    light = srgb_decode(picture[top:bottom, left:right].reshape(-1, 3) / 255.0).mean(axis=0)
    return np.asarray(xyz_to_lab(light @ SRGB.to_xyz.T))


def test_the_corrected_photo_shows_what_the_numbers_say(photo: Photo, found: Solved) -> None:
    picture = as_corrected(photo, found, 1000)
    assert max(picture.shape) == 1000
    scale = 1000 / max(photo.width, photo.height)
    assert found.place is not None
    sheet = found.measurement.sheet
    assert sheet is not None
    for grey, corners in zip(found.place.layout.patches, sheet.greys_px, strict=True):
        seen = lab_in(picture, corners, scale)
        printed = 116 * np.cbrt(grey.reflectance) - 16
        # A sheet of another print departs a little from the plain one; never in colour.
        assert seen[0] == pytest.approx(printed, abs=5.0), grey.name
        assert np.hypot(*seen[1:]) < 3.0, grey.name
    for sample in found.measurement.samples:
        assert ciede2000(lab_in(picture, sample.outline_px, scale), sample.shade.lab) < 2.5


def test_the_photo_as_taken_is_what_the_camera_wrote(photo: Photo) -> None:
    picture = as_taken(photo, 10000)
    assert picture.shape == photo.coded.shape
    if photo.encoding.name.startswith("sRGB"):
        assert np.abs(picture.astype(int) - photo.coded).max() <= 1
