"""Where the raw files of different makers keep what the camera noted.

References
----------
CIPA DC-008 (Exif 2.32), 4.6. That the makers below keep it where they do is from memory.
"""

from __future__ import annotations

from dyeshade.photo.exif import CameraNotes, notes_of, read_exif
from dyeshade.photo.tags import Tags, first_directory, read_tags

_EXIF = b"Exif\0\0"
_HEAD = 1 << 18
_TIFF_MARK = {b"IIRO": b"II*\0", b"IIRS": b"II*\0", b"IIU\0": b"II*\0", b"MMOR": b"MM\0*"}


def read_raw_notes(data: bytes) -> CameraNotes:
    """The camera's notes from a raw file.

    Parameters
    ----------
    data : bytes
        The whole file.

    Returns
    -------
    CameraNotes
        Empty ones where nothing is found.
    """
    if data.startswith(b"FUJIFILMCCD-RAW"):
        at = data.find(_EXIF, 0, _HEAD)
        return read_exif(data[at + len(_EXIF) : at + _HEAD]) if at >= 0 else CameraNotes()
    if data[4:8] == b"ftyp":
        main, exif = _box(data, b"CMT1"), _box(data, b"CMT2")
        return notes_of(_first_tags(main), _first_tags(exif), Tags())
    mark = _TIFF_MARK.get(data[:4])
    return read_exif(data if mark is None else mark + data[4:])


def _first_tags(data: bytes) -> Tags:
    return read_tags(data, first_directory(data))


def _box(data: bytes, kind: bytes) -> bytes:
    """The body of the first box of a kind near the file's beginning; empty where there is none."""
    at = data.find(kind, 4, _HEAD)
    if at < 0:
        return b""
    length = int.from_bytes(data[at - 4 : at])
    return data[at + 4 : at - 4 + length]
