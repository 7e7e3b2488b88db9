"""Pictures from the clipboard, kept as files until they are in the library or put away."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import QDateTime, QStandardPaths
from PySide6.QtGui import QImage


def folder() -> Path:
    """Where pasted pictures lie; made where it is not there."""
    place = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.AppLocalDataLocation)
    path = Path(place) / "pasted"
    path.mkdir(parents=True, exist_ok=True)
    return path


def keep(image: QImage) -> Path:
    """Write a picture into a file of its own, without loss."""
    now = QDateTime.currentDateTime().toString("yyyy-MM-dd HHmmss zzz")
    path = folder() / f"pasted {now}.png"
    image.convertToFormat(QImage.Format.Format_RGB888).save(str(path))
    return path


def forget(paths: Iterable[str]) -> None:
    """Remove pasted pictures that nothing needs any more; files of other places are not touched."""
    for path in map(Path, paths):
        if path.parent == folder():
            path.unlink(missing_ok=True)
