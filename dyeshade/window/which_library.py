"""Which shade library the window opens when nobody names one."""

from __future__ import annotations

import os
from pathlib import Path

from PySide6.QtCore import QSettings, QStandardPaths

_KEY = "library"


def wanted_library() -> Path:
    """The library of the environment, else the one that was open last, else the dyer's own."""
    named = os.environ.get("DYESHADE_LIBRARY")
    if named:
        return Path(named)
    kept = str(QSettings().value(_KEY, ""))
    if kept and Path(kept).exists():
        return Path(kept)
    documents = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
    return Path(documents) / "dyeshade library"


def remember(folder: Path) -> None:
    """Open this one next time."""
    QSettings().setValue(_KEY, str(folder))
