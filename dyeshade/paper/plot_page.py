"""A figure laid out on a page of any size, drawn on whatever a page can be drawn on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from dyeshade.paper.page import POINT_MM, Drawn, DrawnWithPictures, Page
from dyeshade.paper.paper_page import PaperPage, draw_paper_page
from dyeshade.paper.plot import Figure
from dyeshade.paper.plot_place import Layers, PlacedPlot, Spot, words_beside
from dyeshade.paper.typeset import SetText, set_line, wrapped
from dyeshade.whole_file import write_whole

FILE_MM = (297.0, 210.0)
"""The page of a figure in a file: A4, lying."""

_MARGIN, _BETWEEN = 15.0, 6.0
# With words above and below it, a lower one would reach over its place.
_LEAST_ROW = 16.0
_TITLE_PT, _SAID_PT, _FILE_PT = 15.0, 9.5, 8.5


@dataclass(frozen=True)
class LaidFigure:
    """A figure at its place.

    Attributes
    ----------
    size_mm : tuple of 2 floats
    frame : tuple of SetText
        Words outside the plots' grounds; in the page's ink.
    under, over : PaperPage
        Grounds with what lies on them; then swatches and words on the ground, in black.
    spots : tuple of Spot
        What can be pointed at, row by row, in the order in which the plots tell it.
    """

    size_mm: tuple[float, float]
    frame: tuple[SetText, ...]
    under: PaperPage
    over: PaperPage
    spots: tuple[Spot, ...]


def lay_out(
    figure: Figure,
    size_mm: tuple[float, float],
    points: float = _FILE_PT,
    alone: bool = True,
    margin: float | None = None,
) -> LaidFigure:
    """Lay out a figure.

    Parameters
    ----------
    figure : Figure
    size_mm : tuple of 2 floats
        Width and height of the page.
    points : float
        Size of the words about the plots.
    alone : bool
        Whether its title and sentences are written above it.
    margin : float, optional
        In mm.
    """
    layers = Layers()
    edge = _MARGIN if margin is None else margin
    width = size_mm[0] - 2 * edge
    top = edge
    if alone:
        for text, size in ((figure.title, _TITLE_PT), *((s, _SAID_PT) for s in figure.sentences)):
            for line in wrapped(text, "sans", size, width):
                top += size * POINT_MM * 1.3
                layers.frame += set_line(line, "sans", size, edge, top)
        top += _BETWEEN
    room = size_mm[1] - edge - top - _BETWEEN * (len(figure.rows) - 1)
    beside = max(words_beside(row[0], points) for row in figure.rows)
    for row, height in zip(figure.rows, _heights(room, figure.heights), strict=True):
        wide = (width - _BETWEEN * (len(row) - 1)) / len(row)
        for place, plot in enumerate(row):
            rect = (edge + place * (wide + _BETWEEN), top, wide, height)
            PlacedPlot(plot, rect, points, layers, 0.0 if place else beside).draw()
        top += height + _BETWEEN
    return LaidFigure(
        size_mm,
        tuple(layers.frame),
        PaperPage(
            size_mm,
            shapes=tuple(layers.shapes),
            colours=tuple(layers.patches),
            strokes=tuple(layers.strokes),
        ),
        PaperPage(
            size_mm,
            colours=tuple(layers.swatches),
            outlines=tuple(layers.outlines),
            words=tuple(layers.inside),
        ),
        tuple(layers.spots),
    )


def _heights(room: float, shares: Sequence[float]) -> list[float]:
    """Heights of rows by their shares; one that would be too low takes from the others."""
    heights = [room * share / sum(shares) for share in shares]
    low = [height < _LEAST_ROW for height in heights]
    left = max(room - _LEAST_ROW * sum(low), 0.0)
    high = sum(height for height, is_low in zip(heights, low, strict=True) if not is_low)
    return [
        _LEAST_ROW if is_low else max(left * height / high, _LEAST_ROW)
        for height, is_low in zip(heights, low, strict=True)
    ]


def draw_figure(page: DrawnWithPictures, laid: LaidFigure, words_on: Drawn | None = None) -> None:
    """Draw a figure.

    Parameters
    ----------
    page : Drawn
    laid : LaidFigure
    words_on : Drawn, optional
        Takes the words outside the grounds, where they have another ink.
    """
    for text in laid.frame:
        (words_on or page).text(text.x_mm, text.baseline_mm, text.words, text.points, text.face)
    draw_paper_page(page, laid.under)
    draw_paper_page(page, laid.over)


def figure_pdf(figure: Figure) -> bytes:
    """A figure as the bytes of a PDF, the same for the same figure."""
    page = Page(FILE_MM, figure.title, "sans", srgb=True)
    draw_figure(page, lay_out(figure, FILE_MM))
    return page.to_pdf()


def write_figure_pdf(figure: Figure, out: str | Path) -> None:
    """Write a figure as a PDF.

    Raises
    ------
    DyeshadeError
        ``cannot_write`` (path, reason).
    """
    write_whole(figure_pdf(figure), out)
