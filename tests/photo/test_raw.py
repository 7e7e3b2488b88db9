"""Raw light: levels, colours, orientation, full sites, previews, and damage.

The DNG files are written here tag by tag (Adobe DNG Specification 1.6) and go through LibRaw.
"""

import io

import numpy as np
import pytest
import tifffile

from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.cie.white import D65
from dyeshade.errors import DyeshadeError
from dyeshade.photo.camera_space import camera_to_srgb
from dyeshade.photo.raw import read_raw
from dyeshade.photo.read import read_photo
from tests.photo import files
from tests.photo.raw_files import BLACK, MATRIX, WHITE, dng, sites

HEIGHT, WIDTH = 600, 640
LIGHT = np.random.default_rng(4).uniform(0.01, 0.9, (HEIGHT, WIDTH, 3))
STEP = 1.0 / (WHITE - max(BLACK))
DATA = dng(sites(LIGHT))


def read(folder, data: bytes):
    path = folder / "photo.dng"
    path.write_bytes(data)
    return read_photo(path)


def test_light_comes_out_as_the_sensor_saw_it(tmp_path):
    photo = read(tmp_path, DATA)
    assert photo.file_format == "DNG"
    assert (photo.height, photo.width) == (HEIGHT, WIDTH)
    # Half a step of the sensor, and one of the 16 bits.
    np.testing.assert_allclose(photo.linear(), LIGHT, atol=0.5 * STEP + 2 / 65535)
    assert not photo.clipped().any()
    assert photo.notices == ()


def test_each_colour_has_its_own_black(tmp_path):
    black = (100, 700, 1300, 2000)
    photo = read(tmp_path, dng(sites(LIGHT, black), black))
    np.testing.assert_allclose(photo.linear(), LIGHT, atol=0.5 / 13000 + 2 / 65535)


def test_raw_light_with_all_colours_in_each_pixel(tmp_path):
    black = np.array(BLACK[:3])
    numbers = np.round(black + LIGHT * (WHITE - black)).astype(np.uint16)
    photo = read(tmp_path, dng(numbers))
    np.testing.assert_allclose(photo.linear(), LIGHT, atol=0.5 * STEP + 2 / 65535)


def test_a_mosaic_of_six_by_six_is_put_together_by_threes(tmp_path):
    # In every three by three of it: five greens, two reds, two blues.
    rows = ("GBGGRG", "RGRBGB", "GBGGRG", "GRGGBG", "BGBRGR", "GRGGBG")
    pattern = np.array([["RGB".index(letter) for letter in row] for row in rows])
    light = LIGHT[:600, :606]
    channel = np.tile(pattern, (300, 303))[:, :, None]
    each = np.take_along_axis(light.repeat(3, 0).repeat(3, 1), channel, axis=2)[..., 0]
    numbers = np.round(BLACK[0] + each * (WHITE - BLACK[0])).astype(np.uint16)
    photo = read(tmp_path, dng(numbers, BLACK[:1], pattern=pattern))
    assert (photo.height, photo.width) == light.shape[:2]
    np.testing.assert_allclose(photo.linear(), light, atol=0.5 * STEP + 2 / 65535)


def test_light_at_and_a_little_below_black_is_not_cut_off(tmp_path):
    dark = LIGHT.copy()
    dark[:, :50] = 0.0
    dark[:, 50:100] = -0.005
    photo = read(tmp_path, dng(sites(dark)))
    assert not photo.clipped().any()
    assert photo.linear()[:, :100].max() < STEP
    assert photo.coded[:, 60:90].mean() < photo.coded[:, 10:40].mean() - 200


def test_full_sites_are_told_even_where_only_one_of_two_greens_is_full(tmp_path):
    numbers = sites(LIGHT)
    numbers[200:300:2, 101:200:2] = WHITE
    clipped = read(tmp_path, dng(numbers)).clipped()
    assert clipped[100:150, 50:100].all()
    assert not clipped[160:].any()


def test_the_camera_and_its_matrix_come_from_the_tags_of_the_file(tmp_path):
    photo = read(tmp_path, DATA)
    assert photo.camera == "Bramble R-1"
    assert not photo.encoding.rendered
    assert not photo.encoding.assumed
    # DNG: channels = matrix @ XYZ; balanced ones have white at (1, 1, 1).
    xyz = np.array([0.3, 0.35, 0.2])
    balanced = (MATRIX @ xyz) / (MATRIX @ D65)
    np.testing.assert_allclose(photo.encoding.to_xyz @ balanced, xyz, atol=2e-4)
    np.testing.assert_allclose(photo.encoding.to_xyz @ np.ones(3), D65, atol=1e-6)
    np.testing.assert_allclose(photo.encoding.shown_white, (0.5, 1.0, 0.6), atol=1e-3)


