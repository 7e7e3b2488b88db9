"""Opens the dialogs that learn a camera or a sheet, and the list of those that are known."""

from __future__ import annotations

from PySide6.QtCore import QObject, Slot
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QWidget

from dyeshade.window.know_camera import KnowCamera
from dyeshade.window.know_sheet import KnowSheet
from dyeshade.window.known_calibrations import KnownCalibrations
from dyeshade.window.known_list import KnownList
from dyeshade.window.learning_dialog import LearningDialog
from dyeshade.window.library_desk import LibraryDesk


class Knowing(QObject):
    """Holds the list and the dialog that is open.

    Parameters
    ----------
    desk : LibraryDesk
    known : KnownCalibrations
    undo : QUndoStack
    above : QWidget
        The window that they belong to.
    """

    def __init__(
        self, desk: LibraryDesk, known: KnownCalibrations, undo: QUndoStack, above: QWidget
    ) -> None:
        super().__init__(above)
        self._desk, self._known, self._undo, self._above = desk, known, undo, above
        self.list: KnownList | None = None
        self.dialog: LearningDialog | None = None

    @Slot()
    def show_list(self) -> None:
        """Show the list, which stays beside the window."""
        if self.list is None:
            self.list = KnownList(self._desk, self._undo, self._above)
            self.list.camera_wanted.connect(self.know_camera)
            self.list.sheet_wanted.connect(self.know_sheet)
        if self.list.isVisible():
            self.list.raise_()
        self.list.show()
        self.list.activateWindow()

    @Slot()
    def know_camera(self) -> None:
        """Get to know a camera."""
        self._open(KnowCamera(self._desk, self._over()))

    @Slot()
    def know_sheet(self) -> None:
        """Get to know a printed sheet."""
        self._open(KnowSheet(self._desk, self._known, self._over()))

    def close(self) -> None:
        """Close all that is open, and wait until the photo in hand is let go."""
        if self.dialog is not None:
            self.dialog.leave()
        if self.list is not None:
            self.list.close()

    def _over(self) -> QWidget:
        shown = self.list is not None and self.list.isVisible()
        return self.list if shown and self.list is not None else self._above

    def _open(self, dialog: LearningDialog) -> None:
        self.dialog = dialog
        dialog.finished.connect(self._closed)
        dialog.open()

    @Slot()
    def _closed(self) -> None:
        self.dialog = None
