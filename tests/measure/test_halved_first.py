"""A large JPEG read at half its size gives the shades that all of its pixels give."""

from pathlib import Path

import numpy as np
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.measure import halved_first
from dyeshade.measure.halved_first import solve_file
from dyeshade.measure.photo_to_shade import solve_photo
from dyeshade.measure.regions import DrawnOnSheet, HandGrey, HandSample, Regions
from dyeshade.photo.read import read_photo

PHOTO = Path(__file__).parents[2] / "example_images" / "ph_series_wool.jpg"


@pytest.fixture(scope="module")
def whole():
    return solve_photo(read_photo(PHOTO)).measurement


@pytest.fixture
def small_ones_too(monkeypatch):
    """The example's sheet has 9 pixels a millimetre, 4.5 when it is halved."""
    monkeypatch.setattr(halved_first, "LEAST_PX_PER_MM", 4.0)


def test_the_shades_are_those_of_the_whole_photo_and_outlines_lie_in_the_file(
    whole, small_ones_too
):
    photo, solved = solve_file(PHOTO)
    assert photo.shrunk == 2
    assert photo.file_size == (2250, 3000)
    found = solved.measurement
    for one, other in zip(found.samples, whole.samples, strict=True):
        assert one.name == other.name
        assert np.abs(one.shade.lab - other.shade.lab).max() < 0.25
        assert one.shade.u95 == pytest.approx(other.shade.u95, rel=0.02)
        assert np.abs(_box(one) - _box(other)).max() < 15
    assert np.abs(found.sheet.greys_px - whole.sheet.greys_px).max() < 0.1
    assert np.abs(found.sheet.outline_px - whole.sheet.outline_px).max() < 0.5
    assert found.sheet.serial == whole.sheet.serial != ""


def _box(sample):
    return np.concatenate([sample.outline_px.min(axis=0), sample.outline_px.max(axis=0)])


def test_what_is_drawn_is_drawn_in_pixels_of_the_file(whole, small_ones_too):
    low, high = whole.samples[0].outline_px.min(axis=0), whole.samples[0].outline_px.max(axis=0)
    near = (low + high) / 2 + 0.25 * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * (high - low)
    drawn = DrawnOnSheet((HandSample("patch", near),), frozenset("ABCDEF"))
    _, solved = solve_file(PHOTO, drawn)
    (patch,) = solved.measurement.samples
    expected = solve_photo(read_photo(PHOTO), drawn).measurement.samples[0]
    assert np.abs(patch.shade.lab - expected.shade.lab).max() < 0.25
    assert np.abs(_box(patch) - _box(expected)).max() < 4


def test_a_sheet_too_small_for_half_the_pixels_is_measured_with_all(whole):
    photo, solved = solve_file(PHOTO)
    assert photo.shrunk == 1
    for one, other in zip(solved.measurement.samples, whole.samples, strict=True):
        np.testing.assert_array_equal(one.shade.lab, other.shade.lab)


def test_a_code_that_half_the_pixels_leave_unread_is_read_with_all(monkeypatch, small_ones_too):
    asked = []

    def only_in_the_whole(grey, place):
        asked.append(grey.shape)
        return "28E5-BNFP" if grey.shape[0] > 2000 else None

    monkeypatch.setattr("dyeshade.sheet.find.read_serial", only_in_the_whole)
    photo, solved = solve_file(PHOTO)
    assert photo.shrunk == 1
    assert [rows for rows, _ in asked] == [1500, 3000]
    assert solved.measurement.sheet.serial == "28E5-BNFP"


def test_greys_shown_by_hand_are_read_in_the_whole_photo(whole):
    square = np.array([[0, 0], [60, 0], [60, 60], [0, 60]], float)
    greys = [
        HandGrey(corners.mean(axis=0) - 30 + square, float(share))
        for corners, share in zip(
            whole.sheet.greys_px[:6], whole.patches.reflectance[:6], strict=True
        )
    ]
    middle = whole.samples[0].outline_px.mean(axis=0)
    regions = Regions(tuple(greys), (HandSample("patch", middle - 30 + square),))
    photo, _ = solve_file(PHOTO, regions)
    assert photo.shrunk == 1
    with pytest.raises(ValueError, match="whole photo"):
        solve_photo(read_photo(PHOTO, halved=True), regions)


def test_a_refusal_is_that_of_the_whole_photo(small_ones_too):
    drawn = DrawnOnSheet((), frozenset("ABCDEF"))
    with pytest.raises(DyeshadeError) as raised:
        solve_file(PHOTO, drawn)
    assert raised.value.code == "no_pieces"
