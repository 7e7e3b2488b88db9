"""PNG files: both depths, transparency, what their chunks state, and damage."""

import io
import struct

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from dyeshade.cie.rgb_spaces import DISPLAY_P3, SRGB
from dyeshade.errors import DyeshadeError
from dyeshade.photo.curves import SRGB_CURVE
from dyeshade.photo.png import read_png
from tests.photo import files, profiles

IMAGE, IMAGE16 = files.blocks(), files.blocks16()
DAMAGE = {"photo_unreadable", "photo_truncated", "photo_too_small", "photo_too_large",
          "photo_kind_unsupported", "photo_without_colour", "photo_transparent"}  # fmt: skip
WHOLE, WHOLE16 = files.png(IMAGE), files.png(IMAGE16)


def refusal(data: bytes) -> str:
    with pytest.raises(DyeshadeError) as raised:
        read_png(data)
    return raised.value.code


def test_eight_bits_are_as_stored():
    np.testing.assert_array_equal(read_png(WHOLE).coded, IMAGE)


def test_sixteen_bits_are_as_stored():
    coded = read_png(WHOLE16).coded
    assert coded.dtype == np.uint16
    np.testing.assert_array_equal(coded, IMAGE16)
    assert len(np.unique(coded[..., 0])) > 256


@pytest.mark.parametrize("image", [IMAGE, IMAGE16], ids=["8 bits", "16 bits"])
def test_an_alpha_that_hides_nothing_is_left_out(image):
    full = np.iinfo(image.dtype).max
    alpha = np.full(image.shape[:2], full, image.dtype)
    np.testing.assert_array_equal(read_png(files.png(np.dstack([image, alpha]))).coded, image)
    alpha[100, 100] = full - 1
    assert refusal(files.png(np.dstack([image, alpha]))) == "photo_transparent"


@pytest.mark.parametrize("image", [IMAGE, IMAGE16], ids=["8 bits", "16 bits"])
def test_a_colour_named_transparent_is_a_colour_like_others(image):
    key = files.chunk(b"tRNS", struct.pack(">3H", *image[0, 0].tolist()))
    np.testing.assert_array_equal(read_png(files.png(image, key)).coded, image)


def test_a_palette_is_looked_up():
    few = Image.fromarray(IMAGE).quantize(64)
    file = io.BytesIO()
    few.save(file, "PNG")
    np.testing.assert_array_equal(read_png(file.getvalue()).coded, np.asarray(few.convert("RGB")))
    file = io.BytesIO()
    few.save(file, "PNG", transparency=3)
    assert refusal(file.getvalue()) == "photo_transparent"


@pytest.mark.parametrize("mode", ["L", "LA", "I;16", "1"])
def test_grey_has_no_colour_to_measure(mode):
    image = Image.new(mode, (800, 700))
    file = io.BytesIO()
    image.save(file, "PNG")
    assert refusal(file.getvalue()) == "photo_without_colour"


CICP_P3 = files.chunk(b"cICP", b"\x0c\x0d\x00\x01")
CICP_SRGB = files.chunk(b"cICP", b"\x01\x0d\x00\x01")
ICCP = files.iccp(profiles.matrix_profile(name="in the file"))
SRGB_CHUNK = files.chunk(b"sRGB", b"\0")
GAMMA_18 = files.chunk(b"gAMA", struct.pack(">I", 55556))
# Display P3's white and primaries.
CHRM = files.chunk(
    b"cHRM", struct.pack(">8I", 31270, 32900, 68000, 32000, 26500, 69000, 15000, 6000)
)


@pytest.mark.parametrize("image", [IMAGE, IMAGE16], ids=["8 bits", "16 bits"])
def test_the_first_of_cicp_iccp_srgb_gama_counts(image):
    contents = read_png(files.png(image, CICP_P3, ICCP, SRGB_CHUNK, GAMMA_18))
    assert contents.profile == b""
    assert contents.stated is not None
    assert contents.stated.name == "Display P3"
    contents = read_png(files.png(image, ICCP, SRGB_CHUNK, GAMMA_18))
    assert contents.profile == profiles.matrix_profile(name="in the file")
    contents = read_png(files.png(image, SRGB_CHUNK, GAMMA_18))
    assert contents.stated is not None
    assert contents.stated.name == "sRGB"
    assert not contents.stated.assumed
    stated = read_png(files.png(image, CICP_SRGB)).stated
    assert stated is not None
    assert stated.name == "sRGB"
    assert read_png(files.png(image)).stated is None


