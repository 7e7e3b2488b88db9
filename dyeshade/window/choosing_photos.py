"""Asks which photos are meant, beginning where the last ones were."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QSettings
from PySide6.QtWidgets import QFileDialog, QWidget

_FOLDER = "folder"
_ENDINGS = (
    "*.jpg *.jpeg *.heic *.heif *.png *.tif *.tiff *.dng *.cr2 *.cr3 *.nef "
    "*.arw *.raf *.orf *.rw2 *.pef *.srw"
)


def choose_photo(above: QWidget, title: str) -> str:
    """Ask for one photo; "" where none was chosen."""
    path, _ = QFileDialog.getOpenFileName(above, title, _last_folder(), _kinds())
    _remember(path)
    return path


def choose_photos(above: QWidget, title: str) -> list[str]:
    """Ask for photos; none where none were chosen."""
    paths, _ = QFileDialog.getOpenFileNames(above, title, _last_folder(), _kinds())
    _remember(paths[0] if paths else "")
    return paths


def _kinds() -> str:
    photos = QCoreApplication.translate("ChoosingPhotos", "Photos ({})").format(_ENDINGS)
    return photos + QCoreApplication.translate("ChoosingPhotos", ";;All files (*)")


def _last_folder() -> str:
    return str(QSettings().value(_FOLDER, ""))


def _remember(path: str) -> None:
    if path:
        QSettings().setValue(_FOLDER, str(Path(path).parent))
