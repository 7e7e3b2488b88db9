"""Papers read back with libraries that did not write them."""

from io import BytesIO

import numpy as np
import pdfplumber
import pypdf
import pypdfium2
import zxingcpp
from numpy.typing import NDArray

MM = 72 / 25.4
# ISO 216 and ANSI/ASME Y14.1.
PAPERS = {"A4": (210.0, 297.0), "Letter": (8.5 * 25.4, 11 * 25.4)}


def plumbed(pdf: bytes):
    return pdfplumber.open(BytesIO(pdf)).pages


def sizes_mm(pdf: bytes) -> list[tuple[float, float]]:
    boxes = [page.mediabox for page in pypdf.PdfReader(BytesIO(pdf)).pages]
    return [(float(box.width) / MM, float(box.height) / MM) for box in boxes]


def words_of(pdf: bytes) -> str:
    pages = pypdf.PdfReader(BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def fonts_embedded(pdf: bytes) -> bool:
    fonts = [
        font.get_object()
        for page in pypdf.PdfReader(BytesIO(pdf)).pages
        for font in page["/Resources"]["/Font"].values()
    ]
    return bool(fonts) and all("/FontFile2" in font["/FontDescriptor"] for font in fonts)


def codes_on(pdf: bytes, dots_per_mm: float = 8.0) -> list[list[str]]:
    """What a second decoder reads on each page."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        pictures = [
            np.asarray(page.render(scale=dots_per_mm * 25.4 / 72).to_pil().convert("L")).copy()
            for page in document
        ]
    finally:
        document.close()
    return [[one.text for one in zxingcpp.read_barcodes(picture)] for picture in pictures]


def outlines_mm(page) -> list[NDArray[np.float64]]:
    """Left, top, width and height of rectangles that are drawn as lines."""
    return [
        np.array([rect["x0"], rect["top"], rect["width"], rect["height"]], float) / MM
        for rect in page.rects
        if rect["stroke"] and not rect["fill"]
    ]
