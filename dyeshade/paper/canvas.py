"""A page to draw on in mm from its top left corner, y down, as the places of a sheet are given."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Final

import numpy as np
import reportlab
from numpy.typing import NDArray
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

PLAIN: Final = "Vera"
BOLD: Final = "VeraBd"
"""Bitstream Vera, which reportlab carries and whose licence lets it go into any document."""


class PageCanvas:
    """One page of a PDF; the same drawing gives the same bytes.

    Parameters
    ----------
    size_mm : tuple of (float, float)
        Width and height.
    title : str
        What the document calls itself.
    """

    def __init__(self, size_mm: tuple[float, float], title: str) -> None:
        for font in (PLAIN, BOLD):
            if font not in pdfmetrics.getRegisteredFontNames():
                file = Path(reportlab.__file__).parent / "fonts" / f"{font}.ttf"
                pdfmetrics.registerFont(TTFont(font, str(file)))
        width, self._height = size_mm
        self._bytes = BytesIO()
        self._canvas = Canvas(
            self._bytes,
            pagesize=(width * mm, self._height * mm),
            invariant=1,
            initialFontName=PLAIN,
        )
        self._canvas.setTitle(title)
        self._canvas.setCreator("dyeshade")

    def finish(self) -> bytes:
        """Close the page and return the whole PDF."""
        self._canvas.showPage()
        self._canvas.save()
        return self._bytes.getvalue()

    def fill_grey(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        """Fill a rectangle with a DeviceGray value 0..1."""
        self._canvas.setFillGray(grey)
        self._rect(x, y, w, h)

    def fill_rgb(
        self, x: float, y: float, w: float, h: float, rgb: tuple[float, float, float]
    ) -> None:
        """Fill a rectangle with a DeviceRGB value 0..1."""
        self._canvas.setFillColorRGB(*rgb)
        self._rect(x, y, w, h)

    def fill_modules(self, x: float, y: float, module: float, dark: NDArray[np.bool_]) -> None:
        """Fill the dark modules of a code in black, as one path: no seam shows between them.

        Parameters
        ----------
        x, y : float
            Top left corner of the code.
        module : float
            Side of a module.
        dark : (rows, columns) bool
        """
        self._canvas.setFillGray(0.0)
        path = self._canvas.beginPath()
        for row, column, rows, columns in merged_rects(dark):
            bottom = self._height - y - (row + rows) * module
            path.rect(
                (x + column * module) * mm, bottom * mm, columns * module * mm, rows * module * mm
            )
        # Non-zero winding: all rectangles turn the same way, so that they only add up.
        self._canvas.drawPath(path, stroke=0, fill=1, fillMode=1)

    def line(
        self, x0: float, y0: float, x1: float, y1: float, width: float = 0.2, grey: float = 0.0
    ) -> None:
        """Draw a straight line with square-cut ends."""
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(width * mm)
        self._canvas.line(x0 * mm, (self._height - y0) * mm, x1 * mm, (self._height - y1) * mm)

    def outline(
        self, x: float, y: float, w: float, h: float, width: float = 0.15, grey: float = 0.0
    ) -> None:
        """Draw a line around a rectangle, outside it."""
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(width * mm)
        half = width / 2
        self._canvas.rect(
            (x - half) * mm,
            (self._height - y - h - half) * mm,
            (w + width) * mm,
            (h + width) * mm,
            stroke=1,
            fill=0,
        )

    def text(
        self,
        x: float,
        baseline: float,
        words: str,
        size: float,
        font: str = PLAIN,
        align: str = "left",
        grey: float = 0.0,
    ) -> None:
        """Set a line of text.

        Parameters
        ----------
        x, baseline : float
        words : str
        size : float
            Size of the type in mm.
        font : str
        align : str
            "left", "middle" or "right" of the text stands at x.
        grey : float
        """
        self._canvas.setFillGray(grey)
        self._canvas.setFont(font, size * mm)
        place = x * mm, (self._height - baseline) * mm
        if align == "left":
            self._canvas.drawString(*place, words)
        elif align == "right":
            self._canvas.drawRightString(*place, words)
        else:
            self._canvas.drawCentredString(*place, words)

    def text_width(self, words: str, size: float, font: str = PLAIN) -> float:
        """Width in mm of a line of text of a size in mm."""
        return float(pdfmetrics.stringWidth(words, font, size))

    def _rect(self, x: float, y: float, w: float, h: float) -> None:
        bottom = self._height - y - h
        self._canvas.rect(x * mm, bottom * mm, w * mm, h * mm, stroke=0, fill=1)


def merged_rects(dark: NDArray[np.bool_]) -> Iterator[tuple[int, int, int, int]]:
    """Cover the dark modules with few rectangles that do not overlap.

    Parameters
    ----------
    dark : (rows, columns) bool

    Yields
    ------
    tuple of (int, int, int, int)
        Row and column of the first module, number of rows, number of columns.
    """
    left = np.array(dark, bool)
    for row, column in np.argwhere(left):
        if not left[row, column]:
            continue
        columns = 1
        while column + columns < left.shape[1] and left[row, column + columns]:
            columns += 1
        rows = 1
        while row + rows < left.shape[0] and left[row + rows, column : column + columns].all():
            rows += 1
        left[row : row + rows, column : column + columns] = False
        yield int(row), int(column), rows, columns
