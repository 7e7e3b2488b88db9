"""A plot with the words of what is pointed at, and the buttons that save it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QBuffer, QIODevice, QStandardPaths, Qt, Signal
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from dyeshade.paper.plot import Figure
from dyeshade.paper.plot_page import write_figure_pdf
from dyeshade.whole_file import write_whole
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.plot_view import PlotView, figure_picture
from dyeshade.window.presenter import Presenter

PDF, PNG = ".pdf", ".png"


class PlotPanel(QWidget):
    """A plot view with what belongs to it.

    Parameters
    ----------
    desk : LibraryDesk
        Its worker writes the files.
    presenter : Presenter

    Attributes
    ----------
    view : PlotView
    told : QLabel
        What is said of what is pointed at; else how to point.
    saved : Path or None
        The file that was written last.

    Signals
    -------
    reading_wanted(int)
    """

    reading_wanted = Signal(int)

    def __init__(
        self, desk: LibraryDesk, presenter: Presenter, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk, self._presenter = desk, presenter
        self.saved: Path | None = None
        self.view = PlotView()
        self.told = QLabel()
        self.told.setWordWrap(True)
        self.told.setProperty("faint", True)
        self.told.setMinimumHeight(2 * self.fontMetrics().lineSpacing())
        self.told.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.told.setAccessibleName(self.tr("What is pointed at"))
        self.as_pdf = QPushButton(self.tr("Sa&ve the plot as PDF…"))
        self.as_png = QPushButton(self.tr("Save it as P&NG…"))
        foot = QHBoxLayout()
        foot.setSpacing(SPACE // 2)
        foot.addWidget(self.told, 1)
        foot.addWidget(self.as_pdf, 0, Qt.AlignmentFlag.AlignTop)
        foot.addWidget(self.as_png, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(self.view, 1)
        column.addLayout(foot)
        self.view.pointed.connect(self._tell)
        self.view.reading_wanted.connect(self.reading_wanted)
        self.as_pdf.clicked.connect(lambda: self.choose_file(PDF))
        self.as_png.clicked.connect(lambda: self.choose_file(PNG))
        self._tell("")

    def show_figure(self, figure: Figure | None) -> None:
        """Show another figure; the panel hides where there is none."""
        self.view.show_figure(figure)
        self.saved = None
        self.setVisible(figure is not None)

    def choose_file(self, suffix: str) -> None:
        """Ask where the plot goes, and save it there."""
        if self.view.figure is None:
            return
        folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        kind = self.tr("PDF (*.pdf)") if suffix == PDF else self.tr("PNG (*.png)")
        name = "".join(c if c.isalnum() or c in " -_" else " " for c in self.view.figure.title)
        path, _ = QFileDialog.getSaveFileName(
            self,
            self.tr("Save the plot"),
            str(Path(folder) / f"{' '.join(name.split())[:80]}{suffix}"),
            kind,
        )
        if path:
            self.save_to(Path(path), suffix)

    def save_to(self, path: Path, suffix: str) -> None:
        """Save the plot that is shown, with its title and what is said of it."""
        figure = self.view.figure
        assert figure is not None
        if path.suffix.lower() != suffix:
            path = path.with_name(path.name + suffix)
        data = _png(figure) if suffix == PNG else b""

        def write(_library: object) -> None:
            if suffix == PDF:
                write_figure_pdf(figure, path)
            else:
                write_whole(data, path)

        def done(_nothing: object) -> None:
            self.saved = path
            self.told.setText(self.tr("The plot is in {}.").format(path))

        self._desk.ask(write, done, self._presenter.refuse)

    def _tell(self, words: str) -> None:
        self.told.setText(
            words
            or self.tr(
                "Point at a swatch, or walk with the arrow keys, to read it; click it, or press "
                "Enter, to open it in the library."
            )
        )


def _png(figure: Figure) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    figure_picture(figure).save(buffer, "PNG")
    return bytes(buffer.data().data())
