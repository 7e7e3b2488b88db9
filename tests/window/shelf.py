"""The library place in a window of its own, with the invented workshop's library in it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import QCoreApplication, QEvent, QTimer, qInstallMessageHandler
from PySide6.QtGui import QUndoStack
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication, QDialog, QMainWindow
from pytestqt.qtbot import QtBot

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library, create_library
from dyeshade.window import look
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.library_place import LibraryPlace
from dyeshade.window.presenter import Presenter
from tests.library.workshop import fill

T = TypeVar("T")
PATIENCE_MS = 30_000


class Shelf(QMainWindow):
    """The place, its desk and its undo."""

    def __init__(self, qtbot: QtBot) -> None:
        super().__init__()
        self.qtbot = qtbot
        self.undo = QUndoStack(self)
        self.desk = LibraryDesk(self.undo, self)
        self.presenter = Presenter(self)
        self.refused: list[DyeshadeError] = []
        self.faults: list[BaseException] = []
        self.desk.refused.connect(self.refused.append)
        self.desk.failed.connect(self.faults.append)
        self.dialogs: list[QDialog] = []
        self.place = LibraryPlace(self.desk, self.presenter)
        self.place.jobs.opened.connect(self.dialogs.append)
        self.setCentralWidget(self.place)
        self.resize(1180, 720)

    def settle(self) -> None:
        """Wait until all that was asked has been answered, and the answers' questions as well."""
        for _ in range(2):
            # What was asked before is answered before: the library answers one after the other.
            self.ask(lambda library: None)
            self.qtbot.waitUntil(lambda: not self.place.busy, timeout=PATIENCE_MS)

    def ask(self, question: Callable[[Library], T]) -> T:
        """What the library says."""
        told: list[T] = []
        self.desk.ask(question, told.append)
        self.qtbot.waitUntil(lambda: bool(told), timeout=PATIENCE_MS)
        return told[0]

    def dialog(self, does: Callable[[], object]) -> QDialog:
        """The form that something opens."""
        self.dialogs.clear()
        does()
        self.qtbot.waitUntil(lambda: bool(self.dialogs), timeout=PATIENCE_MS)
        return self.dialogs[0]

    def codes(self) -> list[str]:
        """Codes of the pieces, a shade each, in the order shown."""
        return [one.history.piece.code for one in self.place.shades.model.shades]

    def row(self, code: str) -> int:
        """The line of a piece's first shown shade."""
        return self.codes().index(code)


def shelf_with(
    qtbot: QtBot,
    qapp: QApplication,
    folder: Path,
    filling: Callable[[Library], object] = fill,
) -> Iterator[Shelf]:
    """An open window with a library; complaints, timers and threads left over fail the test."""
    complaints: list[str] = []
    qInstallMessageHandler(lambda kind, where, text: complaints.append(text))
    before = set(threading.enumerate())
    with create_library(folder) as library:
        filling(library)
    look.put_on(qapp, "light")
    shelf = Shelf(qtbot)
    place = shelf.place
    for model in (place.shades.model, place.pieces.model, place.baths.model):
        QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal, shelf)
    shelf.show()
    shelf.desk.open(folder)
    qtbot.waitUntil(lambda: shelf.desk.library is not None, timeout=PATIENCE_MS)
    shelf.settle()
    yield shelf
    place.let_go()
    shelf.close()
    shelf.desk.close()
    qapp.processEvents()
    running = [timer for timer in shelf.findChildren(QTimer) if timer.isActive()]
    qInstallMessageHandler(None)
    assert not running
    assert not shelf.faults
    for thread in set(threading.enumerate()) - before:
        thread.join(10)
        assert not thread.is_alive()
    # The screenless plugin says of itself what it cannot do; that is no fault of the window.
    assert not [text for text in complaints if "propagateSizeHints" not in text]
    shelf.deleteLater()
    # At once, so that the next look is not put on this window too.
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
