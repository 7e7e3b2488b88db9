"""Whether all the picture data that a DNG speaks of are in the file.

LibRaw says the same by an error, but prints it as well, and not for every kind of damage.

References
----------
Adobe DNG Specification 1.6, chapter 2 (SubIFD trees); TIFF 6.0, sections 3 and 15 (strips, tiles).
"""

from __future__ import annotations

from collections.abc import Iterator

from dyeshade.errors import DyeshadeError
from dyeshade.photo.tags import Tags, first_directory, read_tags

_SUB_DIRECTORIES = 330
_PIECES = ((273, 279), (324, 325))
_MOST_DIRECTORIES = 32


def is_dng(data: bytes) -> bool:
    """Whether a file is a DNG (tag 50706 in its first directory)."""
    return 50706 in read_tags(data, first_directory(data)).value_places


def check_pieces(data: bytes) -> None:
    """Refuse a DNG that ends too early.

    Parameters
    ----------
    data : bytes
        The whole file; other kinds than DNG pass.

    Raises
    ------
    DyeshadeError
        photo_truncated.
    """
    if not is_dng(data):
        return
    for tags in _directories(data):
        if not tags.complete:
            raise DyeshadeError("photo_truncated")
        for offsets_tag, counts_tag in _PIECES:
            offsets = tags.numbers.get(offsets_tag, ())
            counts = tags.numbers.get(counts_tag, ())
            pieces = zip(offsets, counts, strict=False)
            if any(offset + count > len(data) for offset, count in pieces):
                raise DyeshadeError("photo_truncated")


def _directories(data: bytes) -> Iterator[Tags]:
    """The first directory and those that it names as its pictures."""
    main = read_tags(data, first_directory(data))
    yield main
    for place in main.numbers.get(_SUB_DIRECTORIES, ())[:_MOST_DIRECTORIES]:
        yield read_tags(data, place)
