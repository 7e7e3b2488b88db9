"""An open window without a screen; what Qt complains of, and what is left running, fails a test."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QSettings, QTimer, qInstallMessageHandler
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from dyeshade.measure.calibrations import Calibrations
from dyeshade.window import look
from dyeshade.window.main_window import MainWindow
from dyeshade.work.look_at_photos import Asked, PhotoLook, look_at
from dyeshade.work.side_by_side import Warm
from tests.measured_once import once
from tests.window.bath_window import look_on, room
from tests.window.drive import opened

__all__ = ["look_on", "room"]

EXAMPLES = Path(__file__).parents[2] / "example_images"
DRY, VINEGAR = str(EXAMPLES / "hw27_1_dry.jpg"), str(EXAMPLES / "hw27_2_vinegar.jpg")


@pytest.fixture
def window(
    qtbot: QtBot, qapp: QApplication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[MainWindow]:
    """The main window, as after the program's start, with settings of its own."""
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path))
    qapp.setOrganizationName("dyeshade tests")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    complaints: list[str] = []
    qInstallMessageHandler(lambda kind, where, text: complaints.append(text))
    before = set(threading.enumerate())
    look.put_on(qapp, "light")
    shown = MainWindow(tmp_path / "library")
    for model in (shown.measuring.photos, shown.measuring_place.samples):
        QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal, shown)
    shown.show()
    yield shown
    shown.close()
    qapp.processEvents()
    running = [timer for timer in shown.findChildren(QTimer) if timer.isActive()]
    qInstallMessageHandler(None)
    assert not running
    for thread in set(threading.enumerate()) - before:
        # A process that is let go takes its thread along a little later.
        thread.join(60)
        assert not thread.is_alive()
    # The screenless plugin says of itself what it cannot do; that is no fault of the window.
    assert not [text for text in complaints if "propagateSizeHints" not in text]
    # At once: the next window's look would be put on this one too, and on all before it.
    for left in qapp.topLevelWidgets():
        if isinstance(left, MainWindow):
            left.deleteLater()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


@pytest.fixture
def remembering(
    monkeypatch: pytest.MonkeyPatch, measured_before: Path, photos_measured_once: None
) -> None:
    """Photos are measured in this process, and each of them as asked once in a run of the tests.

    That the window has them measured in other processes is for the tests without this.
    """

    def looked_at(
        asked: Sequence[Asked],
        workers: int | None,
        progress: Callable[[int, int], None],
        warm: Warm,
        known: Calibrations,
    ) -> Iterator[PhotoLook]:
        progress(0, len(asked))
        for done, one in enumerate(asked, 1):
            measure = partial(look_at, one, known)
            look_found = once(measured_before, (one, known), one.path, measure)
            progress(done, len(asked))
            yield replace(look_found, asked=one)

    monkeypatch.setattr("dyeshade.window.measuring.look_at_photos", looked_at)
    # No test with this looks at the pictures' pixels closely, and they take most of the time.
    monkeypatch.setattr("dyeshade.work.look_at_photos.LONGEST_PX", 900)


@pytest.fixture
def measured(remembering: None, window: MainWindow, qtbot: QtBot) -> MainWindow:
    """The window with a photo of one piece in it."""
    opened(window, qtbot, [VINEGAR])
    return window
