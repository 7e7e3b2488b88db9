"""Telling a file's kind by its first bytes.

References
----------
The signatures are those of the formats' own specifications: ITU-T T.81 (JPEG), PNG Third
Edition, TIFF 6.0, ISO/IEC 14496-12 (brands of HEIC, AVIF, CR3), RFC 9649 (WebP), GIF89a,
ISO/IEC 18181-2 (JPEG XL), ISO 32000 (PDF). The raw signatures are from memory.
"""

from __future__ import annotations

from dyeshade.errors import DyeshadeError
from dyeshade.photo.container import unreadable, unsupported
from dyeshade.photo.png import SIGNATURE

_UNSUPPORTED = (
    (b"GIF8", "GIF"),
    (b"%PDF", "PDF"),
    (b"8BPS", "layered image"),
    (b"II+\0", "BigTIFF"),
    (b"MM\0+", "BigTIFF"),
    (b"FUJIFILMCCD-RAW", "camera raw"),
    (b"IIRO", "camera raw"),
    (b"IIRS", "camera raw"),
    (b"IIU\0", "camera raw"),
    (b"\xff\x0a", "JPEG XL"),
    (b"\0\0\0\x0cJXL ", "JPEG XL"),
    (b"\0\0\0\x0cjP  ", "JPEG 2000"),
    (b"BM", "BMP"),
)
_BRANDS = {
    b"heic": "HEIC",
    b"heix": "HEIC",
    b"hevc": "HEIC",
    b"heim": "HEIC",
    b"heis": "HEIC",
    b"mif1": "HEIC",
    b"msf1": "HEIC",
    b"avif": "AVIF",
    b"avis": "AVIF",
    b"crx ": "camera raw",
}


def kind_of(data: bytes) -> str:
    """The format of a photo's bytes.

    Parameters
    ----------
    data : bytes

    Returns
    -------
    str
        "JPEG", "PNG" or "TIFF".

    Raises
    ------
    DyeshadeError
        photo_unreadable for no bytes at all; photo_kind_unsupported with the kind where it is
        known but not read; else photo_kind_unknown.
    """
    if not data:
        raise unreadable("an empty file")
    if data.startswith(b"\xff\xd8"):
        return "JPEG"
    if data.startswith(SIGNATURE):
        return "PNG"
    if data.startswith((b"II*\0", b"MM\0*")):
        return "TIFF"
    for signature, kind in _UNSUPPORTED:
        if data.startswith(signature):
            raise unsupported(kind)
    if data[4:8] == b"ftyp":
        raise unsupported(_BRANDS.get(data[8:12], "video"))
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        raise unsupported("WebP")
    raise DyeshadeError("photo_kind_unknown")
