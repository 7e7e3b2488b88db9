"""TIFF files of 8 and 16 bits.

The tags are read here and decide what is taken; cv2 (libtiff) unpacks the pixels.

References
----------
TIFF 6.0; TIFF Technical Note 2 (JPEG).
"""

from __future__ import annotations

import struct
import zlib

import numpy as np

from dyeshade.errors import DyeshadeError
from dyeshade.photo.container import (
    Coded,
    Contents,
    check_size,
    unreadable,
    unsupported,
    without_alpha,
)
from dyeshade.photo.tags import Tags, first_directory, read_tags
from dyeshade.photo.vision import cv2

_DEFLATE = {8, 32946}
_COMPRESSIONS = {1, 5, 7, 32773, *_DEFLATE}
_MOST_AT_ONCE = 1 << 24
_PHOTOMETRIC = {3: "palette TIFF", 5: "CMYK TIFF", 8: "CIELAB TIFF", 9: "CIELAB TIFF"}


def read_tiff(data: bytes) -> Contents:
    """Decode the first page of a TIFF file.

    Parameters
    ----------
    data : bytes
        The whole file.

    Returns
    -------
    Contents
        8 or 16 bits, as stored.

    Raises
    ------
    DyeshadeError
        photo_unreadable, photo_truncated, photo_kind_unsupported, photo_without_colour,
        photo_transparent, photo_too_small, photo_too_large.
    """
    directory = first_directory(data)
    tags = read_tags(data, directory)
    if directory is None or not tags.complete:
        raise DyeshadeError("photo_truncated")
    width, height = tags.number(256), tags.number(257)
    if width is None or height is None:
        raise unreadable("a TIFF without its size")
    check_size(width, height)
    _check_samples(tags)
    _check_pieces(data, tags)
    coded = _decoded(_as_stored(data, tags), tags)
    if coded.shape[:2] != (height, width):
        raise unreadable("damaged TIFF data")
    return Contents(without_alpha(coded), data, tags.texts.get(34675, b""))


def _check_samples(tags: Tags) -> None:
    photometric = tags.number(262)
    if photometric in (0, 1):
        raise DyeshadeError("photo_without_colour")
    if photometric not in (2, 6):
        raise unsupported(_PHOTOMETRIC.get(photometric or -1, "TIFF of a rare kind"))
    bits = tags.numbers.get(258, (1,))
    if set(tags.numbers.get(339, (1,))) != {1}:
        raise unsupported(f"TIFF of {bits[0]}-bit floating or signed numbers")
    if set(bits) not in ({8}, {16}):
        raise unsupported(f"TIFF of {bits[0]} bits")
    if tags.number(277) not in (3, 4):
        raise unsupported(f"TIFF of {tags.number(277)} channels")
    if tags.number(284) == 2 and bits[0] == 16:
        # cv2 unpacks these wrongly and does not say so.
        raise unsupported("16-bit TIFF of separate colour planes")
    compression = tags.number(259) or 1
    if compression not in _COMPRESSIONS:
        raise unsupported(f"TIFF of compression {compression}")


def _check_pieces(data: bytes, tags: Tags) -> None:
    """Whether the strips or tiles are all there, and whole as far as they can tell."""
    for offsets_tag, counts_tag in ((273, 279), (324, 325)):
        offsets, counts = tags.numbers.get(offsets_tag), tags.numbers.get(counts_tag)
        if not offsets or not counts:
            continue
        pieces = list(zip(offsets, counts, strict=False))
        if any(offset + count > len(data) for offset, count in pieces):
            raise DyeshadeError("photo_truncated")
        if tags.number(259) in _DEFLATE:
            # cv2 shows a damaged piece of 8 bits as black and does not say so.
            for offset, count in pieces:
                _check_sum(data[offset : offset + count])
        return
    # The tags that say where the pixels are lie themselves beyond the end, or are damaged.
    raise DyeshadeError("photo_truncated")


def _check_sum(piece: bytes) -> None:
    inflater = zlib.decompressobj()
    try:
        while piece and not inflater.eof:
            # Unpacked in parts, so that a small piece cannot fill the memory.
            inflater.decompress(piece, _MOST_AT_ONCE)
            piece = inflater.unconsumed_tail
    except zlib.error as error:
        raise unreadable("damaged TIFF data") from error
    if not inflater.eof:
        raise unreadable("damaged TIFF data")


def _as_stored(data: bytes, tags: Tags) -> bytes:
    """The file with its orientation tag saying 1, since decoders differ in honouring it."""
    place = tags.value_places.get(274)
    if place is None or tags.number(274) == 1:
        return data
    changed = bytearray(data)
    struct.pack_into(tags.byte_order + "H", changed, place, 1)
    return bytes(changed)


def _decoded(data: bytes, tags: Tags) -> Coded:
    try:
        image = cv2.imdecode(np.frombuffer(data, dtype=np.uint8), cv2.IMREAD_UNCHANGED)
    except cv2.error as error:
        raise unreadable("damaged TIFF data") from error
    wanted = np.dtype(np.uint8 if tags.number(258) == 8 else np.uint16)
    if image is None or image.dtype != wanted or image.ndim != 3 or image.shape[2] not in (3, 4):
        raise unreadable("damaged TIFF data")
    order = [2, 1, 0, 3][: image.shape[2]]
    stored = image[..., order]
    if wanted == np.uint8:
        return np.asarray(stored, dtype=np.uint8)
    return np.asarray(stored, dtype=np.uint16)
