"""What a file's values stand for, and what is refused with which reason."""

import numpy as np
import pytest

from dyeshade.cie.rgb_spaces import ADOBE_RGB, SRGB
from dyeshade.errors import DyeshadeError
from dyeshade.photo.read import read_photo
from tests.photo import files, profiles

WHOLE = files.jpeg(files.blocks())


def read(folder, data: bytes, name="photo.bin"):
    path = folder / name
    path.write_bytes(data)
    return read_photo(path)


def codes_of(photo) -> list[str]:
    return [notice.code for notice in photo.notices]


def refusal(folder, data: bytes) -> DyeshadeError:
    with pytest.raises(DyeshadeError) as raised:
        read(folder, data)
    assert raised.value.facts["photo"] == "photo.bin"
    return raised.value


def test_a_photo_and_what_its_camera_noted(tmp_path):
    exif = files.exif(
        {271: "Bramble", 272: "B-12"},
        {36867: "2024:03:09 14:05:30", 36881: "+01:00", 37385: 1, 40961: 1},
    )
    photo = read(tmp_path, files.jpeg(files.blocks(), exif=b"Exif\0\0" + exif))
    assert photo.name == "photo.bin"
    assert photo.file_format == "JPEG"
    assert photo.camera == "Bramble B-12"
    assert photo.flash is True
    assert photo.taken is not None
    assert photo.taken.isoformat() == "2024-03-09T14:05:30+01:00"
    assert (photo.height, photo.width) == (640, 820)
    assert photo.encoding.name == "sRGB"
    assert not photo.encoding.assumed
    assert photo.notices == ()
    assert np.abs(photo.coded.astype(int) - files.blocks()).mean() < 2.0


@pytest.mark.parametrize("data", [WHOLE, files.png(files.blocks())], ids=["JPEG", "PNG"])
def test_a_file_that_does_not_say_is_taken_as_srgb_and_says_so(data, tmp_path):
    photo = read(tmp_path, data)
    assert photo.encoding.assumed
    assert codes_of(photo) == ["no_profile"]
    np.testing.assert_array_equal(photo.encoding.to_xyz, SRGB.to_xyz)


def test_a_profile_wins_over_exif(tmp_path):
    exif = b"Exif\0\0" + files.exif({}, {40961: 1})
    icc = profiles.matrix_profile(name="Display P3")
    photo = read(tmp_path, files.jpeg(files.blocks(), exif=exif, icc_profile=icc))
    assert photo.encoding.name == "Display P3"
    assert photo.notices == ()


def test_a_long_profile_comes_in_several_parts(tmp_path):
    icc = profiles.matrix_profile(curve=profiles.curv(*range(0, 65536, 2)), name="long")
    assert len(icc) > 65536
    photo = read(tmp_path, files.jpeg(files.blocks(), icc_profile=icc))
    assert photo.encoding.name == "long"
    assert photo.encoding.curves[0](0.5) == pytest.approx(0.5, abs=1e-4)


def test_adobe_rgb_by_its_interoperability_mark(tmp_path):
    exif = files.exif({}, {40961: 0xFFFF}, {1: "R03"})
    photo = read(tmp_path, files.jpeg(files.blocks(), exif=b"Exif\0\0" + exif))
    np.testing.assert_array_equal(photo.encoding.to_xyz, ADOBE_RGB.to_xyz)
    assert photo.encoding.curves[0](0.5) == pytest.approx(0.5 ** (563 / 256))


@pytest.mark.parametrize(
    ("icc", "code"),
    [
        (profiles.profile({b"A2B0": b"mAB " + bytes(60)}), "lut_profile"),
        (b"rubbish" * 50, "profile_unreadable"),
        (profiles.profile({b"kTRC": profiles.gamma(2.2)}, space=b"GRAY"), "profile_unreadable"),
    ],
)
def test_a_profile_of_no_use_is_told(icc, code, tmp_path):
    photo = read(tmp_path, files.jpeg(files.blocks(), icc_profile=icc))
    assert codes_of(photo) == [code]
    assert photo.encoding.assumed


