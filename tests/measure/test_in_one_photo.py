"""Spots of one photo: what is wrong with the photo leaves the difference of two of them."""

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.measure.in_one_photo import SpotsTogether, shared_by_camera, spots_together
from dyeshade.measure.photo_to_shade import Solved, solve_photo
from dyeshade.measure.regions import DrawnOnSheet, HandSample
from dyeshade.photo.read import read_photo
from dyeshade.work.read_strip import block_corners
from tests.bath.strip_photo import ROWS, kept_photo

PHOTO = kept_photo()
BLOCKS = dict(block_corners(PHOTO.scale, ROWS))
NAMES = ["seven", "seven again", "four", "pad"]


@pytest.fixture(scope="module")
def solved() -> Solved:
    seven = BLOCKS[7.0]
    half = seven.mean(axis=0) + 0.5 * (seven - seven.mean(axis=0))
    drawn = (seven, half, BLOCKS[4.0], PHOTO.pads[7.4])
    samples = tuple(HandSample(name, one) for name, one in zip(NAMES, drawn, strict=True))
    return solve_photo(read_photo(str(PHOTO.path)), DrawnOnSheet(samples), "window")


@pytest.fixture(scope="module")
def spots(solved: Solved) -> SpotsTogether:
    return spots_together(solved, NAMES, ["pad"])


def variance(spots: SpotsTogether, first: int, second: int | None = None) -> float:
    """Of a spot, or of the difference of two, summed over L*, a* and b*."""
    each = spots.covariance.reshape(len(spots.lab), 3, len(spots.lab), 3)
    if second is None:
        return float(np.trace(each[first, :, first]))
    both = each[first, :, second]
    return variance(spots, first) + variance(spots, second) - 2 * float(np.trace(both))


def test_the_shades_are_those_of_the_measurement(solved: Solved, spots: SpotsTogether):
    measured = {one.name: one.shade for one in solved.measurement.samples}
    np.testing.assert_array_equal(spots.lab, [measured[name].lab for name in NAMES])
    for k, name in enumerate(NAMES):
        # Of a flat spot less is in doubt than of a cloth that stands above the sheet.
        assert variance(spots, k) < np.trace(measured[name].covariance) * 1.05
        assert variance(spots, k) > np.trace(measured[name].covariance) * 0.5


def test_the_covariance_is_one(spots: SpotsTogether):
    np.testing.assert_allclose(spots.covariance, spots.covariance.T, atol=1e-9)
    assert np.linalg.eigvalsh(spots.covariance).min() > 0


def test_two_spots_of_one_colour_differ_by_far_less_than_each_is_in_doubt(spots: SpotsTogether):
    assert ciede2000(spots.lab[0], spots.lab[1]) < 1
    assert variance(spots, 0, 1) < 0.05 * variance(spots, 0)
    # The further apart two colours are, and where colourants differ, the less is shared.
    assert variance(spots, 0, 1) < variance(spots, 0, 3) < variance(spots, 0, 2)


def test_two_photos_by_one_camera_share_less_than_one_photo_does(spots: SpotsTogether):
    lab, roots = spots.lab[:1], spots.camera_roots[:1]
    shared = shared_by_camera(lab, roots, lab, roots)
    of_camera = roots[0] @ roots[0].T
    assert 0.5 * np.trace(of_camera) < np.trace(shared) < 0.9 * np.trace(of_camera)


def test_a_spot_that_was_not_measured_is_our_mistake(solved: Solved):
    with pytest.raises(ValueError, match="nowhere"):
        spots_together(solved, ["nowhere"])
