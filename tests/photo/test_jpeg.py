"""JPEG files: whole, broken off, damaged, and of kinds that are not read."""

import io

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from dyeshade.errors import DyeshadeError
from dyeshade.photo import jpeg
from dyeshade.photo.jpeg import read_jpeg
from tests.photo import files

WHOLE = files.jpeg(files.blocks(), exif=b"Exif\0\0" + files.exif({271: "Bramble"}))
DAMAGE = {"photo_unreadable", "photo_truncated", "photo_too_small", "photo_too_large",
          "photo_kind_unsupported", "photo_without_colour"}  # fmt: skip


def test_the_pixels_are_the_decoders_own():
    with Image.open(io.BytesIO(WHOLE)) as image:
        np.testing.assert_array_equal(read_jpeg(WHOLE).coded, np.asarray(image))


def test_a_progressive_one():
    data = files.jpeg(files.blocks(), progressive=True)
    assert np.abs(read_jpeg(data).coded.astype(int) - files.blocks()).mean() < 2.0


def test_channels_stored_as_rgb():
    data = files.jpeg(files.blocks(), keep_rgb=True)
    assert np.abs(read_jpeg(data).coded.astype(int) - files.blocks()).mean() < 2.0


def test_a_large_one_halved_is_the_mean_of_squares(monkeypatch):
    # Without subsampled colour, whose halves are others; against Pillow's whole pixels.
    smooth = np.kron(files.blocks(), np.ones((2, 2, 1), np.uint8))
    data = files.jpeg(smooth, quality=98, subsampling=0)
    monkeypatch.setattr(jpeg, "_LEAST_HALVED", smooth[..., 0].size)
    half = read_jpeg(data, halved=True)
    with Image.open(io.BytesIO(data)) as image:
        whole = np.asarray(image, float)
    height, width = whole.shape[0] // 2, whole.shape[1] // 2
    means = whole.reshape(height, 2, width, 2, 3).mean(axis=(1, 3))
    assert half.shrunk == 2
    assert half.coded.shape == means.shape
    assert np.abs(half.coded - means).mean() < 1.0


def test_one_that_is_small_or_odd_comes_whole_though_it_may_be_halved(monkeypatch):
    assert read_jpeg(WHOLE, halved=True).shrunk == 1
    monkeypatch.setattr(jpeg, "_LEAST_HALVED", 1)
    assert read_jpeg(files.jpeg(files.blocks()[:-1]), halved=True).shrunk == 1
    assert read_jpeg(WHOLE, halved=False).shrunk == 1


@pytest.mark.parametrize(
    ("mode", "code"), [("L", "photo_without_colour"), ("CMYK", "photo_kind_unsupported")]
)
def test_grey_and_cmyk_are_refused(mode, code):
    file = io.BytesIO()
    Image.fromarray(files.blocks()).convert(mode).save(file, "JPEG")
    with pytest.raises(DyeshadeError) as raised:
        read_jpeg(file.getvalue())
    assert raised.value.code == code


@pytest.mark.parametrize("share", [0.001, 0.02, 0.3, 0.7, 0.99])
def test_a_copy_that_broke_off(share):
    kept = WHOLE[: max(4, int(len(WHOLE) * share))]
    for data in (kept, kept + bytes(len(WHOLE) - len(kept))):
        with pytest.raises(DyeshadeError) as raised:
            read_jpeg(data)
        assert raised.value.code in ("photo_truncated", "photo_unreadable")
    with pytest.raises(DyeshadeError) as raised:
        read_jpeg(kept)
    assert raised.value.code == "photo_truncated"


@settings(max_examples=120, deadline=None)
@given(
    cut=st.one_of(st.none(), st.integers(2, len(WHOLE))),
    changes=st.lists(
        st.tuples(
            st.one_of(st.integers(2, 900), st.integers(2, len(WHOLE) - 1)), st.integers(0, 255)
        ),
        max_size=8,
    ),
)
def test_damage_is_never_more_than_a_refusal(cut, changes):
    data = bytearray(WHOLE)
    for place, value in changes:
        data[place] = value
    outcome = files.outcome(read_jpeg, bytes(data[:cut]))
    assert outcome in DAMAGE or outcome.coded.shape[2] == 3
