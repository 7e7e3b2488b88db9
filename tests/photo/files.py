"""Photo files for the tests: pixels that differ everywhere, Exif blocks, PNG chunks."""

from __future__ import annotations

import io
import struct
import zlib

import numpy as np
from PIL import Image

from dyeshade.errors import DyeshadeError

SIGNATURE = b"\x89PNG\r\n\x1a\n"


def blocks(height=640, width=820, seed=1) -> np.ndarray:
    """Coloured blocks of 20 pixels, 8 bits: they survive JPEG well."""
    random = np.random.default_rng(seed)
    small = random.integers(20, 236, (-(-height // 20), -(-width // 20), 3), dtype=np.uint8)
    return small.repeat(20, 0).repeat(20, 1)[:height, :width]


def blocks16(height=640, width=820) -> np.ndarray:
    """The same with fine steps below 8 bits."""
    random = np.random.default_rng(2)
    fine = random.integers(0, 256, (height, width, 3), dtype=np.uint16)
    return blocks(height, width).astype(np.uint16) * 256 + fine


def jpeg(image: np.ndarray, **options) -> bytes:
    file = io.BytesIO()
    Image.fromarray(image).save(file, "JPEG", **{"quality": 95, "subsampling": 0, **options})
    return file.getvalue()


def chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png(image: np.ndarray, *chunks: bytes) -> bytes:
    """A PNG of 8 or 16 bits, RGB or RGBA, with more chunks before the picture."""
    height, width, channels = image.shape
    depth = 8 * image.dtype.itemsize
    header = struct.pack(">IIBBBBB", width, height, depth, {3: 2, 4: 6}[channels], 0, 0, 0)
    rows = image.astype(">u2" if depth == 16 else "u1").reshape(height, -1)
    raw = b"".join(b"\0" + row.tobytes() for row in rows)
    picture = chunk(b"IDAT", zlib.compress(raw, 1))
    return b"".join((SIGNATURE, chunk(b"IHDR", header), *chunks, picture, chunk(b"IEND", b"")))


def iccp(profile: bytes) -> bytes:
    return chunk(b"iCCP", b"some name\0\0" + zlib.compress(profile))


def outcome(reader, data: bytes):
    """What a reader makes of some bytes: their contents, or the code of its refusal."""
    try:
        return reader(data)
    except DyeshadeError as error:
        return error.code


def exif(main: dict, notes: dict | None = None, interoperability: dict | None = None) -> bytes:
    """An Exif block, without the JPEG's own "Exif" prefix."""
    block = Image.Exif()
    block.update(main)
    if notes is not None:
        block.get_ifd(34665).update(notes)
    if interoperability is not None:
        block.get_ifd(34665)[40965] = interoperability
    return block.tobytes().removeprefix(b"Exif\0\0")
