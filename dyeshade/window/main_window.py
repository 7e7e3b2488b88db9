"""The main window: open or drop photos, see the shades, print a reference sheet."""

from __future__ import annotations

import traceback
from pathlib import Path

from PySide6.QtCore import Qt, QUrl, Slot
from PySide6.QtGui import (
    QAction,
    QCloseEvent,
    QDesktopServices,
    QDragEnterEvent,
    QDropEvent,
    QKeySequence,
)
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHeaderView,
    QLabel,
    QMainWindow,
    QMessageBox,
    QProgressBar,
    QTableView,
    QToolBar,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.window.measuring import Measuring
from dyeshade.window.readings_table import MIND, SWATCH, ReadingsTable
from dyeshade.words.lights import LIGHTS
from dyeshade.words.refusals import refusal_text
from dyeshade.work.make_sheet import make_sheet

# Mid grey, L* 50, the same in light and dark: a swatch looks other on every other ground.
_GROUND = "#777777"


class MainWindow(QMainWindow):
    """Photos in, shades out.

    Attributes
    ----------
    table : ReadingsTable
    measuring : Measuring
    """

    def __init__(self) -> None:
        super().__init__()
        self.setWindowTitle("dyeshade")
        self.resize(1080, 640)
        self.setAcceptDrops(True)
        self.table = ReadingsTable(self)
        self.measuring = Measuring(self)
        self.measuring.photo_done.connect(self.table.add)
        self.measuring.progressed.connect(self._progressed)
        self.measuring.finished.connect(self._finished)
        self.measuring.failed.connect(self._failed)
        self._build_bar()
        self._build_middle()

    def _build_bar(self) -> None:
        bar = QToolBar(self.tr("What to do"), self)
        bar.setMovable(False)
        self.addToolBar(bar)
        self.open_action = self._action(
            self.tr("&Measure photos…"), QKeySequence.StandardKey.Open, self.choose_photos
        )
        self.stop_action = self._action(
            self.tr("&Stop"), QKeySequence(Qt.Key.Key_Escape), self.measuring.cancel
        )
        self.stop_action.setEnabled(False)
        self.sheet_action = self._action(
            self.tr("New reference &sheet…"), QKeySequence.StandardKey.New, self.new_sheet
        )
        self.light = QComboBox()
        self.light.setAccessibleName(self.tr("Light the photos were taken in"))
        self.light.addItem(self.tr("light: not named"), None)
        for kind, words in LIGHTS.items():
            self.light.addItem(words, kind)
        bar.addAction(self.open_action)
        bar.addWidget(self.light)
        bar.addAction(self.stop_action)
        bar.addSeparator()
        bar.addAction(self.sheet_action)

    def _action(
        self, words: str, key: QKeySequence | QKeySequence.StandardKey, does: object
    ) -> QAction:
        action = QAction(words, self)
        action.setShortcut(key)
        action.triggered.connect(does)
        return action

    def _build_middle(self) -> None:
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(12, 12, 12, 12)
        self.first_steps = QLabel(
            self.tr(
                "Print a reference sheet at 100 %, lay dry, opaque pieces in its cells, and take "
                "one photo by a window with the lamps off. Then measure it, or drop it here."
            )
        )
        self.first_steps.setWordWrap(True)
        self.view = QTableView()
        self.view.setAccessibleName(self.tr("Measured samples"))
        self.view.setModel(self.table)
        self.view.setWordWrap(True)
        self.view.setAlternatingRowColors(False)
        self.view.setSelectionBehavior(QTableView.SelectionBehavior.SelectRows)
        self.view.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.view.verticalHeader().hide()
        head = self.view.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(MIND, QHeaderView.ResizeMode.Stretch)
        head.setSectionResizeMode(SWATCH, QHeaderView.ResizeMode.Fixed)
        self.view.setColumnWidth(SWATCH, 96)
        self.view.setStyleSheet(
            f"QTableView {{ background: {_GROUND}; color: white; gridline-color: {_GROUND}; }}"
            "QTableView::item { padding: 6px; }"
        )
        self.progress = QProgressBar()
        self.progress.hide()
        for widget in (self.first_steps, self.view, self.progress):
            column.addWidget(widget)
        self.setCentralWidget(middle)

    def choose_photos(self) -> None:
        """Ask for photos and measure them."""
        paths, _ = QFileDialog.getOpenFileNames(
            self, self.tr("Measure photos"), "", self.tr("Photos (*.jpg *.jpeg *.png *.tif *.tiff)")
        )
        self.measure(paths)

    def measure(self, paths: list[str]) -> None:
        """Measure photos in the chosen light."""
        if paths and self.open_action.isEnabled():
            self.open_action.setEnabled(False)
            self.stop_action.setEnabled(True)
            self.progress.show()
            self.measuring.start(paths, self.light.currentData())

    def new_sheet(self) -> None:
        """Ask where a new sheet goes, write it and open it for printing."""
        path, chosen = QFileDialog.getSaveFileName(
            self,
            self.tr("New reference sheet with six cells"),
            "sheet.pdf",
            self.tr("A4 (*.pdf);;Letter (*.pdf)"),
        )
        if not path:
            return
        try:
            make_sheet("Letter" if chosen.startswith("Letter") else "A4", "six", False, path)
        except DyeshadeError as error:
            QMessageBox.warning(self, "dyeshade", refusal_text(error))
            return
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(Path(path).resolve())))

    @Slot(int, int)
    def _progressed(self, done: int, of: int) -> None:
        self.progress.setRange(0, of)
        self.progress.setValue(done)

    @Slot()
    def _finished(self) -> None:
        self.progress.hide()
        self.stop_action.setEnabled(False)
        self.open_action.setEnabled(True)

    @Slot(object)
    def _failed(self, fault: Exception) -> None:
        box = QMessageBox(self)
        box.setText(self.tr("dyeshade made a mistake. The report tells its makers where."))
        box.setDetailedText("".join(traceback.format_exception(fault)))
        box.exec()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802
        """Take files that are dragged over the window."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802
        """Measure the photos that were dropped."""
        urls = event.mimeData().urls()
        self.measure([url.toLocalFile() for url in urls if url.isLocalFile()])

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Let go of the photo in hand, then close."""
        self.measuring.close()
        super().closeEvent(event)
