"""The place where a reference sheet is chosen, looked at, and saved for printing."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.paper.reference_sheet import draw_sheet
from dyeshade.sheet.layout import Layout, build_layout
from dyeshade.window import printing
from dyeshade.window.look import GROUND, SPACE
from dyeshade.window.presenter import Presenter
from dyeshade.window.qt_page import QtPage
from dyeshade.work.make_sheet import make_sheet


class SheetPreview(QWidget):
    """A sheet's page on mid grey."""

    def __init__(self, layout: Layout, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sheet = layout
        self.setMinimumSize(260, 340)
        self.setAccessibleName(self.tr("Preview of the reference sheet"))

    def show_sheet(self, layout: Layout) -> None:
        """Show another sheet."""
        self._sheet = layout
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for a page."""
        return QSize(520, 700)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the page."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), GROUND)
        wide, high = self._sheet.paper_mm
        room = self.rect().adjusted(2 * SPACE, 2 * SPACE, -2 * SPACE, -2 * SPACE)
        scale = min(room.width() / wide, room.height() / high)
        painter.setRenderHints(
            QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing
        )
        painter.translate(
            room.center().x() - scale * wide / 2, room.center().y() - scale * high / 2
        )
        painter.scale(scale, scale)
        painter.fillRect(QRectF(0, 0, wide, high), Qt.GlobalColor.white)
        draw_sheet(QtPage(painter), self._sheet)
        self.paint_over(painter, self._sheet)
        painter.end()

    def paint_over(self, painter: QPainter, layout: Layout) -> None:
        """Paint something over the page, in mm; nothing here."""


class SheetPlace(QWidget):
    """Paper, cells and colours to choose; a preview; the file to print.

    Parameters
    ----------
    presenter : Presenter

    Signals
    -------
    know_wanted(), list_wanted()
        A printed sheet is to be learnt, or those that are known are to be shown.
    """

    know_wanted = Signal()
    list_wanted = Signal()

    def __init__(self, presenter: Presenter, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._presenter = presenter
        self.saved: Path | None = None
        self.a4 = QRadioButton(self.tr("&A4, 210 × 297 mm"))
        self.letter = QRadioButton(self.tr("&Letter, 8½ × 11 inches"))
        self.six = QRadioButton(self.tr("Si&x cells, for skeins and swatches"))
        self.one = QRadioButton(self.tr("&One large cell, for a cloth or a whole skein"))
        self.colours = QCheckBox(self.tr("&Printed colours around the cells too"))
        self.save = QPushButton(self.tr("&Save the sheet as PDF…"))
        self.save.setProperty("main", True)
        self.open = QPushButton(self.tr("Open &it for printing"))
        self.told = QLabel()
        self.told.setWordWrap(True)
        self.told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.preview = SheetPreview(self.layout_chosen())
        self._build()

    def _build(self) -> None:
        (self.letter if printing.letter_country() else self.a4).setChecked(True)
        self.six.setChecked(True)
        column = QVBoxLayout()
        column.setSpacing(SPACE // 2)
        for words, buttons in (
            (self.tr("Paper"), (self.a4, self.letter)),
            (self.tr("Cells"), (self.six, self.one)),
        ):
            head = QLabel(words)
            head.setProperty("head", True)
            column.addWidget(head)
            group = QButtonGroup(self)
            for button in buttons:
                group.addButton(button)
                column.addWidget(button)
                button.toggled.connect(self._changed)
            column.addSpacing(SPACE)
        column.addWidget(self.colours)
        self.colours.toggled.connect(self._changed)
        column.addSpacing(SPACE)
        help_ = QLabel(
            self.tr(
                "Print at 100 % on matte paper of at least 160 g, with no picture improvements; "
                "black ink alone will do. Then lay a ruler beside the printed one. Never laminate "
                "the sheet. Cells may be cut out, so that it lies over a cloth as a window.\n\n"
                "Each sheet gets a serial number of its own when it is saved."
            )
        )
        help_.setWordWrap(True)
        help_.setProperty("faint", True)
        column.addWidget(help_)
        column.addSpacing(SPACE)
        for widget in (self.save, self.told, self.open):
            column.addWidget(widget)
        column.addSpacing(SPACE)
        head = QLabel(self.tr("A sheet that is printed"))
        head.setProperty("head", True)
        self.know = QPushButton(self.tr("&Get to know it…"))
        self.know.setToolTip(
            self.tr("Learn what this print really reflects, for surer shades in all its photos")
        )
        self.known = QPushButton(self.tr("Cameras and sheets that are &known…"))
        for widget in (head, self.know, self.known):
            column.addWidget(widget)
        self.know.clicked.connect(self.know_wanted)
        self.known.clicked.connect(self.list_wanted)
        column.addStretch(1)
        self.open.hide()
        self.save.clicked.connect(self.choose_file)
        self.open.clicked.connect(self.open_for_printing)
        side = QWidget()
        side.setLayout(column)
        column.setContentsMargins(0, 0, 0, 0)
        side.setFixedWidth(350)
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        row.setSpacing(2 * SPACE)
        row.addWidget(side)
        row.addWidget(self.preview, 1)
        self._changed()

    def layout_chosen(self) -> Layout:
        """The sheet as chosen, without a serial number."""
        return build_layout(*self._choice())

    def choose_file(self) -> None:
        """Ask where the sheet goes, and save it there."""
        title = self.tr("Save the reference sheet")
        path = printing.ask_for_pdf(self, title, self.tr("reference sheet"))
        if path:
            self.save_to(path)

    def save_to(self, path: Path) -> None:
        """Save a sheet with a serial number of its own."""
        path = printing.with_ending(path)
        try:
            layout = make_sheet(*self._choice(), path)
        except DyeshadeError as error:
            self._presenter.refuse(error)
            return
        self.saved = path
        self.preview.show_sheet(layout)
        self.told.setText(
            self.tr("Reference sheet {} is in {}. Print it at 100 %.").format(layout.serial, path)
        )
        self.open.show()

    def open_for_printing(self) -> None:
        """Hand the file to whatever shows PDFs on this computer."""
        if self.saved is None:
            return
        if not printing.open_for_printing(self.saved):
            self.told.setText(
                self.tr(
                    "Nothing on this computer opens PDFs by itself. The sheet is in {}."
                ).format(self.saved)
            )

    def _choice(self) -> tuple[str, str, bool]:
        return (
            "Letter" if self.letter.isChecked() else "A4",
            "one" if self.one.isChecked() else "six",
            self.colours.isChecked(),
        )

    def _changed(self) -> None:
        self.saved = None
        self.told.clear()
        self.open.hide()
        self.preview.show_sheet(self.layout_chosen())
