"""A sheet is chosen, looked at and saved; the preview is the page that is printed."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot

from dyeshade.paper.reference_sheet import draw_sheet, sheet_pdf
from dyeshade.sheet.layout import build_layout
from dyeshade.window.main_window import MainWindow
from dyeshade.window.qt_page import QtPage

PX_PER_MM = 4


def test_the_preview_is_the_page_that_is_printed(window: MainWindow) -> None:
    layout = build_layout("A4", "six", True, "K7QF-3M9T")
    wide, high = (round(PX_PER_MM * side) for side in layout.paper_mm)
    picture = QImage(wide, high, QImage.Format.Format_RGB888)
    picture.fill(0xFFFFFF)
    painter = QPainter(picture)
    painter.scale(PX_PER_MM, PX_PER_MM)
    painter.fillRect(QRectF(0, 0, *layout.paper_mm), 0xFFFFFF)
    draw_sheet(QtPage(painter), layout)
    painter.end()
    data = np.frombuffer(picture.constBits(), np.uint8).reshape(high, -1)[:, : 3 * wide]
    seen = data.reshape(high, wide, 3).astype(float)
    with pypdfium2.PdfDocument(sheet_pdf(layout)) as pdf:
        page = pdf[0].render(scale=PX_PER_MM * 25.4 / 72).to_numpy()[:high, :wide, ::-1]
    seen = seen[: page.shape[0], : page.shape[1]]
    for box in (*layout.patches, *layout.colours):
        x, y = (round(PX_PER_MM * value) for value in box.centre)
        assert seen[y, x] == pytest.approx(page[y, x].astype(float), abs=2), box.name
    # Two programs round edges and letters to pixels; an empty page would differ wholly.
    assert np.abs(seen - page).mean() < 0.2 * np.abs(255.0 - page).mean()


def test_a_sheet_is_saved_as_chosen(window: MainWindow, tmp_path: Path) -> None:
    place = window.sheet_place
    place.letter.click()
    place.one.click()
    place.colours.click()
    assert not place.open.isVisibleTo(place)
    place.save_to(tmp_path / "sheet")
    assert place.saved == tmp_path / "sheet.pdf"
    with pypdfium2.PdfDocument(place.saved) as pdf:
        assert pdf[0].get_size() == pytest.approx((612, 792), abs=0.5)
    assert str(place.saved) in place.told.text()
    assert place.open.isVisibleTo(place)
    layout = place.layout_chosen()
    assert (layout.paper, layout.cells_kind, layout.with_colours) == ("Letter", "one", True)
    place.six.click()
    assert not place.open.isVisibleTo(place)


def test_a_sheet_that_cannot_be_saved_says_why(
    window: MainWindow, tmp_path: Path, qtbot: QtBot
) -> None:
    window.sheet_place.save_to(tmp_path / "none" / "sheet.pdf")
    (box,) = window.findChildren(QMessageBox)
    assert "could not be written" in box.text()
    box.close()
    assert window.sheet_place.saved is None


def test_the_start_leads_to_every_place(window: MainWindow) -> None:
    start = window.places["start"]
    start.sheet.click()
    assert window.sheet_place.isVisible()
    window.go("start")
    assert start.isVisible()
    assert not window.measuring_place.isVisible()
