"""The reference sheet's page, to be printed at 100 %."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from reportlab.graphics.barcode import qrencoder

from dyeshade.paper.codes import runs
from dyeshade.paper.page import CAP_HEIGHT, POINT_MM, Drawn, Page, Rect
from dyeshade.paper.patch_colours import PATCH_COLOURS
from dyeshade.photo.vision import cv2
from dyeshade.sheet.layout import Box, Layout, Mark, print_value
from dyeshade.whole_file import write_whole

# One size for all that is read once, one for the two things that are looked for.
_SMALL_PT: Final = 6.5
_LARGE_PT: Final = 12.0
_LEADING_MM: Final = 3.4
_HAIR_MM: Final = 0.15

# Round letters reach this far above capitals and below the baseline.
_OVERSHOOT_MM: Final = 0.15

# The cut line is for scissors to follow; lighter than black, what is left of it shadows nothing.
_CUT_GREY: Final = 0.5

_USE: Final = {
    "six": "Pieces dry, opaque, flat, one to a cell; or cut cells out and lay the sheet on cloth.",
    "one": "The piece dry, opaque, flat in the cell; or cut it out and lay the sheet on cloth.",
}
_HELP: Final = (
    "Paper: matte, from 160 g, never laminated; clipped flat on a white backing.",
    "Photo: one window, lamps off, no sun; from 60 cm or more, the whole sheet in view.",
)
_RULER_WORDS: Final = "If this is not 100 mm, print at 100 %."


def write_sheet_pdf(layout: Layout, out: str | Path) -> None:
    """Write a sheet's page as a PDF of exact size.

    Parameters
    ----------
    layout : Layout
        Without a serial, the places of number and code stay empty.
    out : str or Path
        An older file there is replaced once the new one is whole.

    Raises
    ------
    DyeshadeError
        ``cannot_write`` (path, reason).
    """
    write_whole(sheet_pdf(layout), out)


def sheet_pdf(layout: Layout) -> bytes:
    """A sheet's page as the bytes of a PDF.

    Parameters
    ----------
    layout : Layout

    Returns
    -------
    bytes
        The same for the same layout.
    """
    page = Page(layout.paper_mm, f"dyeshade reference sheet {layout.serial}".strip())
    draw_sheet(page, layout)
    return page.to_pdf()


def draw_sheet(page: Drawn, layout: Layout) -> None:
    """Draw a sheet on a page of any kind.

    Parameters
    ----------
    page : Drawn
    layout : Layout
        Without a serial, the places of number and code stay empty.
    """
    for cell in layout.cells:
        page.outline(_rect(cell), _CUT_GREY, _HAIR_MM)
    for grey in layout.patches:
        page.fill([_rect(grey)], print_value(grey.reflectance))
    if layout.colours:
        for colour, rgb in zip(layout.colours, PATCH_COLOURS, strict=True):
            page.fill_rgb(_rect(colour), rgb)
    for mark in layout.marks:
        page.fill(_mark_modules(mark), 0.0)
    if layout.serial:
        page.fill(_code_modules(layout.serial_code, layout.serial), 0.0)
    _write_texts(page, layout)


def _rect(box: Box) -> Rect:
    return box.x_mm, box.y_mm, box.w_mm, box.h_mm


def _mark_modules(mark: Mark) -> Iterator[Rect]:
    book = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_1000)
    modules = 7
    picture = cv2.aruco.generateImageMarker(book, mark.ident, modules)
    return runs((picture == 0).tolist(), mark.x_mm, mark.y_mm, mark.size_mm / modules)


def _code_modules(box: Box, serial: str) -> Iterator[Rect]:
    """A QR code of version 1 at its highest level of repair (ISO/IEC 18004)."""
    code = qrencoder.QRCode(1, qrencoder.QRErrorCorrectLevel.H)
    code.addData(serial)
    code.make()
    count = code.getModuleCount()
    dark = [[bool(code.isDark(row, column)) for column in range(count)] for row in range(count)]
    return runs(dark, box.x_mm, box.y_mm, box.w_mm / count)


def _write_texts(page: Drawn, layout: Layout) -> None:
    place = {box.name: box for box in layout.texts}
    left, large_base = place["title"].x_mm, place["title"].y_mm + 3.6
    width = page.text(left, large_base, "dyeshade", _LARGE_PT, "bold")
    page.text(left + width + 1.5, large_base, "reference sheet", _LARGE_PT)

    date = place["date"]
    width = page.text(date.x_mm, large_base, "Date", _SMALL_PT)
    page.line(date.x_mm + width + 1.2, large_base, date.x_mm + date.w_mm, large_base, _HAIR_MM)

    serial = place["serial"]
    page.text(serial.x_mm + serial.w_mm, large_base, layout.serial, _LARGE_PT, "bold", "right")

    use = place["use"]
    page.text(use.x_mm, _first_base(use), _USE[layout.cells_kind], _SMALL_PT)
    help_ = place["help"]
    for number, words in enumerate(_HELP):
        page.text(help_.x_mm, _first_base(help_) + number * _LEADING_MM, words, _SMALL_PT)
    _draw_ruler(page, place["ruler"])
    for cell in layout.cells:
        label = place[f"label-{cell.name}"]
        points = (label.h_mm - 2 * _OVERSHOOT_MM) / CAP_HEIGHT / POINT_MM
        base = label.y_mm + label.h_mm - _OVERSHOOT_MM
        page.text(label.centre[0], base, cell.name, points, anchor="middle")


def _first_base(box: Box) -> float:
    """Baseline of the first small line whose capitals touch the box's upper edge."""
    return box.y_mm + CAP_HEIGHT * _SMALL_PT * POINT_MM


def _draw_ruler(page: Drawn, box: Box) -> None:
    # A descender hangs 0.24 of the size below the baseline, and stays inside the box.
    zero, base = box.x_mm + 1.0, box.y_mm + box.h_mm - 0.6
    line = box.y_mm + 0.8
    page.line(zero, line, zero + 100.0, line, _HAIR_MM)
    for tick in range(101):
        length = 3.2 if tick % 10 == 0 else 2.2 if tick % 5 == 0 else 1.2
        page.line(zero + tick, line, zero + tick, line + length, _HAIR_MM)
    page.text(zero, base, "0", _SMALL_PT, anchor="middle")
    page.text(zero + 50.0, base, _RULER_WORDS, _SMALL_PT, anchor="middle")
    page.text(zero + 100.0, base, "100", _SMALL_PT, anchor="middle")
