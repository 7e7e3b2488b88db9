"""A page as a list of what is drawn on it, for the PDF and for the screen."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from dyeshade.paper.page import DrawnWithPictures, Page, Rect
from dyeshade.paper.typeset import SetText
from dyeshade.whole_file import write_whole

Line = tuple[float, float, float, float]
"""From x, y to x, y in mm."""


@dataclass(frozen=True)
class Shape:
    """Rectangles filled as one; `grey` is 0 for black and 1 for white."""

    rects: tuple[Rect, ...]
    grey: float


@dataclass(frozen=True)
class ColourField:
    """A rectangle of one colour, sRGB 0..255."""

    rect: Rect
    rgb: tuple[int, int, int]


@dataclass(frozen=True)
class Stroke:
    """A black line."""

    line: Line
    width_mm: float


@dataclass(frozen=True)
class Outline:
    """A line around a rectangle, all of it outside."""

    rect: Rect
    grey: float
    width_mm: float


@dataclass(frozen=True)
class Picture:
    """A photo, from the bytes of its JPEG in sRGB."""

    rect: Rect
    jpeg: bytes


@dataclass(frozen=True)
class PaperPage:
    """One page; lengths in mm from its top left corner, y down.

    Attributes
    ----------
    paper_mm : tuple of 2 floats
        Width and height.
    """

    paper_mm: tuple[float, float]
    shapes: tuple[Shape, ...] = ()
    colours: tuple[ColourField, ...] = ()
    pictures: tuple[Picture, ...] = ()
    outlines: tuple[Outline, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    words: tuple[SetText, ...] = ()


@dataclass(frozen=True)
class LaidPages:
    """Pages in the order of printing, with what the document says of itself.

    Attributes
    ----------
    title, author : str
    pages : tuple of PaperPage
        At least one, all of one size.
    missing : str
        Characters that no font has; a box stands for each.
    """

    title: str
    author: str
    pages: tuple[PaperPage, ...]
    missing: str = ""


def draw_paper_page(page: DrawnWithPictures, laid: PaperPage) -> None:
    """Draw a page on a page of any kind.

    Parameters
    ----------
    page : DrawnWithPictures
    laid : PaperPage
    """
    for shape in laid.shapes:
        page.fill(shape.rects, shape.grey)
    for field in laid.colours:
        page.fill_rgb(field.rect, field.rgb)
    for picture in laid.pictures:
        page.picture(picture.rect, picture.jpeg)
    for outline in laid.outlines:
        page.outline(outline.rect, outline.grey, outline.width_mm)
    for stroke in laid.strokes:
        page.line(*stroke.line, stroke.width_mm)
    for text in laid.words:
        page.text(text.x_mm, text.baseline_mm, text.words, text.points, text.face)


def pages_pdf(laid: LaidPages) -> bytes:
    """Pages as the bytes of a PDF, the same for the same pages."""
    coloured = any(one.colours or one.pictures for one in laid.pages)
    page = Page(laid.pages[0].paper_mm, laid.title, "sans", laid.author, srgb=coloured)
    for number, one in enumerate(laid.pages):
        if number:
            page.next_page()
        draw_paper_page(page, one)
    return page.to_pdf()


def write_pages_pdf(laid: LaidPages, out: str | Path) -> None:
    """Write pages as a PDF; an older file there is replaced once the new one is whole.

    Raises
    ------
    DyeshadeError
        ``cannot_write`` (path, reason).
    """
    write_whole(pages_pdf(laid), out)