@pytest.mark.parametrize("matrix", [None, np.zeros((3, 3))], ids=["none", "zeros"])
def test_a_camera_of_unknown_colours_is_taken_as_a_typical_one_and_that_is_said(matrix, tmp_path):
    photo = read(tmp_path, dng(sites(LIGHT), matrix=matrix))
    assert [notice.code for notice in photo.notices] == ["camera_colours_unknown"]
    assert photo.encoding.assumed
    np.testing.assert_allclose(photo.encoding.to_xyz, SRGB.to_xyz @ camera_to_srgb())


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_raw_photo_is_turned_upright(orientation, tmp_path):
    turned = {
        1: "abcd",
        2: "badc",
        3: "dcba",
        4: "cdab",
        5: "acbd",
        6: "cadb",
        7: "dbca",
        8: "bdac",
    }
    light = np.full((HEIGHT, WIDTH, 3), 0.1)
    corners = ((slice(0, 300), slice(0, 320)), (slice(0, 300), slice(320, None)))
    corners += ((slice(300, None), slice(0, 320)), (slice(300, None), slice(320, None)))
    levels = dict(zip("abcd", (0.1, 0.3, 0.5, 0.7), strict=True))
    for corner, level in zip(corners, levels.values(), strict=True):
        light[corner] = level
    seen = read(tmp_path, dng(sites(light), orientation=orientation)).linear()[..., 1]
    found = [seen[row, column] for row in (20, -20) for column in (20, -20)]
    assert found == pytest.approx([levels[name] for name in turned[orientation]], abs=0.01)


def test_the_preview_in_a_raw_file_is_never_what_is_measured(tmp_path):
    preview = files.blocks(HEIGHT, WIDTH)
    photo = read(tmp_path, dng(sites(LIGHT), preview=preview))
    assert photo.coded.dtype == np.uint16
    np.testing.assert_allclose(photo.linear(), LIGHT, atol=0.5 * STEP + 2 / 65535)


@pytest.mark.parametrize(
    "mark", [{"subfiletype": 1}, {"extratags": [(50706, "B", 4, (1, 6, 0, 0), True)]}]
)
def test_a_preview_without_its_raw_picture_is_refused(mark, tmp_path):
    out = io.BytesIO()
    tifffile.imwrite(out, files.blocks(HEIGHT, WIDTH), photometric="rgb", **mark)
    with pytest.raises(DyeshadeError) as raised:
        read(tmp_path, out.getvalue())
    assert raised.value.code == "photo_kind_unsupported"


@pytest.mark.parametrize("share", [0.01, 0.4, 0.99])
def test_a_raw_file_that_ends_too_early_is_refused_without_a_word_of_others(share, tmp_path, capfd):
    with pytest.raises(DyeshadeError) as raised:
        read(tmp_path, DATA[: int(share * len(DATA))])
    assert raised.value.code in ("photo_truncated", "photo_unreadable")
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize("start", [b"FUJIFILMCCD-RAW ", b"IIRO", b"IIU\0", b"\0\0\0\x18ftypcrx "])
def test_raw_files_of_cameras_are_given_to_the_reader_which_refuses_rubbish(start):
    assert files.outcome(read_raw, start + bytes(2000)) == "photo_kind_unsupported"


def test_damage_anywhere_is_refused_or_leaves_a_photo():
    random = np.random.default_rng(8)
    for _ in range(20):
        damaged = bytearray(DATA)
        for at in random.integers(4, 700, 3):
            damaged[at] = random.integers(0, 256)
        told = files.outcome(read_raw, bytes(damaged))
        assert not isinstance(told, str) or told.startswith("photo_")


def test_raw_photos_that_cannot_be_measured():
    assert files.outcome(read_raw, dng(sites(LIGHT[:300, :300]))) == "photo_too_small"
    assert files.outcome(read_raw, dng(sites(LIGHT), white=BLACK[0])) == "photo_unreadable"
    grey = dng(sites(LIGHT), photometric="minisblack")
    assert files.outcome(read_raw, grey) in ("photo_without_colour", "photo_kind_unsupported")


def test_marks_can_be_told_in_a_dark_raw_photo(tmp_path):
    photo = read(tmp_path, dng(sites(0.1 * LIGHT)))
    assert photo.grey8().max() == 255
    assert np.ptp(np.quantile(photo.grey8(), [0.1, 0.9])) > 80
