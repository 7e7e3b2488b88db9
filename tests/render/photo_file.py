"""Coded pixels to a file: JPEG, PNG of 8 or 16 bit, TIFF of 16 bit, with profile and EXIF; DNG."""

from __future__ import annotations

import io
import struct
import zlib
from typing import TYPE_CHECKING

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from .raw_file import sensor_numbers, write_dng
from .texture import Field

if TYPE_CHECKING:
    from .scene import Scene

# Primaries adapted to D50 with the Bradford matrix, as ICC.1:2022 asks of matrix profiles:
# columns red, green, blue; from the published sRGB and Display P3 profiles.
_COLUMNS = {
    "sRGB": [(0.43607, 0.22249, 0.01392), (0.38515, 0.71687, 0.09708), (0.14307, 0.06061, 0.71410)],
    "Display P3": [
        (0.51512, 0.24120, -0.00105),
        (0.29198, 0.69225, 0.04189),
        (0.15710, 0.06657, 0.78407),
    ],
}
_SUFFIX = {"jpeg": ".jpg", "png": ".png", "png16": ".png", "tiff16": ".tif", "dng": ".dng"}


def _fixed(*values: float) -> bytes:
    return struct.pack(f">{len(values)}i", *(round(v * 65536) for v in values))


def icc_profile(primaries: str) -> bytes:
    """A matrix profile of version 4 with a parametric curve (ICC.1:2022)."""
    desc = b"mluc" + bytes(4) + struct.pack(">II", 1, 12) + b"enGB"
    text = primaries.encode("utf-16-be")
    desc += struct.pack(">II", len(text), 28) + text
    note = "No rights reserved".encode("utf-16-be")
    copyright_ = b"mluc" + bytes(4) + struct.pack(">II", 1, 12) + b"enGB"
    copyright_ += struct.pack(">II", len(note), 28) + note
    curve = b"para" + bytes(4) + struct.pack(">HH", 3, 0)
    curve += _fixed(2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)
    xyz = [b"XYZ " + bytes(4) + _fixed(*column) for column in _COLUMNS[primaries]]
    bradford = [1.04788, 0.02292, -0.05022, 0.02959, 0.99048, -0.01707, -0.00925, 0.01508, 0.75168]
    parts = {
        b"desc": desc,
        b"cprt": copyright_,
        b"wtpt": b"XYZ " + bytes(4) + _fixed(0.9642, 1.0, 0.8249),
        b"chad": b"sf32" + bytes(4) + _fixed(*bradford),
        b"rXYZ": xyz[0],
        b"gXYZ": xyz[1],
        b"bXYZ": xyz[2],
        b"rTRC": curve,
        b"gTRC": curve,
        b"bTRC": curve,
    }
    offset = 128 + 4 + 12 * len(parts)
    table, body = struct.pack(">I", len(parts)), b""
    for tag, part in parts.items():
        table += tag + struct.pack(">II", offset + len(body), len(part))
        body += part + bytes(-len(part) % 4)
    size = offset + len(body)
    head = struct.pack(">I", size) + bytes(4) + bytes([4, 0, 0, 0]) + b"mntrRGB XYZ "
    head += struct.pack(">6H", 2025, 1, 1, 0, 0, 0) + b"acsp" + bytes(4 * 4 + 12)
    head = head.ljust(68, b"\0") + _fixed(0.9642, 1.0, 0.8249)
    return head.ljust(128, b"\0") + table + body


def _stored(upright: NDArray[np.generic], orientation: int) -> NDArray[np.generic]:
    """Pixels as stored, so that the EXIF orientation brings them upright."""
    turns = {1: 0, 3: 2, 6: 1, 8: 3}[orientation]
    return np.ascontiguousarray(np.rot90(upright, turns))


def _exif(scene: Scene) -> Image.Exif:
    exif = Image.Exif()
    exif[0x010F] = "Render"
    exif[0x0110] = scene.camera
    exif[0x0112] = scene.orientation
    exif.get_ifd(0x8769)[0x9003] = scene.taken.strftime("%Y:%m:%d %H:%M:%S")
    return exif


def write_photo(
    value: NDArray[np.float32], raw: Field, scene: Scene
) -> tuple[bytes, NDArray[np.generic]]:
    """The file's bytes, and the upright pixels as quantised (before any JPEG loss).

    Of a DNG the file holds ``raw``, and the pixels are those that the camera would have shown.

    Raises
    ------
    KeyError
        When the scene's file format or orientation is unknown.
    """
    deep = scene.file_format in ("png16", "tiff16")
    top = 65535 if deep else 255
    pixels = np.round(value * top).astype(np.uint16 if deep else np.uint8)
    stored = _stored(pixels, scene.orientation)
    if scene.file_format == "dng":
        numbers = _stored(sensor_numbers(raw, scene), scene.orientation)
        return write_dng(numbers.astype(np.uint16), scene), pixels
    icc = icc_profile(scene.primaries) if scene.profile else None
    exif = _exif(scene)
    out = io.BytesIO()
    if scene.file_format == "jpeg":
        extra = {"icc_profile": icc} if icc else {}
        Image.fromarray(stored).save(
            out, "JPEG", quality=scene.quality, exif=exif, subsampling=0, **extra
        )
    elif scene.file_format == "png":
        Image.fromarray(stored).save(out, "PNG", icc_profile=icc, exif=exif, compress_level=2)
    elif scene.file_format == "png16":
        ok, data = cv2.imencode(".png", stored[..., ::-1], [cv2.IMWRITE_PNG_COMPRESSION, 1])
        assert ok
        out.write(_with_chunks(data.tobytes(), icc, exif.tobytes()))
    else:
        import tifffile

        tags = [(274, "H", 1, scene.orientation, True), (271, "s", 0, "Render", True)]
        tags.append((272, "s", 0, scene.camera, True))
        tags.append((306, "s", 20, scene.taken.strftime("%Y:%m:%d %H:%M:%S"), True))
        tifffile.imwrite(
            out, stored, photometric="rgb", iccprofile=icc, extratags=tags, metadata=None
        )
    return out.getvalue(), pixels


def _with_chunks(png: bytes, icc: bytes | None, exif: bytes) -> bytes:
    def chunk(kind: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    added = b""
    if icc:
        added += chunk(b"iCCP", b"profile\0\0" + zlib.compress(icc))
    added += chunk(b"eXIf", exif.removeprefix(b"Exif\0\0"))
    # After the header chunk, which is 25 bytes long and follows the 8 byte signature.
    return png[:33] + added + png[33:]


def file_suffix(scene: Scene) -> str:
    """The usual ending of the scene's file, with its dot."""
    return _SUFFIX[scene.file_format]
