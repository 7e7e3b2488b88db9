"""Which colour chart lies in a photo: one whose values are at hand, or a file of values."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSettings, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.measure.chart import Chart
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import tell, told
from dyeshade.window.wording import refusal_words
from dyeshade.work.calibrate import chart_named


class ChartChoice(QWidget):
    """A chart to choose.

    Signals
    -------
    chosen()
        Another chart is named, or none that could be read.
    """

    chosen = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.chart: Chart | None = None
        self.path = ""
        self.which = QComboBox()
        self.which.setAccessibleName(self.tr("Colour chart"))
        self.which.addItem(self.tr("24 patches, made since November 2014"), "24")
        self.which.addItem(self.tr("24 patches, made before that"), "24-before-2014")
        self.which.addItem(self.tr("another, with a file of its values (CGATS.17)"), "")
        self.file = QPushButton(self.tr("Choose the &file of its values…"))
        self.file_name = QLabel()
        self.file_name.setWordWrap(True)
        self.rows, self.columns = QSpinBox(), QSpinBox()
        for box, words in (
            (self.rows, self.tr("Rows of patches")),
            (self.columns, self.tr("Patches in a row")),
        ):
            box.setRange(2, 60)
            box.setAccessibleName(words)
        self.rows.setValue(4)
        self.columns.setValue(6)
        self.grid = QWidget()
        row = QHBoxLayout(self.grid)
        row.setContentsMargins(0, 0, 0, 0)
        for part in (
            self.rows,
            QLabel(self.tr("rows of")),
            self.columns,
            QLabel(self.tr("patches")),
        ):
            row.addWidget(part)
        row.addStretch(1)
        self.told = told(wrong=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        for widget in (self.which, self.file, self.file_name, self.grid, self.told):
            column.addWidget(widget)
        self.which.activated.connect(self._chosen)
        self.file.clicked.connect(self.choose_file)
        for box in (self.rows, self.columns):
            box.valueChanged.connect(self._chosen)
        self._gridless = False
        self._read()

    def choose_file(self) -> None:
        """Ask for the file."""
        settings = QSettings()
        path, _ = QFileDialog.getOpenFileName(
            self,
            self.tr("The chart's published values"),
            str(settings.value("charts", "")),
            self.tr("Values (*.txt *.cgats *.cie *.ti2 *.ti3 *.it8);;All files (*)"),
        )
        if path:
            settings.setValue("charts", str(Path(path).parent))
            self.take_file(path)

    def take_file(self, path: str) -> None:
        """Take a file of values."""
        self.which.setCurrentIndex(self.which.findData(""))
        self.path, self._gridless = path, False
        self._chosen()

    def _chosen(self) -> None:
        self._read()
        self.chosen.emit()

    def _read(self) -> None:
        carried = str(self.which.currentData())
        trouble: list[str] = []
        self.chart = None
        try:
            if carried:
                self.chart = chart_named(carried)
            elif self.path and not self._gridless:
                self.chart = self._from_file()
            elif self.path:
                self.chart = chart_named(self.path, (self.rows.value(), self.columns.value()))
        except DyeshadeError as error:
            trouble = [refusal_words(error)]
        self.file.setVisible(not carried)
        self.file_name.setText(Path(self.path).name)
        self.file_name.setVisible(not carried and bool(self.path))
        self.grid.setVisible(not carried and self._gridless)
        tell(self.told, trouble)

    def _from_file(self) -> Chart:
        try:
            return chart_named(self.path)
        except DyeshadeError as error:
            # From here on the numbers in the fields tell the grid.
            self._gridless = error.code == "chart_grid_unknown"
            raise
