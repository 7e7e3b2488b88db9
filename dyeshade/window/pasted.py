"""Photos that are pasted or dropped; pictures among them are kept as files until put away."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import QDateTime, QMimeData, QStandardPaths
from PySide6.QtGui import QImage


def folder() -> Path:
    """Where pasted pictures lie; made where it is not there."""
    place = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.AppLocalDataLocation)
    path = Path(place) / "pasted"
    path.mkdir(parents=True, exist_ok=True)
    return path


def photos_in(data: QMimeData) -> list[str]:
    """Files that were pasted or dropped; a picture becomes one of its own."""
    paths = [url.toLocalFile() for url in data.urls() if url.isLocalFile()]
    if paths or not data.hasImage():
        return paths
    image = data.imageData()
    return [str(keep(image))] if isinstance(image, QImage) and not image.isNull() else []


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
