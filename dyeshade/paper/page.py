"""A PDF page whose lengths are millimetres from its top left corner, y down."""

from __future__ import annotations

from collections.abc import Iterable
from io import BytesIO
from typing import Final, Literal, Protocol

from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from dyeshade.paper.faces import Face, font_of
from dyeshade.paper.shaping import is_shaped, shaped
from dyeshade.paper.srgb_intent import declare_srgb

POINT_MM: Final = 25.4 / 72.0
CAP_HEIGHT: Final = 0.729
"""Height of a capital letter in Vera, as a share of the size; read from the font."""

LEFT_TO_RIGHT: Final = "\u202d"
"""In front of words whose letters already stand in the order they are seen (UAX 9); never drawn."""

Rect = tuple[float, float, float, float]
"""Left, top, width, height in mm."""


class Drawn(Protocol):
    """Whatever a page can be drawn on: a PDF, a screen. Its methods are those of `Page`."""

    def fill(self, rects: Iterable[Rect], grey: float) -> None:
        """Fill rectangles as one shape."""

    def fill_rgb(self, rect: Rect, rgb: tuple[int, int, int]) -> None:
        """Fill a rectangle with a colour, 0..255 each."""

    def line(self, x0: float, y0: float, x1: float, y1: float, width_mm: float) -> None:
        """Draw a black line."""

    def outline(self, rect: Rect, grey: float, width_mm: float) -> None:
        """Draw a line around a rectangle, all of it outside."""

    def text(
        self,
        x: float,
        baseline: float,
        words: str,
        points: float,
        face: Face = "plain",
        anchor: Literal["left", "middle", "right"] = "left",
    ) -> float:
        """Write one line in black, and tell its width in mm."""
        ...


class DrawnWithPictures(Drawn, Protocol):
    """What photos can be drawn on as well."""

    def picture(self, rect: Rect, jpeg: bytes) -> None:
        """Draw a photo, from the bytes of its JPEG, so that it fills a rectangle."""


class Page:
    """A page of a PDF to draw on, and those that follow it.

    Everything is DeviceGray except `fill_rgb`, so that a printer can keep to black ink.

    Parameters
    ----------
    size_mm : tuple of (float, float)
        Width and height.
    title : str
        The document's title.
    first_face : str
        Face of the page's first words; one that is never used need not be embedded.
    author : str
    srgb : bool
        Whether the colours of `fill_rgb` are declared to be sRGB, by an output intent.
    """

    def __init__(
        self,
        size_mm: tuple[float, float],
        title: str,
        first_face: Face = "plain",
        author: str = "",
        srgb: bool = False,
    ) -> None:
        font_of(first_face)
        self._height = size_mm[1]
        self._buffer = BytesIO()
        # The same page gives the same bytes, whenever it is made.
        self._canvas = Canvas(
            self._buffer,
            pagesize=(size_mm[0] / POINT_MM, size_mm[1] / POINT_MM),
            invariant=1,
            initialFontName=first_face,
        )
        self._canvas.setTitle(title)
        self._canvas.setCreator("dyeshade")
        # Asks viewers that follow it to print at 100 % by themselves.
        self._canvas.setViewerPreference("PrintScaling", "None")
        if author:
            self._canvas.setAuthor(author)
        if srgb:
            declare_srgb(self._canvas)

    def fill(self, rects: Iterable[Rect], grey: float) -> None:
        """Fill rectangles as one shape, so that no seams show between those that touch."""
        self._canvas.setFillGray(grey)
        path = self._canvas.beginPath()
        for x, y, w, h in rects:
            path.rect(x / POINT_MM, self._up(y + h), w / POINT_MM, h / POINT_MM)
        self._canvas.drawPath(path, stroke=0, fill=1)

    def fill_rgb(self, rect: Rect, rgb: tuple[int, int, int]) -> None:
        """Fill a rectangle with a colour, 0..255 each, in DeviceRGB."""
        x, y, w, h = rect
        self._canvas.setFillColorRGB(*(value / 255 for value in rgb))
        self._canvas.rect(
            x / POINT_MM, self._up(y + h), w / POINT_MM, h / POINT_MM, stroke=0, fill=1
        )

    def line(self, x0: float, y0: float, x1: float, y1: float, width_mm: float) -> None:
        """Draw a black line."""
        self._canvas.setStrokeGray(0.0)
        self._canvas.setLineWidth(width_mm / POINT_MM)
        self._canvas.line(x0 / POINT_MM, self._up(y0), x1 / POINT_MM, self._up(y1))

    def outline(self, rect: Rect, grey: float, width_mm: float) -> None:
        """Draw a line around a rectangle, all of it outside."""
        x, y, w, h = rect
        half = width_mm / 2
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(width_mm / POINT_MM)
        self._canvas.rect(
            (x - half) / POINT_MM,
            self._up(y + h + half),
            (w + width_mm) / POINT_MM,
            (h + width_mm) / POINT_MM,
            stroke=1,
            fill=0,
        )

    def text(
        self,
        x: float,
        baseline: float,
        words: str,
        points: float,
        face: Face = "plain",
        anchor: Literal["left", "middle", "right"] = "left",
    ) -> float:
        """Write one line in black.

        Returns
        -------
        float
            Its width in mm.
        """
        font_of(face)
        words = words.removeprefix(LEFT_TO_RIGHT)
        has_shapes = is_shaped(words, face)
        if has_shapes:
            shapes, points_wide = shaped(words, face, points)
        else:
            shapes, points_wide = words, float(pdfmetrics.stringWidth(words, face, points))
        width = points_wide * POINT_MM
        start = x - width * {"left": 0.0, "middle": 0.5, "right": 1.0}[anchor]
        self._canvas.setFillGray(0.0)
        self._canvas.setFont(face, points)
        if has_shapes:
            # Shapes are not letters: whoever copies or searches gets the words themselves.
            letters = words.encode("utf-16-be").hex().upper()
            self._canvas.addLiteral(f"/Span <</ActualText <FEFF{letters}>>> BDC")
        written = self._canvas.beginText(start / POINT_MM, self._up(baseline))
        written.textLine(shapes)
        self._canvas.drawText(written)
        if has_shapes:
            self._canvas.addLiteral("EMC")
        return width

    def picture(self, rect: Rect, jpeg: bytes) -> None:
        """Draw a photo in sRGB, from the bytes of its JPEG, so that it fills a rectangle."""
        x, y, w, h = rect
        self._canvas.drawImage(
            ImageReader(BytesIO(jpeg)),
            x / POINT_MM,
            self._up(y + h),
            w / POINT_MM,
            h / POINT_MM,
        )

    def next_page(self) -> None:
        """Finish the page and begin another one of the same size."""
        self._canvas.showPage()

    def to_pdf(self) -> bytes:
        """Finish the last page; nothing can be drawn on it afterwards."""
        self._canvas.showPage()
        self._canvas.save()
        return self._buffer.getvalue()

    def _up(self, y: float) -> float:
        return (self._height - y) / POINT_MM
