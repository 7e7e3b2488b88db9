"""Telling a file's kind by its first bytes.

References
----------
The signatures are those of the formats' own specifications: ITU-T T.81 (JPEG), PNG Third
Edition, TIFF 6.0, ISO/IEC 14496-12 (brands of HEIC, AVIF, CR3), RFC 9649 (WebP), GIF89a,
ISO/IEC 18181-2 (JPEG XL), ISO 32000 (PDF). Adobe DNG Specification 1.6: tags 50706 DNGVersion,
254 NewSubFileType, 262 PhotometricInterpretation (32803 colour filter array, 34892 LinearRaw).
The other raw signatures are from memory.
"""

from __future__ import annotations

from dyeshade.errors import DyeshadeError
from dyeshade.photo.container import unreadable, unsupported
from dyeshade.photo.png import SIGNATURE
from dyeshade.photo.tags import first_directory, read_tags

_RAW = (b"FUJIFILMCCD-RAW", b"IIRO", b"IIRS", b"MMOR", b"IIU\0")
_RAW_PICTURES = {32803, 34892}
_UNSUPPORTED = (
    (b"GIF8", "GIF"),
    (b"%PDF", "PDF"),
    (b"8BPS", "layered image"),
    (b"II+\0", "BigTIFF"),
    (b"MM\0+", "BigTIFF"),
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
    b"crx ": "raw",
}


def kind_of(data: bytes) -> str:
    """The format of a photo's bytes.

    Parameters
    ----------
    data : bytes

    Returns
    -------
    str
        "JPEG", "PNG", "TIFF", "HEIC", "DNG" or "raw" (any other camera raw).

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
        return _kind_of_tiff(data)
    if data.startswith(_RAW):
        return "raw"
    for signature, kind in _UNSUPPORTED:
        if data.startswith(signature):
            raise unsupported(kind)
    if data[4:8] == b"ftyp":
        kind = _kind_of_boxes(data)
        if kind in ("HEIC", "raw"):
            return kind
        raise unsupported(kind)
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        raise unsupported("WebP")
    raise DyeshadeError("photo_kind_unknown")


def _kind_of_tiff(data: bytes) -> str:
    """DNG and the raw files of several makers are TIFFs, most with a preview as first picture."""
    tags = read_tags(data, first_directory(data))
    if 50706 in tags.value_places:
        return "DNG"
    preview = (tags.number(254) or 0) & 1
    if data[8:10] == b"CR" or preview or tags.number(262) in _RAW_PICTURES:
        return "raw"
    return "TIFF"


def _kind_of_boxes(data: bytes) -> str:
    """What the brands in the first box say, the general ones ("mif1") by those that follow."""
    length = min(int.from_bytes(data[:4]), 256)
    brands = [data[8:12], *(data[at : at + 4] for at in range(16, length, 4))]
    if brands[0] in (b"mif1", b"msf1") and b"avif" in brands:
        return "AVIF"
    return _BRANDS.get(brands[0], "video")
