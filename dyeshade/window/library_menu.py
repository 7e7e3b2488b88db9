"""The menu of shade libraries: open one, make one, the one of the invented workshop."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QMenu

from dyeshade.work.library_place import library_folder

if TYPE_CHECKING:
    from dyeshade.window.main_window import MainWindow


class LibraryMenu(QObject):
    """What can be done with libraries as a whole."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self.menu = QMenu(self.tr("Li&brary"), window)
        for words, does in (
            (self.tr("&Open a library…"), self.choose),
            (self.tr("&New library…"), self.make),
            (self.tr("My &own library"), lambda: window.open_library(library_folder(), True)),
            (self.tr("The invented &workshop's library"), window.open_demo),
            (self.tr("Show its &folder"), self.show_folder),
        ):
            action = self.menu.addAction(words)
            action.triggered.connect(lambda _on=False, does=does: does())

    def choose(self) -> None:
        """Ask for the folder of a library, and open it."""
        folder = QFileDialog.getExistingDirectory(
            self._window, self.tr("Open a shade library: choose its folder"), self._near()
        )
        if folder:
            self._window.open_library(Path(folder))

    def make(self) -> None:
        """Ask for a place and a name, and make a library there."""
        folder, _ = QFileDialog.getSaveFileName(
            self._window,
            self.tr("Make a shade library: name its folder"),
            str(Path(self._near()) / self.tr("Shade library 2")),
        )
        if folder:
            self._window.open_library(Path(folder), create=True)

    def show_folder(self) -> None:
        """Show the folder in the desktop's own way; it is moved and copied as a whole."""
        if self._window.desk.library is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._window.desk.library.folder)))

    def _near(self) -> str:
        library = self._window.desk.library
        return str(library_folder().parent if library is None else library.folder.parent)
