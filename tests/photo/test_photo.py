"""A photo's light is the curve at its codes, by region, without 8-bit steps."""

import pickle

import numpy as np
import pytest

from dyeshade.cie.rgb_spaces import srgb_decode
from dyeshade.photo.curves import ParametricCurve, TableCurve
from dyeshade.photo.encoding import Encoding, adobe_rgb_encoding, srgb_encoding
from dyeshade.photo.photo import Photo
from tests.photo import files


def photo_of(coded: np.ndarray, encoding: Encoding | None = None) -> Photo:
    return Photo("a.png", coded, encoding or srgb_encoding(), None, None, "PNG", None, ())


@pytest.mark.parametrize("coded", [files.blocks(), files.blocks16()], ids=["8 bits", "16 bits"])
def test_light_is_the_curve_at_the_codes(coded):
    photo = photo_of(coded)
    light = photo.linear()
    assert light.dtype == np.float32
    np.testing.assert_allclose(light, srgb_decode(coded / photo.full_scale), atol=1e-7)


@pytest.mark.parametrize("coded", [files.blocks(), files.blocks16()], ids=["8 bits", "16 bits"])
def test_a_region_is_that_part_of_the_whole(coded):
    photo = photo_of(coded)
    rows, columns = slice(30, 77), slice(5, 300)
    np.testing.assert_array_equal(photo.linear(rows, columns), photo.linear()[rows, columns])
    np.testing.assert_array_equal(photo.clipped(rows, columns), photo.clipped()[rows, columns])
    assert photo.linear(slice(4, 4), columns).shape == (0, 295, 3)


def test_every_channel_has_its_own_curve():
    curves = (ParametricCurve(1.0), ParametricCurve(2.0), TableCurve((0.0, 0.0, 1.0)))
    coded = files.blocks(40, 50)
    light = photo_of(coded, Encoding(curves, np.eye(3), "built", False)).linear()
    x = coded / 255.0
    expected = np.stack([x[..., 0], x[..., 1] ** 2, np.maximum(2 * x[..., 2] - 1, 0)], axis=2)
    np.testing.assert_allclose(light, expected, atol=1e-6)


def test_sixteen_bits_keep_more_than_256_levels():
    ramp = np.repeat(np.arange(30000, 34000, dtype=np.uint16)[:, np.newaxis], 3, axis=1)
    light = photo_of(ramp[np.newaxis]).linear()
    for channel in range(3):
        assert len(np.unique(light[..., channel])) == 4000


def test_a_channel_at_its_end_is_clipped():
    row = np.array([[[0, 9, 9], [1, 9, 9], [9, 253, 9], [9, 254, 9], [9, 9, 255]]], np.uint8)
    assert photo_of(row).clipped().tolist() == [[True, False, False, True, True]]
    row16 = row.astype(np.uint16) * 257
    assert photo_of(row16).clipped().tolist() == [[True, False, False, True, True]]


def test_grey_for_finding_is_the_same_from_8_and_16_bits():
    coded = files.blocks(40, 50)
    grey, grey16 = photo_of(coded).grey8(), photo_of(coded.astype(np.uint16) * 257).grey8()
    assert grey.dtype == grey16.dtype == np.uint8
    assert grey.shape == (40, 50)
    assert np.abs(grey.astype(int) - grey16).max() <= 1
    luma = coded @ [0.299, 0.587, 0.114]
    assert np.abs(grey - luma).max() <= 1.0


def test_a_photo_travels_between_processes():
    photo = photo_of(files.blocks(40, 50), adobe_rgb_encoding())
    copy = pickle.loads(pickle.dumps(photo))
    np.testing.assert_array_equal(copy.linear(), photo.linear())
    np.testing.assert_array_equal(copy.encoding.to_xyz, photo.encoding.to_xyz)


def test_what_is_no_photo_is_our_mistake():
    with pytest.raises(ValueError, match="three channels"):
        photo_of(np.zeros((4, 5), np.uint8))
    with pytest.raises(TypeError, match="8 or 16"):
        photo_of(np.zeros((4, 5, 3), np.float32))
