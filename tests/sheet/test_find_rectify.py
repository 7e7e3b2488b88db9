"""A part of the photo straightened into page millimetres keeps its places and its mean light."""

from __future__ import annotations

import numpy as np
import pytest

from dyeshade.sheet.find import find_sheet
from dyeshade.sheet.place import SheetPlace
from dyeshade.sheet.rectify import rectify

from .warp import Shot, photograph, printed, spoil

SHOT = Shot(tilt=20, towards=50, k1=0.04, roll=95)


@pytest.fixture(scope="module")
def place() -> SheetPlace:
    layout, page = printed()
    return find_sheet(spoil(photograph(page, layout.paper_mm, SHOT)))


@pytest.fixture(scope="module")
def coordinates(place: SheetPlace) -> np.ndarray:
    """A photo whose first two channels are the page place in mm that each pixel sees."""
    rows, columns = place.frame_px
    pixels = np.stack(np.meshgrid(np.arange(columns), np.arange(rows)), axis=-1).astype(float)
    page = place.to_page(pixels)
    photo = np.concatenate([page, np.ones_like(page[..., :1])], axis=-1).astype(np.float32)
    photo.flags.writeable = False
    return photo


@pytest.mark.parametrize("px_per_mm", [1.0, 3.0, 11.0])
def test_each_pixel_shows_its_place_at_any_scale(
    place: SheetPlace, coordinates: np.ndarray, px_per_mm: float
) -> None:
    box = (60.0, 70.0, 40.0, 30.0)
    found = rectify(coordinates, place, box, px_per_mm)
    assert found.shape == (round(30 * px_per_mm), round(40 * px_per_mm), 3)
    x = 60.0 + (np.arange(found.shape[1]) + 0.5) / px_per_mm
    y = 70.0 + (np.arange(found.shape[0]) + 0.5) / px_per_mm
    assert np.abs(found[..., 0] - x[None, :]).max() < 0.01
    assert np.abs(found[..., 1] - y[:, None]).max() < 0.01


def test_shrinking_averages_light_over_fine_threads(place: SheetPlace) -> None:
    rows, columns = place.frame_px
    threads = np.zeros((rows, columns, 3), np.float32)
    threads[:, ::2] = 0.8
    found = rectify(threads, place, (40.0, 50.0, 100.0, 150.0), 1.0)
    assert found.mean() == pytest.approx(0.4, abs=0.002)
    assert found.std() < 0.06


def test_a_reader_of_regions_gives_the_same_as_the_whole_photo(
    place: SheetPlace, coordinates: np.ndarray
) -> None:
    photo = coordinates
    asked = []

    def read(rows: slice, columns: slice) -> np.ndarray:
        asked.append((rows, columns))
        return photo[rows, columns]

    box = (20.0, 20.0, 30.0, 20.0)
    assert np.array_equal(rectify(read, place, box, 4.0), rectify(photo, place, box, 4.0))
    (rows, columns), *more = asked
    assert not more
    assert (rows.stop - rows.start) * (columns.stop - columns.start) < 0.1 * photo[..., 0].size


def test_beyond_the_photo_there_is_nothing(place: SheetPlace, coordinates: np.ndarray) -> None:
    found = rectify(coordinates, place, (-80.0, 100.0, 100.0, 5.0), 2.0)
    assert np.isnan(found[:, :4]).all()
    assert np.isfinite(found[:, -4:]).all()
    assert np.isnan(rectify(coordinates, place, (-900.0, 0.0, 10.0, 10.0), 1.0)).all()
