"""Says within a PDF that its colours are sRGB.

References
----------
ISO 32000-1:2008, 14.11.5, output intents; ICC.1:2010, 7.2, the profile's header.
"""

from __future__ import annotations

from functools import cache
from typing import Final

from PIL import ImageCms
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream, PDFString
from reportlab.pdfgen.canvas import Canvas

_MADE: Final = slice(24, 36)
"""Bytes of a profile's header that say when it was made."""


@cache
def srgb_profile() -> bytes:
    """An ICC profile of sRGB, the same bytes whenever it is made."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
    made = bytearray(profile.tobytes())
    # 1 January 2000, so that the same pages give the same file.
    made[_MADE] = b"".join(number.to_bytes(2, "big") for number in (2000, 1, 1, 0, 0, 0))
    return bytes(made)


def declare_srgb(canvas: Canvas) -> None:
    """Give a document the output intent sRGB."""
    document = canvas._doc
    profile = PDFStream(PDFDictionary({"N": 3}), srgb_profile())
    intent = PDFDictionary(
        {
            "Type": PDFName("OutputIntent"),
            # The subtype of PDF/A: viewers and print services know it best.
            "S": PDFName("GTS_PDFA1"),
            "OutputConditionIdentifier": PDFString("sRGB IEC61966-2.1"),
            "Info": PDFString("sRGB IEC61966-2.1"),
            "DestOutputProfile": document.Reference(profile),
        }
    )
    catalog = document.Catalog
    catalog.__NoDefault__ = [*catalog.__NoDefault__, "OutputIntents"]
    catalog.OutputIntents = PDFArray([intent])
