"""TIFF files: both depths, layouts of the pixels, kinds that are not read, and damage."""

import io

import numpy as np
import pytest
import tifffile
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from dyeshade.errors import DyeshadeError
from dyeshade.photo.icc import read_profile
from dyeshade.photo.tiff import read_tiff
from tests.photo import files, profiles

IMAGE, IMAGE16 = files.blocks(), files.blocks16()


def tiff(image: np.ndarray, **options) -> bytes:
    file = io.BytesIO()
    tifffile.imwrite(file, image, **{"photometric": "rgb", **options})
    return file.getvalue()


def refusal(data: bytes) -> DyeshadeError:
    with pytest.raises(DyeshadeError) as raised:
        read_tiff(data)
    return raised.value


@pytest.mark.parametrize("image", [IMAGE, IMAGE16], ids=["8 bits", "16 bits"])
@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize(
    "options",
    [
        {},
        {"compression": "zlib"},
        {"compression": "zlib", "predictor": True},
        {"tile": (128, 128)},
        {"rowsperstrip": 7},
    ],
    ids=["plain", "deflate", "predictor", "tiles", "strips"],
)
def test_pixels_are_as_stored(image, order, options):
    coded = read_tiff(tiff(image, byteorder=order, **options)).coded
    assert coded.dtype == image.dtype
    np.testing.assert_array_equal(coded, image)


@pytest.mark.parametrize("compression", ["tiff_lzw", "packbits"])
def test_the_old_compressions(compression):
    file = io.BytesIO()
    Image.fromarray(IMAGE).save(file, "TIFF", compression=compression)
    np.testing.assert_array_equal(read_tiff(file.getvalue()).coded, IMAGE)


def test_jpeg_within_tiff():
    file = io.BytesIO()
    Image.fromarray(IMAGE).save(file, "TIFF", compression="jpeg", quality=95)
    assert np.abs(read_tiff(file.getvalue()).coded.astype(int) - IMAGE).mean() < 3.0


def test_separate_colour_planes():
    planes = {"planarconfig": "separate"}
    np.testing.assert_array_equal(
        read_tiff(tiff(IMAGE.transpose(2, 0, 1).copy(), **planes)).coded, IMAGE
    )
    error = refusal(tiff(IMAGE16.transpose(2, 0, 1).copy(), **planes))
    assert error.code == "photo_kind_unsupported"


def test_the_profile_and_the_first_page():
    file = io.BytesIO()
    with tifffile.TiffWriter(file) as writer:
        icc = profiles.matrix_profile(name="in the file")
        writer.write(IMAGE16, photometric="rgb", iccprofile=icc)
        writer.write(IMAGE16[::-1], photometric="rgb")
    contents = read_tiff(file.getvalue())
    np.testing.assert_array_equal(contents.coded, IMAGE16)
    assert read_profile(contents.profile).name == "in the file"


@pytest.mark.parametrize("image", [IMAGE, IMAGE16], ids=["8 bits", "16 bits"])
def test_an_alpha_that_hides_nothing_is_left_out(image):
    full = np.iinfo(image.dtype).max
    alpha = np.full(image.shape[:2], full, image.dtype)
    data = tiff(np.dstack([image, alpha]), extrasamples=["unassalpha"])
    np.testing.assert_array_equal(read_tiff(data).coded, image)
    alpha[100, 100] = full // 2
    data = tiff(np.dstack([image, alpha]), extrasamples=["unassalpha"])
    assert refusal(data).code == "photo_transparent"


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (tiff(IMAGE.astype(np.float32)), "photo_kind_unsupported"),
        (tiff(IMAGE16.astype(np.uint32)), "photo_kind_unsupported"),
        (tiff(IMAGE16.astype(np.int16)), "photo_kind_unsupported"),
        (tiff(IMAGE[..., 0], photometric="minisblack"), "photo_without_colour"),
        (tiff(IMAGE[:500]), "photo_too_small"),
        (
            tiff(np.dstack([IMAGE, IMAGE[..., :1]]), photometric="separated"),
            "photo_kind_unsupported",
        ),
    ],
    ids=["float", "32 bits", "signed", "grey", "small", "CMYK"],
)
def test_kinds_that_are_not_read(data, code):
    assert refusal(data).code == code


@pytest.mark.parametrize("image", [IMAGE, IMAGE16], ids=["8 bits", "16 bits"])
@pytest.mark.parametrize("options", [{}, {"compression": "zlib"}, {"tile": (128, 128)}])
@pytest.mark.parametrize("share", [0.00001, 0.3, 0.9, 0.9999])
def test_a_copy_that_broke_off(image, options, share):
    data = tiff(image, **options)
    assert refusal(data[: max(8, int(len(data) * share))]).code == "photo_truncated"


DAMAGE = {"photo_unreadable", "photo_truncated", "photo_too_small", "photo_too_large",
          "photo_kind_unsupported", "photo_without_colour", "photo_transparent"}  # fmt: skip
WHOLE = tiff(IMAGE, compression="zlib")
WHOLE16 = tiff(IMAGE16, compression="zlib")


@settings(max_examples=150, deadline=None)
@given(
    deep=st.booleans(),
    changes=st.lists(
        st.tuples(
            st.one_of(st.integers(4, 400), st.integers(4, len(WHOLE) - 1)), st.integers(0, 255)
        ),
        min_size=1,
        max_size=6,
    ),
)
def test_damage_is_never_more_than_a_refusal(deep, changes):
    data = bytearray(WHOLE16 if deep else WHOLE)
    for place, value in changes:
        data[place] = value
    outcome = files.outcome(read_tiff, bytes(data))
    assert outcome in DAMAGE or outcome.coded.shape[2] == 3


@pytest.mark.parametrize("whole", [WHOLE, WHOLE16], ids=["8 bits", "16 bits"])
@pytest.mark.parametrize("options", [{}, {"tile": (128, 128)}], ids=["strips", "tiles"])
def test_damaged_pixels_are_told_and_by_us_alone(whole, options, capfd):
    image = IMAGE if whole is WHOLE else IMAGE16
    data = bytearray(tiff(image, compression="zlib", **options))
    middle = len(data) // 2
    data[middle : middle + 50] = bytes(50)
    assert refusal(bytes(data)).code == "photo_unreadable"
    assert capfd.readouterr().err == ""
