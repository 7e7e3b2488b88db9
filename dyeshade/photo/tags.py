"""The tags of a TIFF structure, which Exif uses too, read without trusting a byte of it.

Pillow reads them as well, but warns process-wide and raises a dozen kinds of error on damaged
ones, and turns some TIFFs by itself; here what cannot be read is simply not there.

References
----------
TIFF 6.0, section 2. CIPA DC-008 (Exif 2.32), 4.6.2.
"""

from __future__ import annotations

import struct
from collections.abc import Mapping
from dataclasses import dataclass, field

# Field type: bytes each, struct letter. Rationals are pairs of longs.
_TYPES = {
    1: (1, "B"),
    2: (1, "s"),
    3: (2, "H"),
    4: (4, "I"),
    6: (1, "b"),
    7: (1, "s"),
    8: (2, "h"),
    9: (4, "i"),
    13: (4, "I"),
}
_MOST_ENTRIES = 1000
_MOST_BYTES = 64 * 1024 * 1024


@dataclass(frozen=True)
class Tags:
    """The tags of one directory.

    Attributes
    ----------
    numbers : mapping of int to tuple of int
        Tags with whole numbers.
    texts : mapping of int to bytes
        Tags with text or undefined bytes.
    value_places : mapping of int to int
        Where in the data a tag's value lies.
    byte_order : str
        "<" or ">".
    complete : bool
        Whether the directory itself lies within the data.
    """

    numbers: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    texts: Mapping[int, bytes] = field(default_factory=dict)
    value_places: Mapping[int, int] = field(default_factory=dict)
    byte_order: str = "<"
    complete: bool = False

    def number(self, tag: int) -> int | None:
        """The first whole number of a tag, or None."""
        values = self.numbers.get(tag)
        return values[0] if values else None

    def text(self, tag: int) -> str | None:
        """A tag's text without padding, or None where it is absent, empty or not text."""
        raw = self.texts.get(tag)
        if raw is None:
            return None
        text = raw.split(b"\0")[0].decode("utf-8", errors="replace").strip()
        if not text or not text.isprintable() or "\ufffd" in text:
            return None
        return text


def first_directory(data: bytes) -> int | None:
    """Where the first directory lies, or None where `data` is no classic TIFF structure."""
    if len(data) < 8 or data[:4] not in (b"II*\0", b"MM\0*"):
        return None
    order = "<" if data[:2] == b"II" else ">"
    return int(struct.unpack_from(order + "I", data, 4)[0])


def read_tags(data: bytes, place: int | None) -> Tags:
    """The tags of the directory at `place`.

    Parameters
    ----------
    data : bytes
        The whole TIFF structure, from its byte order mark.
    place : int or None
        Offset of the directory; None gives no tags.

    Returns
    -------
    Tags
        What could be read; entries that point outside the data are left out.
    """
    order = "<" if data[:2] == b"II" else ">"
    if place is None or not 8 <= place <= len(data) - 2:
        return Tags(byte_order=order)
    numbers: dict[int, tuple[int, ...]] = {}
    texts: dict[int, bytes] = {}
    places: dict[int, int] = {}
    (entries,) = struct.unpack_from(order + "H", data, place)
    for index in range(min(entries, _MOST_ENTRIES)):
        at = place + 2 + 12 * index
        if at + 12 > len(data):
            break
        tag, kind, count = struct.unpack_from(order + "HHI", data, at)
        if kind not in _TYPES or tag in places:
            continue
        width, letter = _TYPES[kind]
        size = width * count
        value_at = at + 8
        if size > 4:
            (value_at,) = struct.unpack_from(order + "I", data, value_at)
        if size == 0 or size > _MOST_BYTES or value_at + size > len(data):
            continue
        places[tag] = value_at
        if letter == "s":
            texts[tag] = data[value_at : value_at + size]
        else:
            numbers[tag] = struct.unpack_from(f"{order}{count}{letter}", data, value_at)
            if kind == 1:
                texts[tag] = data[value_at : value_at + size]
    complete = place + 2 + 12 * entries <= len(data)
    return Tags(numbers, texts, places, order, complete)
