"""The window measures what the command line measures, and says the same."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, qInstallMessageHandler
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication

from dyeshade import window as window_room
from dyeshade.cli import main
from dyeshade.window.main_window import MainWindow
from dyeshade.window.readings_table import MIND, SAMPLE, SHADE, SURE

EXAMPLES = Path(__file__).parents[2] / "example_images"


@pytest.fixture
def window() -> Iterator[MainWindow]:
    """An open window; anything that Qt complains of fails the test."""
    application = QApplication.instance() or QApplication([])
    assert isinstance(application, QApplication)
    complaints: list[str] = []
    qInstallMessageHandler(lambda kind, where, text: complaints.append(text))
    opened = MainWindow()
    QAbstractItemModelTester(
        opened.table, QAbstractItemModelTester.FailureReportingMode.Fatal, opened
    )
    opened.show()
    yield opened
    opened.close()
    application.processEvents()
    qInstallMessageHandler(None)
    # The screenless plugin says of itself what it cannot do; that is no fault of the window.
    assert not [text for text in complaints if "propagateSizeHints" not in text]


def measured(window: MainWindow, paths: list[str]) -> None:
    window.measure(paths)
    until = time.monotonic() + 60
    while not window.open_action.isEnabled():
        QApplication.processEvents()
        time.sleep(0.01)
        assert time.monotonic() < until, "measuring never ended"


def shown(window: MainWindow, row: int, column: int) -> str:
    return str(window.table.data(window.table.index(row, column), Qt.ItemDataRole.DisplayRole))


def test_numbers_are_those_of_the_command_line(
    window: MainWindow, capsys: pytest.CaptureFixture[str]
) -> None:
    photo = str(EXAMPLES / "hw27_1_dry.jpg")
    measured(window, [photo])
    assert main(["measure", photo, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["samples"]
    assert window.table.rowCount() == len(told)
    for row, sample in enumerate(told):
        assert shown(window, row, SAMPLE) == sample["name"]
        values = "L* {:.1f}, a* {:.1f}, b* {:.1f}".format(*sample["lab"])
        assert shown(window, row, SHADE) == values
        assert shown(window, row, SURE).startswith("about ")


def test_a_refused_photo_says_why(window: MainWindow) -> None:
    measured(window, [str(EXAMPLES / "refused" / "too_blurred.jpg")])
    assert window.table.rowCount() == 1
    assert "blurred" in shown(window, 0, MIND)


def test_without_a_display_it_names_the_commands_that_work(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for variable in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(variable, raising=False)
    monkeypatch.setattr("sys.platform", "linux")
    assert window_room.main() == 1
    assert "dyeshade measure" in capsys.readouterr().err
