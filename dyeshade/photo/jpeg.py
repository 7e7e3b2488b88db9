"""JPEG files.

The markers are read here; the decoder is given the picture alone, so that neither damaged notes
nor embedded previews can trouble it.

References
----------
ITU-T T.81, annex B (markers). CIPA DC-008, 4.7 (APP1). ICC.1:2022, annex B.4 (APP2).
"""

from __future__ import annotations

import io
import struct

import numpy as np
from numpy.typing import NDArray
from PIL import JpegImagePlugin
from simplejpeg import decode_jpeg

from dyeshade.errors import DyeshadeError
from dyeshade.photo.container import Contents, check_size, unreadable, unsupported

_FRAMES = {0xC0, 0xC1, 0xC2}
_OTHER_FRAMES = {0xC3, *range(0xC5, 0xC8), *range(0xC9, 0xCC), *range(0xCD, 0xD0)}
_EXIF = b"Exif\0\0"
_PROFILE = b"ICC_PROFILE\0"
# APP0 (JFIF) and APP14 (Adobe) tell how the channels are coded; no other is needed.
_NEEDED_APPS = {0xE0, 0xEE}
_LEAST_HALVED = 6_000_000
"""Pixels. A sheet that fills so large a photo has 5 pixels a millimetre left when it is halved."""


def read_jpeg(data: bytes, halved: bool = False) -> Contents:
    """Decode a JPEG file.

    Parameters
    ----------
    data : bytes
        The whole file.
    halved : bool
        Whether a large picture, of even rows and columns, may come with half of both: each block
        of the file is then unpacked at half its size, for three fifths of the work.

    Returns
    -------
    Contents
        8 bits.

    Raises
    ------
    DyeshadeError
        photo_unreadable, photo_truncated, photo_kind_unsupported, photo_without_colour,
        photo_too_small, photo_too_large.
    """
    picture: list[bytes | memoryview] = [data[:2]]
    exif = b""
    profile_parts: dict[int, bytes] = {}
    frame: bytes | None = None
    at = 2
    while True:
        marker, body, following = _segment(data, at)
        if marker in _OTHER_FRAMES:
            raise unsupported("JPEG of a rare coding")
        if marker in _FRAMES and frame is None:
            frame = body
        if marker == 0xE1 and body.startswith(_EXIF) and not exif:
            exif = body[len(_EXIF) :]
        elif marker == 0xE2 and body.startswith(_PROFILE) and len(body) > len(_PROFILE) + 2:
            profile_parts.setdefault(body[len(_PROFILE)], body[len(_PROFILE) + 2 :])
        if not (0xE0 <= marker <= 0xEF or marker == 0xFE) or marker in _NEEDED_APPS:
            picture.append(data[at:following])
        at = following
        if marker == 0xDA:
            break
    if frame is None:
        raise unreadable("a JPEG without its frame")
    size = _checked_size(frame)
    # A copy that broke off may be filled up with zeros, which would decode as grey.
    if data.rfind(b"\xff\xd9", at) < 0:
        raise DyeshadeError("photo_truncated")
    profile = b"".join(part for _, part in sorted(profile_parts.items()))
    height, width = size
    even = height % 2 == 0 and width % 2 == 0
    shrunk = 2 if halved and even and height * width >= _LEAST_HALVED else 1
    coded = _decoded(data, (height // shrunk, width // shrunk))
    if coded is None:
        # Pillow reads some more, whole, and tells what is wrong with the rest.
        picture.append(memoryview(data)[at:])
        coded, shrunk = _decoded_or_why(b"".join(picture)), 1
    return Contents(coded, exif, profile, shrunk=shrunk)


def _segment(data: bytes, at: int) -> tuple[int, bytes, int]:
    """The marker at a place, its body, and where the next one stands."""
    while at + 1 < len(data) and data[at] == 0xFF and data[at + 1] == 0xFF:
        at += 1
    if at + 4 > len(data):
        raise DyeshadeError("photo_truncated")
    marker = data[at + 1]
    if data[at] != 0xFF or marker < 0xC0:
        raise unreadable("damaged JPEG markers")
    if marker in (0xD8, 0xD9) or 0xD0 <= marker <= 0xD7:
        raise unreadable("damaged JPEG markers")
    (length,) = struct.unpack_from(">H", data, at + 2)
    following = at + 2 + length
    if length < 2:
        raise unreadable("damaged JPEG markers")
    if following > len(data):
        raise DyeshadeError("photo_truncated")
    return marker, data[at + 4 : following], following


def _checked_size(frame: bytes) -> tuple[int, int]:
    """Rows and columns, of a picture that can be read here."""
    if len(frame) < 6:
        raise unreadable("a JPEG without its frame")
    precision, height, width, components = struct.unpack_from(">BHHB", frame)
    if precision != 8:
        raise unsupported(f"JPEG of {precision} bits")
    if components == 1:
        raise DyeshadeError("photo_without_colour")
    if components == 4:
        raise unsupported("CMYK JPEG")
    if components != 3:
        raise unreadable("a JPEG without its frame")
    check_size(width, height)
    return height, width


def _decoded(data: bytes, size: tuple[int, int]) -> NDArray[np.uint8] | None:
    """Decode a picture to so many rows and columns, its own or fewer; None where that fails.

    Right into an array of ours: half a dozen milliseconds are copying, elsewhere.
    """
    place = np.empty((*size, 3), np.uint8)
    height, width = size
    try:
        found = decode_jpeg(data, "RGB", min_height=height, min_width=width, buffer=place)
    except ValueError:
        # Also of what others would read with a warning.
        return None
    return place if found.shape == place.shape else None


def _decoded_or_why(picture: bytes) -> NDArray[np.uint8]:
    try:
        # Not Image.open: its guard on size warns process-wide, and check_size has the limit.
        with JpegImagePlugin.JpegImageFile(io.BytesIO(picture)) as image:
            image.load()
            if image.mode != "RGB":
                raise unsupported(f"JPEG of {image.mode}")
            return np.asarray(image, dtype=np.uint8)
    except DyeshadeError:
        raise
    except OSError as error:
        if "truncated" in str(error):
            raise DyeshadeError("photo_truncated") from error
        raise unreadable("damaged JPEG data") from error
    except (SyntaxError, ValueError, struct.error, IndexError, KeyError, TypeError) as error:
        # What Pillow raises on damaged headers is not of one kind.
        raise unreadable("damaged JPEG data") from error
