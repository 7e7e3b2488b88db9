"""The place of the bath in a window of its own, for the tests; a library of no bath yet."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QSettings, QTimer, qInstallMessageHandler
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QApplication, QMainWindow, QWidget
from pytestqt.qtbot import QtBot

from dyeshade.library.library import create_library
from dyeshade.window import look
from dyeshade.window.bath_place import BathPlace
from dyeshade.window.bath_rows import BathRow
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.presenter import Presenter

PATIENCE_S = 30.0


class Room:
    """The place in a window of its own, with a desk and a stack of undo."""

    def __init__(self, bot: QtBot, folder: Path) -> None:
        self.bot = bot
        self.undo = QUndoStack()
        self.desk = LibraryDesk(self.undo)
        self.window = QMainWindow()
        self.faults: list[object] = []
        self.refusals: list[object] = []
        self.desk.failed.connect(self.faults.append)
        self.desk.refused.connect(self.refusals.append)
        self.place = BathPlace(self.desk, Presenter(self.window))
        self.window.setCentralWidget(self.place)
        self.window.resize(1100, 760)
        self.window.show()
        self.desk.open(folder)
        self.until(lambda: bool(self.place.bathing.typed.code))

    def until(self, what) -> None:
        # The worker's thread gets its turn while this one sleeps.
        end = time.monotonic() + PATIENCE_S
        while not what():
            assert time.monotonic() < end
            QApplication.processEvents()
            time.sleep(0.002)
        assert not self.faults

    def settle(self) -> None:
        """Wait until the library has answered all that was asked."""
        for _ in range(3):
            answered: list[object] = []
            self.desk.ask(lambda library: 0, answered.append)
            self.until(lambda answered=answered: bool(answered))

    def row(self, rows, place: int, **texts: str) -> None:
        while len(rows.rows) <= place:
            rows.add.click()
        row = cast(BathRow, rows.rows[place])
        for name, text in texts.items():
            row.named[name].setText(text)

    def plan_weld(self) -> None:
        amounts = self.place.amounts
        self.row(amounts.pieces, 0, fibre="wool", weight="1 lb 4 oz")
        self.row(amounts.pieces, 1, code="S-009", fibre="silk", weight="120 g")
        self.row(amounts.dyes, 0, name="weld", ratio="two to one")
        self.row(amounts.substances, 0, name="alum", share="15 %")

    def keep(self) -> None:
        before = self.undo.count()
        self.place.keep.click()
        self.until(lambda: self.undo.count() > before)
        self.settle()

    def library(self, question):
        told: list[object] = []
        self.desk.ask(question, told.append)
        self.until(lambda: bool(told))
        return told[0]

    def forget(self) -> None:
        """Let the window go at once: a look put on later would be put on it too."""
        self.window.deleteLater()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)

    def close(self) -> None:
        self.window.hide()
        self.place.let_go()
        self.desk.close()


@pytest.fixture
def look_on(qapp: QApplication, tmp_path: Path) -> Iterator[None]:
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path))
    look.put_on(qapp, "light")
    complaints: list[str] = []
    qInstallMessageHandler(lambda kind, where, text: complaints.append(text))
    before = set(threading.enumerate())
    yield
    qInstallMessageHandler(None)
    for thread in set(threading.enumerate()) - before:
        thread.join(20)
        assert not thread.is_alive()
    assert not [text for text in complaints if "propagateSizeHints" not in text]


@pytest.fixture
def room(look_on: None, qtbot: QtBot, tmp_path: Path) -> Iterator[Room]:
    create_library(tmp_path / "shades").close()
    made = Room(qtbot, tmp_path / "shades")
    yield made
    made.close()
    assert not [timer for timer in made.window.findChildren(QTimer) if timer.isActive()]
    made.forget()


def shown(place: QWidget) -> str:
    """All that stands there."""
    QApplication.processEvents()
    labels = place.findChildren(QWidget)
    return " ".join(str(one.text()) for one in labels if hasattr(one, "text") and one.isVisible())
