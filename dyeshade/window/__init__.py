"""The window: photos in, shades out, for people who open no terminal."""

from __future__ import annotations

import os
import sys
from pathlib import Path


def main(library: Path | None = None) -> int:
    """Open the window and run until it is closed.

    Parameters
    ----------
    library : Path, optional
        The shade library to open; where None, the one that was open last.

    Returns
    -------
    int
        0, or 1 where there is no display.
    """
    if not has_display():
        print(
            "There is no display to open the window on. These commands work without one: "
            "dyeshade measure PHOTO..., dyeshade sheet --out SHEET.pdf, dyeshade --help.",
            file=sys.stderr,
        )
        return 1
    # Qt is slow to load, and says nothing useful where there is no display.
    from PySide6.QtWidgets import QApplication

    from dyeshade.window import look
    from dyeshade.window.main_window import MainWindow
    from dyeshade.window.which_library import wanted_library

    application = QApplication(sys.argv[:1])
    application.setApplicationName("dyeshade")
    application.setOrganizationName("dyeshade")
    look.put_on(application, look.wanted_look())
    window = MainWindow(library or wanted_library())
    window.presenter.catch_all()
    window.show()
    return int(application.exec())


def has_display() -> bool:
    """Whether there is a display that a window could be opened on."""
    if sys.platform != "linux" or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
