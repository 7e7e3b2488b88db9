"""What the camera noted, by the Exif standard's own forms."""

import struct
from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dyeshade.photo.exif import CameraNotes, read_exif
from tests.photo import files


def test_a_time_with_its_offset_is_a_moment():
    notes = read_exif(
        files.exif({}, {36867: "2024:03:09 14:05:30", 36881: "-05:30"}),
    )
    zone = timezone(-timedelta(hours=5, minutes=30))
    assert notes.taken == datetime(2024, 3, 9, 14, 5, 30, tzinfo=zone)
    assert notes.taken is not None
    assert notes.taken.isoformat() == "2024-03-09T14:05:30-05:30"


def test_a_time_without_offset_stays_the_cameras_own():
    notes = read_exif(files.exif({}, {36867: "2024:03:09 14:05:30"}))
    assert notes.taken == datetime(2024, 3, 9, 14, 5, 30)
    assert notes.taken is not None
    assert notes.taken.tzinfo is None


@pytest.mark.parametrize(
    "text", ["0000:00:00 00:00:00", "2024:13:01 00:00:00", "    :  :     :  :  ", "yesterday", ""]
)
def test_a_clock_never_set_is_no_time(text):
    assert read_exif(files.exif({}, {36867: text})).taken is None


def test_a_scan_has_the_time_of_digitising():
    notes = read_exif(files.exif({}, {36868: "2023:01:02 03:04:05", 36882: "+01:00"}))
    assert notes.taken is not None
    assert notes.taken.isoformat() == "2023-01-02T03:04:05+01:00"


def test_an_offset_that_is_none_is_left_out():
    notes = read_exif(files.exif({}, {36867: "2024:03:09 14:05:30", 36881: "+99:00"}))
    assert notes.taken == datetime(2024, 3, 9, 14, 5, 30)


@pytest.mark.parametrize(
    ("make", "model", "camera"),
    [
        ("Bramble", "B-12 ", "Bramble B-12"),
        ("BRAMBLE CORPORATION", "Bramble D5", "Bramble D5"),
        ("BRAMBLE IMAGING CORP.  ", "E-M1", "BRAMBLE E-M1"),
        ("Bramble Camera Co., Ltd.", "X", "Bramble X"),
        (None, "X-1", "X-1"),
        ("Bramble", None, "Bramble"),
        (None, None, None),
        ("", "X-1", "X-1"),
    ],
)
def test_the_maker_is_named_once(make, model, camera):
    tags = {tag: text for tag, text in ((271, make), (272, model)) if text is not None}
    assert read_exif(files.exif(tags)).camera == camera


@pytest.mark.parametrize(("value", "fired"), [(0, False), (1, True), (16, False), (25, True)])
def test_the_flash_is_the_lowest_bit(value, fired):
    assert read_exif(files.exif({}, {37385: value})).flash is fired


@pytest.mark.parametrize(
    ("number", "interoperability", "space"),
    [
        (1, None, "sRGB"),
        (1, "R98", "sRGB"),
        (0xFFFF, "R03", "Adobe RGB"),
        (0xFFFF, None, None),
        (0xFFFF, "R98", None),
        (2, None, "Adobe RGB"),
    ],
)
def test_the_colour_space(number, interoperability, space):
    more = None if interoperability is None else {1: interoperability}
    assert read_exif(files.exif({}, {40961: number}, more)).colour_space == space


def test_both_byte_orders():
    for order, mark in (("<", b"II*\0"), (">", b"MM\0*")):
        entry = struct.pack(order + "HHIHH", 274, 3, 1, 6, 0)
        data = mark + struct.pack(order + "IH", 8, 1) + entry + bytes(4)
        assert read_exif(data).orientation == 6


@pytest.mark.parametrize("data", [b"", b"II*\0", b"MM\0*\xff\xff\xff\xff", b"rubbish" * 20])
def test_no_notes_are_empty_notes(data):
    assert read_exif(data) == CameraNotes()


WHOLE = files.exif(
    {271: "Bramble", 272: "B-12", 274: 6},
    {36867: "2024:03:09 14:05:30", 36881: "+02:00", 37385: 1, 40961: 0xFFFF},
    {1: "R03"},
)


@settings(max_examples=300, deadline=None)
@given(
    cut=st.integers(0, len(WHOLE)),
    changes=st.lists(st.tuples(st.integers(0, len(WHOLE) - 1), st.integers(0, 255)), max_size=6),
)
def test_damaged_notes_never_stop_a_photo(cut, changes):
    data = bytearray(WHOLE)
    for place, value in changes:
        data[place] = value
    assert isinstance(read_exif(bytes(data[:cut])), CameraNotes)
    assert isinstance(read_exif(bytes(data)), CameraNotes)
