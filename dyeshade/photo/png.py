"""PNG files of 8 and 16 bits.

The chunks are read here, with their check sums; the decoders are given the picture alone.
Pillow has no 16-bit RGB, so those go to cv2.

References
----------
PNG (Third Edition), W3C Recommendation 2025: 5 (chunks), 11.3.2 (colour space: cICP before iCCP
before sRGB before gAMA and cHRM), 11.3.4.4 (eXIf). ITU-T H.273, tables 2 and 3 (cICP codes).
"""

from __future__ import annotations

import io
import struct
import zlib

import numpy as np
from PIL import PngImagePlugin

from dyeshade.cie.rgb_spaces import SRGB, primaries_to_xyz
from dyeshade.errors import DyeshadeError
from dyeshade.photo.container import (
    Coded,
    Contents,
    check_size,
    unreadable,
    unsupported,
    without_alpha,
)
from dyeshade.photo.curves import SRGB_CURVE, ParametricCurve
from dyeshade.photo.encoding import (
    Encoding,
    adapted_to_d65,
    display_p3_encoding,
    srgb_encoding,
)
from dyeshade.photo.vision import cv2

SIGNATURE = b"\x89PNG\r\n\x1a\n"
_KEPT = (b"cICP", b"iCCP", b"sRGB", b"gAMA", b"cHRM", b"eXIf")
_MOST_PROFILE_BYTES = 16 * 1024 * 1024


def read_png(data: bytes) -> Contents:
    """Decode a PNG file.

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
    picture = [SIGNATURE]
    notes: dict[bytes, bytes] = {}
    header: tuple[int, int] | None = None
    at = len(SIGNATURE)
    kind = b""
    while kind != b"IEND":
        if at + 12 > len(data):
            raise DyeshadeError("photo_truncated")
        length, kind = struct.unpack_from(">I4s", data, at)
        end = at + 12 + length
        if end > len(data):
            raise DyeshadeError("photo_truncated")
        body = data[at + 8 : end - 4]
        if zlib.crc32(data[at + 4 : end - 4]) != struct.unpack_from(">I", data, end - 4)[0]:
            raise unreadable("damaged PNG data")
        if header is None:
            header = _header(kind, body)
        palette = header[1] == 3
        if kind in (b"IHDR", b"IDAT", b"IEND") or (palette and kind in (b"PLTE", b"tRNS")):
            picture.append(data[at:end])
        elif kind in _KEPT:
            notes.setdefault(kind, body)
        at = end
    assert header is not None
    whole = b"".join(picture)
    coded = _decoded_16(whole) if header[0] == 16 else _decoded_8(whole)
    profile, stated = _colour_space(notes)
    return Contents(without_alpha(coded), notes.get(b"eXIf", b""), profile, stated)


def _header(kind: bytes, body: bytes) -> tuple[int, int]:
    """Bit depth and colour type."""
    if kind != b"IHDR" or len(body) != 13:
        raise unreadable("a PNG without its header")
    width, height, depth, colour = struct.unpack_from(">IIBB", body)
    if colour in (0, 4):
        raise DyeshadeError("photo_without_colour")
    if colour not in (2, 3, 6):
        raise unreadable("a PNG without its header")
    check_size(width, height)
    return depth, colour


def _decoded_8(picture: bytes) -> Coded:
    try:
        with PngImagePlugin.PngImageFile(io.BytesIO(picture)) as image:
            image.load()
            wanted = "RGBA" if image.mode == "RGBA" or "transparency" in image.info else "RGB"
            return np.array(image.convert(wanted))
    except OSError as error:
        if "truncated" in str(error):
            raise DyeshadeError("photo_truncated") from error
        raise unreadable("damaged PNG data") from error
    except (SyntaxError, ValueError, struct.error, IndexError, zlib.error) as error:
        # What Pillow raises on damaged data is not of one kind.
        raise unreadable("damaged PNG data") from error


def _decoded_16(picture: bytes) -> Coded:
    try:
        image = cv2.imdecode(np.frombuffer(picture, dtype=np.uint8), cv2.IMREAD_UNCHANGED)
    except cv2.error as error:
        raise unreadable("damaged PNG data") from error
    if image is None or image.dtype != np.uint16 or image.ndim != 3:
        raise unreadable("damaged PNG data")
    order = [2, 1, 0, 3][: image.shape[2]]
    return np.asarray(image[..., order], dtype=np.uint16)


def _colour_space(notes: dict[bytes, bytes]) -> tuple[bytes, Encoding | None]:
    """The profile, or what the chunks state in its place."""
    stated = _of_cicp(notes.get(b"cICP", b""))
    if stated is not None:
        return b"", stated
    if b"iCCP" in notes:
        return _profile(notes[b"iCCP"]), None
    if b"sRGB" in notes:
        return b"", srgb_encoding()
    return b"", _of_gamma(notes.get(b"gAMA", b""), notes.get(b"cHRM", b""))


def _profile(body: bytes) -> bytes:
    _, _, rest = body.partition(b"\0")
    try:
        return zlib.decompressobj().decompress(rest[1:], _MOST_PROFILE_BYTES)
    except zlib.error:
        # Not empty: a profile is there, and cannot be read.
        return b"damaged"


def _of_cicp(body: bytes) -> Encoding | None:
    """The code points of sRGB and Display P3; others are left to the chunks that follow."""
    if len(body) == 4 and body[1] in (16, 18):
        raise unsupported("high dynamic range PNG")
    if body == b"\x01\x0d\x00\x01":
        return srgb_encoding()
    return display_p3_encoding() if body == b"\x0c\x0d\x00\x01" else None


def _of_gamma(gamma: bytes, chromaticities: bytes) -> Encoding | None:
    """The encoding of gAMA and cHRM; a missing one is as in sRGB, and neither says nothing."""
    curve = SRGB_CURVE
    matrix = SRGB.to_xyz
    name = "sRGB primaries"
    stated = False
    if len(gamma) == 4:
        exponent = 100000.0 / max(int.from_bytes(gamma), 1)
        if 0.2 <= exponent <= 5.0:
            curve = ParametricCurve(exponent)
            stated = True
    if len(chromaticities) == 32:
        values = [value / 100000.0 for value in struct.unpack(">8I", chromaticities)]
        white, red, green, blue = ((values[i], values[i + 1]) for i in (0, 2, 4, 6))
        if min(white[1], red[1], green[1]) > 0.0:
            try:
                matrix = adapted_to_d65(primaries_to_xyz((red, green, blue), white))
                name = "primaries of the file"
                stated = True
            except (ValueError, np.linalg.LinAlgError):
                pass
    if not stated:
        return None
    how = "sRGB curve" if curve is SRGB_CURVE else f"exponent {curve.g:.2f}"
    return Encoding((curve,) * 3, matrix, f"{name}, {how}", assumed=False)
