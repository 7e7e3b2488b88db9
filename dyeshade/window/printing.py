"""What leaves the window for the printer: where PDFs go, opening them, the paper usual here."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QLocale, QStandardPaths, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QWidget


def ask_for_pdf(above: QWidget, title: str, name: str) -> Path | None:
    """Ask where a PDF goes; None where the person thinks better of it.

    Parameters
    ----------
    above : QWidget
    title : str
        Of the dialog.
    name : str
        Proposed for the file, without its ending.
    """
    folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
    kind = QCoreApplication.translate("Printing", "PDF (*.pdf)")
    path, _ = QFileDialog.getSaveFileName(above, title, str(Path(folder) / f"{name}.pdf"), kind)
    return Path(path) if path else None


def with_ending(path: Path) -> Path:
    """The path, with the ending that was left out."""
    return path if path.suffix.lower() == ".pdf" else path.with_name(path.name + ".pdf")


def open_for_printing(path: Path) -> bool:
    """Hand a file to whatever shows PDFs on this computer; False where nothing does."""
    return QDesktopServices.openUrl(QUrl.fromLocalFile(str(path.resolve())))


def letter_country() -> bool:
    """Whether Letter is the usual paper where this computer stands."""
    return QLocale.system().measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem
