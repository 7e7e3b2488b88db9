"""Where the raw files of different makers keep what the camera noted."""

import struct

import pytest

from dyeshade.photo.raw_notes import read_raw_notes
from tests.photo import files

EXIF = files.exif({271: "Bramble", 272: "R-1"}, {36867: "2024:03:09 14:05:30", 37385: 0})
ONLY_NOTES = files.exif({36867: "2024:03:09 14:05:30", 37385: 0})


def box(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I4s", 8 + len(body), kind) + body


RAW = {
    "a TIFF of the maker's own mark": b"MMOR" + EXIF[4:],
    "a JPEG within": b"FUJIFILMCCD-RAW " + bytes(100) + b"\xff\xd8\xff\xe1\0\0Exif\0\0" + EXIF,
    "boxes": box(b"ftyp", b"crx " + bytes(8)) + box(b"CMT1", EXIF) + box(b"CMT2", ONLY_NOTES),
}


@pytest.mark.parametrize("data", RAW.values(), ids=RAW)
def test_camera_and_moment_are_found(data):
    notes = read_raw_notes(data)
    assert notes.camera == "Bramble R-1"
    assert notes.taken is not None
    assert notes.taken.isoformat() == "2024-03-09T14:05:30"
    assert notes.flash is False


@pytest.mark.parametrize("data", RAW.values(), ids=RAW)
def test_notes_that_end_too_early_never_stop_a_photo(data):
    for length in range(8, len(data) - 1):
        notes = read_raw_notes(data[:length])
        assert notes.camera in (None, "Bramble", "R-1", "Bramble R-1")
