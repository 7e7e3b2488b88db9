"""Which shade library the window opens when nobody names one."""

from __future__ import annotations

import os
from pathlib import Path

from PySide6.QtCore import QSettings

from dyeshade.work.library_place import VARIABLE, library_folder

_KEY = "library"


def wanted_library() -> Path:
    """The library of the environment, else the one that was open last, else the dyer's own."""
    if os.environ.get(VARIABLE, "").strip():
        return library_folder()
    kept = str(QSettings().value(_KEY, ""))
    if kept and Path(kept).exists():
        return Path(kept)
    return library_folder()


def remember(folder: Path) -> None:
    """Open this one next time."""
    QSettings().setValue(_KEY, str(folder))
