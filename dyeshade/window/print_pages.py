"""Laid-out pages sent to a printer at exact size, by the instructions that draw preview and PDF."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from PySide6.QtCore import QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QWidget

from dyeshade.window.qt_page import QtPage

P = TypeVar("P")
_INCH_MM = 25.4


def printer_for(paper_mm: tuple[float, float], title: str, two_sided: bool = False) -> QPrinter:
    """A printer that takes whole pages of a size, to their edges.

    Parameters
    ----------
    paper_mm : tuple of (float, float)
    title : str
        What the job is called.
    two_sided : bool
        Whether every second page stands on the back, turned over the long edge.
    """
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    size = QPageSize(QSizeF(*paper_mm), QPageSize.Unit.Millimeter)
    printer.setPageSize(size)
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    # Lengths are from the paper's edge; what a printer cannot reach is white on all our pages.
    printer.setFullPage(True)
    printer.setDocName(title)
    sides = QPrinter.DuplexMode
    printer.setDuplex(sides.DuplexLongSide if two_sided else sides.DuplexNone)
    return printer


def paint_pages(printer: QPrinter, pages: Sequence[P], draw: Callable[[QtPage, P], None]) -> bool:
    """Draw pages on a printer; False where it takes none.

    Parameters
    ----------
    printer : QPrinter
    pages : sequence
    draw : callable
        Draws one of them.
    """
    painter = QPainter()
    if not painter.begin(printer):
        return False
    dots = printer.resolution() / _INCH_MM
    for number, page in enumerate(pages):
        if number:
            printer.newPage()
        painter.save()
        painter.scale(dots, dots)
        draw(QtPage(painter), page)
        painter.restore()
    return painter.end()


def ask_and_print(
    above: QWidget, printer: QPrinter, pages: Sequence[P], draw: Callable[[QtPage, P], None]
) -> bool | None:
    """Ask for a printer and print; None where the person thinks better of it."""
    dialog = QPrintDialog(printer, above)
    if dialog.exec() != QDialog.DialogCode.Accepted:
        return None
    return paint_pages(printer, pages, draw)