def test_gamma_and_chromaticities_are_numbers():
    stated = read_png(files.png(IMAGE, GAMMA_18, CHRM)).stated
    assert stated is not None
    assert stated.curves[1](0.5) == pytest.approx(0.5**1.8, abs=1e-4)
    np.testing.assert_allclose(stated.to_xyz, DISPLAY_P3.to_xyz, atol=1e-9)
    gamma_only = read_png(files.png(IMAGE, GAMMA_18)).stated
    assert gamma_only is not None
    np.testing.assert_array_equal(gamma_only.to_xyz, SRGB.to_xyz)
    primaries_only = read_png(files.png(IMAGE, CHRM)).stated
    assert primaries_only is not None
    assert primaries_only.curves[0] is SRGB_CURVE


@pytest.mark.parametrize(
    "chunk",
    [
        files.chunk(b"gAMA", bytes(4)),
        files.chunk(b"gAMA", b"\0"),
        files.chunk(b"cHRM", bytes(32)),
        files.chunk(b"cHRM", struct.pack(">8I", *[30000] * 8)),
        files.chunk(b"cICP", b"\x02\x02\x00\x01"),
    ],
)
def test_chunks_that_state_nothing_sensible_state_nothing(chunk):
    assert read_png(files.png(IMAGE, chunk)).stated is None


def test_high_dynamic_range_is_not_read_as_if_it_were_srgb():
    assert refusal(files.png(IMAGE, files.chunk(b"cICP", b"\x09\x10\x00\x01"))) == (
        "photo_kind_unsupported"
    )


def test_a_damaged_profile_is_still_a_profile():
    contents = read_png(files.png(IMAGE, files.chunk(b"iCCP", b"name\0\0rubbish")))
    assert contents.profile
    assert contents.stated is None


@pytest.mark.parametrize("data", [WHOLE, WHOLE16], ids=["8 bits", "16 bits"])
@pytest.mark.parametrize("share", [0.001, 0.3, 0.9, 0.9999])
def test_a_copy_that_broke_off(data, share):
    assert refusal(data[: max(20, int(len(data) * share))]) == "photo_truncated"


@pytest.mark.parametrize("data", [WHOLE, WHOLE16], ids=["8 bits", "16 bits"])
def test_rows_that_are_missing_though_every_check_sum_is_right(data):
    at = data.index(b"IDAT")
    (length,) = struct.unpack_from(">I", data, at - 4)
    half = files.chunk(b"IDAT", data[at + 4 : at + 4 + length // 2])
    broken = data[: at - 4] + half + files.chunk(b"IEND", b"")
    assert refusal(broken) in ("photo_truncated", "photo_unreadable")


@settings(max_examples=120, deadline=None)
@given(
    deep=st.booleans(),
    place=st.one_of(st.integers(8, 80), st.integers(8, len(WHOLE) - 1)),
    value=st.integers(0, 255),
    mended=st.booleans(),
)
def test_damage_is_never_more_than_a_refusal(deep, place, value, mended):
    data = bytearray(WHOLE16 if deep else WHOLE)
    data[place] = value
    if mended:
        data = _with_right_check_sums(data)
    outcome = files.outcome(read_png, bytes(data))
    assert outcome in DAMAGE or outcome.coded.shape[2] == 3


def _with_right_check_sums(data: bytearray) -> bytearray:
    mended, at = bytearray(data[:8]), 8
    while at + 12 <= len(data):
        length, kind = struct.unpack_from(">I4s", data, at)
        mended += files.chunk(kind, bytes(data[at + 8 : at + 8 + length]))
        at += 12 + length
    return mended