def test_a_black_and_white_photo_in_colour_channels_is_told(tmp_path):
    grey = np.repeat(files.blocks()[..., :1], 3, axis=2)
    assert "photo_looks_grey" in codes_of(read(tmp_path, files.png(grey)))
    assert "photo_looks_grey" not in codes_of(read(tmp_path, files.png(files.blocks())))


def test_no_file_no_photo(tmp_path):
    for path, code in (
        (tmp_path / "none.jpg", "photo_missing"),
        (tmp_path / "none" / "none.jpg", "photo_missing"),
        (tmp_path, "photo_unreadable"),
    ):
        with pytest.raises(DyeshadeError) as raised:
            read_photo(path)
        assert raised.value.code == code


@pytest.mark.parametrize(
    ("start", "kind"),
    [
        (b"\0\0\0\x18ftypavif", "AVIF"),
        (b"\0\0\0\x18ftypmif1\0\0\0\0avifmiaf", "AVIF"),
        (b"\0\0\0\x18ftypisom", "video"),
        (b"RIFF\0\0\0\0WEBP", "WebP"),
        (b"GIF89a", "GIF"),
        (b"%PDF-1.7", "PDF"),
        (b"II+\0", "BigTIFF"),
    ],
)
def test_kinds_that_are_known_but_not_read(start, kind, tmp_path):
    error = refusal(tmp_path, start + bytes(500))
    assert (error.code, error.facts["kind"]) == ("photo_kind_unsupported", kind)


@pytest.mark.parametrize("brand", [b"heic", b"heix", b"mif1"])
def test_the_frame_of_a_phone_photo_without_a_photo_in_it(brand, tmp_path):
    error = refusal(tmp_path, b"\0\0\0\x18ftyp" + brand + bytes(500))
    assert error.code == "photo_unreadable"


def test_kinds_that_are_not_known(tmp_path):
    assert refusal(tmp_path, b"Dear diary, today weld.").code == "photo_kind_unknown"
    assert refusal(tmp_path, b"").code == "photo_unreadable"


@pytest.mark.parametrize("make", [files.jpeg, files.png])
def test_too_few_pixels(make, tmp_path):
    error = refusal(tmp_path, make(files.blocks(599, 900)))
    assert error.code == "photo_too_small"
    assert (error.facts["width"], error.facts["height"]) == (900, 599)
    assert error.facts["least"] == 600
    assert read(tmp_path, make(files.blocks(600, 900))).height == 600


def test_what_would_unpack_to_more_than_fits_is_refused_by_its_header(tmp_path):
    header = bytearray(files.png(files.blocks()))
    huge = (60_000).to_bytes(4)
    body = huge + huge + bytes(header[24:29])
    header[8:33] = files.chunk(b"IHDR", body)
    assert refusal(tmp_path, bytes(header)).code == "photo_too_large"


def test_a_photo_of_a_hundred_megapixels_warns_nobody(tmp_path, monkeypatch):
    # Pillow warns from 89 million pixels on; here its limit is lowered instead.
    from PIL import Image

    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 1000)
    assert read(tmp_path, WHOLE).width == 820
    assert read(tmp_path, files.png(files.blocks())).width == 820


@pytest.mark.parametrize("damage", ["exif", "profile"])
def test_damaged_notes_do_not_cost_the_photo(damage, tmp_path):
    exif = files.exif({271: "Bramble"}, {36867: "2024:03:09 14:05:30"})
    data = files.jpeg(files.blocks(), exif=b"Exif\0\0" + exif[: len(exif) // 2])
    if damage == "profile":
        data = files.jpeg(files.blocks(), icc_profile=profiles.matrix_profile()[:200])
    np.testing.assert_array_equal(read(tmp_path, data).coded, read(tmp_path, WHOLE).coded)
