"""HEIC files: depths, orientation, profiles and code points, and damage."""

import numpy as np
import pytest

from dyeshade.cie.rgb_spaces import DISPLAY_P3, SRGB
from dyeshade.photo.code_points import encoding_of
from dyeshade.photo.heif import read_heif
from dyeshade.photo.read import read_photo
from tests.photo import files, profiles
from tests.photo.raw_files import heic8, heic10

IMAGE = files.blocks(600, 640)
EXACT = {"matrix_coefficients": 0}
DATA = heic8(IMAGE, **EXACT)


def read(folder, data: bytes):
    path = folder / "photo.heic"
    path.write_bytes(data)
    return read_photo(path)


def test_a_phone_photo_with_its_profile_and_notes(tmp_path):
    exif = files.exif({271: "Bramble", 272: "B-12"}, {36867: "2024:03:09 14:05:30"})
    icc = profiles.matrix_profile(name="Display P3")
    photo = read(tmp_path, heic8(IMAGE, exif=b"Exif\0\0" + exif, icc_profile=icc, **EXACT))
    assert photo.file_format == "HEIC"
    assert photo.camera == "Bramble B-12"
    assert photo.taken is not None
    assert photo.taken.isoformat() == "2024-03-09T14:05:30"
    assert photo.encoding.name == "Display P3"
    assert photo.encoding.rendered
    np.testing.assert_allclose(photo.encoding.to_xyz, DISPLAY_P3.to_xyz, atol=2e-4)
    np.testing.assert_array_equal(photo.coded, IMAGE)
    assert photo.notices == ()


@pytest.mark.parametrize("orientation", [1, 3, 6, 8])
def test_a_photo_is_turned_once(orientation, tmp_path):
    exif = b"Exif\0\0" + files.exif({274: orientation})
    photo = read(tmp_path, heic8(IMAGE, exif=exif, **EXACT))
    turns = {1: 0, 3: 2, 6: 3, 8: 1}[orientation]
    # What is written lies as stored, and the file says how to turn it: in its own box and in Exif.
    np.testing.assert_array_equal(photo.coded, np.rot90(IMAGE, turns))


@pytest.mark.parametrize(
    ("primaries", "transfer", "matrix"),
    [(1, 13, SRGB.to_xyz), (12, 13, DISPLAY_P3.to_xyz)],
    ids=["sRGB", "Display P3"],
)
def test_code_points_stand_in_for_a_profile(primaries, transfer, matrix, tmp_path):
    stated = {"color_primaries": primaries, "transfer_characteristics": transfer}
    photo = read(tmp_path, heic8(IMAGE, **stated, **EXACT))
    assert not photo.encoding.assumed
    np.testing.assert_array_equal(photo.encoding.to_xyz, matrix)


def test_a_file_that_says_nothing_is_taken_as_srgb_and_says_so(tmp_path):
    photo = read(tmp_path, heic8(IMAGE, save_nclx_profile=False, matrix_coefficients=6))
    assert [notice.code for notice in photo.notices] == ["no_profile"]


@pytest.mark.parametrize("transfer", [16, 18], ids=["PQ", "HLG"])
def test_high_dynamic_range_is_refused(transfer):
    stated = {"color_primaries": 9, "transfer_characteristic": transfer}
    data = heic8(IMAGE, transfer_characteristics=transfer, **stated, **EXACT)
    assert files.outcome(read_heif, data) == "photo_kind_unsupported"


def test_code_points_that_say_nothing():
    assert encoding_of(2, 2, "HEIC") is None
    assert encoding_of(1, 2, "HEIC") is None
    assert encoding_of(22, 13, "HEIC") is None


@pytest.mark.parametrize(
    ("transfer", "coded", "linear"),
    [
        (1, 0.5, 0.2599),
        (8, 0.5, 0.5),
        (4, 0.5, 0.2176),
        (13, 0.5, 0.2140),
    ],
)
def test_curves_of_code_points(transfer, coded, linear):
    # H.273, table 3: V = 1.0993 L**0.45 - 0.0993; the others are plain.
    encoding = encoding_of(9, transfer, "HEIC")
    assert encoding is not None
    assert float(encoding.curves[0](coded)) == pytest.approx(linear, abs=2e-4)
    assert encoding.to_xyz.sum(axis=1)[1] == pytest.approx(1.0)


def test_photos_that_cannot_be_measured():
    assert files.outcome(read_heif, heic8(IMAGE[:500])) == "photo_too_small"
    assert files.outcome(read_heif, heic8(IMAGE[..., :1])) == "photo_without_colour"
    see_through = np.dstack([IMAGE, np.full(IMAGE.shape[:2], 200, np.uint8)])
    assert files.outcome(read_heif, heic8(see_through)) == "photo_transparent"


@pytest.mark.parametrize("share", [0.01, 0.3, 0.99])
def test_a_file_that_ends_too_early(share, capfd):
    told = files.outcome(read_heif, DATA[: int(share * len(DATA))])
    assert told in ("photo_truncated", "photo_unreadable")
    assert capfd.readouterr() == ("", "")


def test_damage_anywhere_is_refused_or_leaves_a_photo():
    random = np.random.default_rng(8)
    data = heic10(np.full((600, 620, 3), 500), **EXACT)
    for _ in range(40):
        damaged = bytearray(data)
        for at in random.integers(0, min(len(data), 1200), 3):
            damaged[at] = random.integers(0, 256)
        told = files.outcome(read_heif, bytes(damaged))
        assert not isinstance(told, str) or told.startswith("photo_")
