"""What hands do in the window."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from dyeshade.window.main_window import MainWindow

LEFT = Qt.MouseButton.LeftButton
PATIENCE_MS = 60_000


def settled(window: MainWindow, qtbot: QtBot) -> None:
    """Wait until nothing is on its way."""
    qtbot.waitUntil(lambda: not window.measuring.busy, timeout=PATIENCE_MS)


def opened(window: MainWindow, qtbot: QtBot, paths: list[str]) -> None:
    """Measure photos and wait."""
    window.measure(paths)
    settled(window, qtbot)


def changed(
    window: MainWindow, qtbot: QtBot, do: Callable[[], object], measured: bool = True
) -> None:
    """Do something that can be undone, and wait until it is measured as well."""
    before = window.undo.index()
    do()
    qtbot.waitUntil(lambda: window.undo.index() != before, timeout=PATIENCE_MS)
    if measured:
        settled(window, qtbot)


def drag(window: MainWindow, start: np.ndarray, end: np.ndarray) -> None:
    """Drag over the photo from one of its pixels to another."""
    view = window.measuring_place.panel.view
    first, last = (view.mapFromScene(float(x), float(y)) for x, y in (start, end))
    port = view.viewport()
    QTest.mousePress(port, LEFT, Qt.KeyboardModifier.NoModifier, first)
    for share in (0.5, 1.0):
        between = QPoint(
            round(first.x() + share * (last.x() - first.x())),
            round(first.y() + share * (last.y() - first.y())),
        )
        QTest.mouseMove(port, between)
    QTest.mouseRelease(port, LEFT, Qt.KeyboardModifier.NoModifier, last)


def names(window: MainWindow) -> list[str]:
    """Names of the listed samples."""
    return [entry.name for entry in window.measuring_place.samples.entries]
