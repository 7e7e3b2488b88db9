"""What is said of samples is kept with one key; what is not saved comes back."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot

from dyeshade.cli import main
from dyeshade.errors import DyeshadeError
from dyeshade.library.find import FoundShade, find_shades
from dyeshade.library.library import Library, open_library, open_or_create
from dyeshade.window import library_desk
from dyeshade.window.bath_editor import BathEditor
from dyeshade.window.main_window import MainWindow
from dyeshade.work.said import SaidBath, SaidDye
from tests.window.conftest import EXAMPLES, VINEGAR
from tests.window.drive import PATIENCE_MS, opened, settled

SIX = str(EXAMPLES / "ph_series_wool.jpg")


def typed(qtbot: QtBot, field: object, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Escape)


def shades(window: MainWindow, qtbot: QtBot) -> list[FoundShade]:
    told: list[list[FoundShade]] = []
    window.desk.ask(find_shades, told.append)
    qtbot.waitUntil(lambda: bool(told), timeout=PATIENCE_MS)
    return told[0]


def saved(window: MainWindow, qtbot: QtBot) -> None:
    with qtbot.waitSignal(window.assigning.kept, timeout=PATIENCE_MS):
        QTest.keyClick(window, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    asked(window, qtbot)


def asked(window: MainWindow, qtbot: QtBot) -> None:
    """Wait until the library has answered all that it was asked so far."""
    shades(window, qtbot)


def said_something(window: MainWindow, qtbot: QtBot) -> None:
    assign = window.measuring_place.assign
    typed(qtbot, assign.piece, "HW-27")
    typed(qtbot, assign.fibre, "wool")
    typed(qtbot, assign.mordant, "alum")
    typed(qtbot, assign.percent, "12,5")
    typed(qtbot, assign.bath, "bath-003")


def test_one_key_saves_and_the_library_holds_what_the_command_line_says(
    measured: MainWindow, qtbot: QtBot, capsys: pytest.CaptureFixture[str]
) -> None:
    assert not measured.measuring_place.assign.save.isEnabled()
    said_something(measured, qtbot)
    saved(measured, qtbot)
    (found,) = shades(measured, qtbot)
    assert main(["measure", VINEGAR, "--json"]) == 0
    (sample,) = json.loads(capsys.readouterr().out)["samples"]
    assert [round(value, 4) for value in found.reading.lab] == sample["lab"]
    assert found.history.piece.code == "HW-27"
    assert (found.conditions.fibre, found.conditions.mordant) == ("wool", "alum")
    assert found.conditions.mordant_percent_wof == 12.5
    assert found.bath_code == "bath-003"
    assert measured.measuring_place.samples.lines(measured.measuring_place.samples.entries[0])[
        -1
    ].endswith("(saved)")
    # Saved again it makes no double.
    measured.assigning.save_all("again")
    asked(measured, qtbot)
    assert len(shades(measured, qtbot)) == 1


def test_saving_is_undone_and_what_was_said_stays_to_be_saved(
    measured: MainWindow, qtbot: QtBot
) -> None:
    said_something(measured, qtbot)
    saved(measured, qtbot)
    measured.undo.undo()
    assert shades(measured, qtbot) == []
    asked(measured, qtbot)
    assert measured.measuring_place.assign.save.isEnabled()
    assert measured.measuring_place.assign.piece.text() == "HW-27"
    measured.undo.redo()
    assert len(shades(measured, qtbot)) == 1


def test_a_class_s_six_skeins_get_new_pieces_with_one_key(
    remembering: None, window: MainWindow, qtbot: QtBot
) -> None:
    opened(window, qtbot, [SIX])
    place = window.measuring_place
    place.sample_list.selectAll()
    assert place.assign.head.text() == "6 samples"
    typed(qtbot, place.assign.fibre, "wool")
    place.assign.all_new.click()
    asked(window, qtbot)
    codes = [window.measuring.photos.pages[0].said[entry.name].piece
             for entry in place.samples.entries]  # fmt: skip
    assert codes == [f"W-{number:03d}" for number in range(1, 7)]
    saved(window, qtbot)
    assert [one.history.piece.code for one in shades(window, qtbot)] == codes
    # The same photo another day is known, and there is nothing to save.
    window.measuring_place.put_away()
    opened(window, qtbot, [SIX])
    asked(window, qtbot)
    assert place.assign.piece.text() == "W-001"
    assert not place.assign.save.isEnabled()


def test_what_the_full_disk_refused_is_saved_once_there_is_room(
    measured: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    said_something(measured, qtbot)
    asked(measured, qtbot)

    def full(*_asked: object) -> None:
        raise DyeshadeError("disk_full", path="the library")

    with monkeypatch.context() as for_now:
        for_now.setattr("dyeshade.window.assigning.keep_readings", full)
        with qtbot.waitSignal(measured.desk.refused, timeout=PATIENCE_MS):
            QTest.keyClick(measured, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    box = measured.findChild(QMessageBox)
    assert isinstance(box, QMessageBox)
    assert "full" in box.text()
    box.accept()
    with qtbot.waitSignal(measured.assigning.kept, timeout=PATIENCE_MS):
        measured.measuring_place.assign.save.click()
    assert len(shades(measured, qtbot)) == 1


def test_a_full_disk_interrupts_nobody_who_types(
    measured: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_asked: object) -> None:
        raise DyeshadeError("disk_full", path="the library")

    with monkeypatch.context() as for_now:
        for_now.setattr("dyeshade.window.sitting_drafts.keep_draft", full)
        said_something(measured, qtbot)
        qtbot.waitUntil(measured.not_held.isVisible, timeout=PATIENCE_MS)
    assert "full" in measured.not_held.text()
    assert measured.findChild(QMessageBox) is None
    typed(qtbot, measured.measuring_place.assign.name, "the first skein")
    qtbot.waitUntil(measured.not_held.isHidden, timeout=PATIENCE_MS)
    assert not measured.drafts.homeless


def test_work_that_cannot_be_held_is_told_before_the_window_closes(
    measured: MainWindow, qtbot: QtBot
) -> None:
    qtbot.waitUntil(lambda: measured.desk.library is not None, timeout=PATIENCE_MS)
    assert measured.desk.library is not None
    measured.desk.library = replace(measured.desk.library, read_only=True)
    said_something(measured, qtbot)
    qtbot.waitUntil(lambda: measured.drafts.homeless, timeout=PATIENCE_MS)
    measured.close()
    assert measured.isVisible()
    box = measured.findChild(QMessageBox)
    assert isinstance(box, QMessageBox)
    assert "would be lost" in box.text()
    (leave,) = (one for one in box.buttons() if "lose" in one.text())
    leave.click()
    assert not measured.isVisible()


def test_a_per_cent_that_is_none_is_answered_and_nothing_is_lost(
    measured: MainWindow, qtbot: QtBot
) -> None:
    assign = measured.measuring_place.assign
    typed(qtbot, assign.piece, "HW-27")
    typed(qtbot, assign.percent, "a lot")
    assert "a lot" in assign.told.text()
    assert assign.percent.text() == "a lot"
    assert measured.measuring.photos.pages[0].said[
        measured.measuring_place.samples.entries[0].name
    ].piece == "HW-27"  # fmt: skip


def reopened(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, end: Callable[[MainWindow], object]
) -> MainWindow:
    end(window)
    again = MainWindow(tmp_path / "library")
    again.show()
    qtbot.waitUntil(lambda: again.measuring.photos.rowCount() > 0, timeout=PATIENCE_MS)
    settled(again, qtbot)
    return again


def test_unsaved_work_comes_back_after_closing(
    measured: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    said_something(measured, qtbot)
    again = reopened(measured, qtbot, tmp_path, MainWindow.close)
    assert again.measuring_place.assign.piece.text() == "HW-27"
    assert again.measuring_place.assign.bath.text() == "bath-003"
    saved(again, qtbot)
    again.close()
    with open_library(tmp_path / "library") as library:
        assert len(find_shades(library)) == 1
        assert library.rows("SELECT * FROM draft") == []


def test_unsaved_work_comes_back_though_the_window_closed_before_its_library_was_open(
    remembering: None,
    qtbot: QtBot,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    request: pytest.FixtureRequest,
) -> None:
    closing = threading.Event()

    def late(path: Path) -> Library:
        assert closing.wait(PATIENCE_MS / 1000)
        return open_or_create(path)

    monkeypatch.setattr(library_desk, "open_or_create", late)
    measured = request.getfixturevalue("measured")
    said_something(measured, qtbot)
    assert measured.desk.library is None

    def end(window: MainWindow) -> None:
        # The worker cannot open it before the window is being closed.
        monkeypatch.setattr(window.demo, "close", closing.set)
        window.close()

    again = reopened(measured, qtbot, tmp_path, end)
    assert again.measuring_place.assign.piece.text() == "HW-27"
    again.close()


def test_saving_while_photos_are_measured_says_that_it_waits(
    measured: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    said_something(measured, qtbot)
    assign = measured.measuring_place.assign
    with monkeypatch.context() as still:
        still.setattr(type(measured.measuring), "busy", property(lambda measuring: True))
        assign.save_all()
        assert "saved as soon as the photos are measured" in assign.told.text()
        assert shades(measured, qtbot) == []
    with qtbot.waitSignal(measured.assigning.kept, timeout=PATIENCE_MS):
        measured.measuring.stopped.emit()
    assert "as soon as" not in assign.told.text()
    assert len(shades(measured, qtbot)) == 1


def test_a_name_typed_letter_by_letter_is_undone_at_once(
    measured: MainWindow, qtbot: QtBot
) -> None:
    assign = measured.measuring_place.assign
    typed(qtbot, assign.piece, "HW-27")
    typed(qtbot, assign.fibre, "wool")
    measured.undo.undo()
    assert (assign.piece.text(), assign.fibre.text()) == ("HW-27", "")
    measured.undo.undo()
    assert assign.piece.text() == ""
    measured.undo.redo()
    assert assign.piece.text() == "HW-27"


def test_a_killed_window_s_unsaved_work_comes_back(
    remembering: None, qapp: object, qtbot: QtBot, tmp_path: Path
) -> None:
    library = tmp_path / "library"
    program = f"""
import os, sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
from dyeshade.window.main_window import MainWindow
from dyeshade.window.photo_page import PhotoPage
from dyeshade.work.look_at_photos import Asked
from dyeshade.work.said import Said, SaidBath
application = QApplication([])
window = MainWindow(Path({str(library)!r}))
page = PhotoPage(Asked({VINEGAR!r}, "window"))
page.busy = True
window.measuring.photos.add([page])
window.assigning.describe_bath(SaidBath("bath-9", vessel="the dented pot"))
window.assigning.put(page, {{"A": Said("HW-27", bath="bath-9")}}, "said")
def look():
    kept = window.drafts.drafts.written
    if "HW-27" in str(kept):
        print("kept", flush=True)
        os.kill(os.getpid(), 9)
from PySide6.QtCore import QTimer
timer = QTimer(); timer.timeout.connect(look); timer.start(20)
application.exec()
"""
    told = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, timeout=60, check=False
    )
    assert (told.stdout, told.returncode) == ("kept\n", -signal.SIGKILL), told.stderr
    again = MainWindow(library)
    again.show()
    qtbot.waitUntil(lambda: again.measuring.photos.rowCount() > 0, timeout=PATIENCE_MS)
    (page,) = again.measuring.photos.pages
    assert page.asked.light == "window"
    assert page.said["A"].piece == "HW-27"
    assert again.assigning.baths["bath-9"].vessel == "the dented pot"
    settled(again, qtbot)
    again.close()


def test_in_a_series_a_new_bath_begins_as_the_last_one_did(
    measured: MainWindow, qtbot: QtBot
) -> None:
    assign = measured.measuring_place.assign
    dyes = (SaidDye("madder", "root", "dried", 0.5),)
    last = SaidBath("bath-001", dyes, liquor_ratio=30.0, phs=(("bath_end", 6.9),), note="the first")
    measured.assigning.describe_bath(last)
    typed(qtbot, assign.piece, "HW-27")
    assert assign.like_last.isVisible()
    assign.like_last.click()
    qtbot.waitUntil(lambda: bool(measured.findChildren(BathEditor)), timeout=PATIENCE_MS)
    (editor,) = measured.findChildren(BathEditor)
    editor.accept()
    begun = measured.assigning.baths["bath-002"]
    assert (begun.dyes, begun.liquor_ratio, begun.phs, begun.note) == (dyes, 30.0, (), "")
    assert assign.bath.text() == "bath-002"
    assert not assign.like_last.isVisible()


def test_tagged_skeins_are_their_pieces_without_typing(
    remembering: None, window: MainWindow, qtbot: QtBot
) -> None:
    opened(window, qtbot, [str(EXAMPLES / "tagged" / "six_tagged_skeins.jpg")])
    asked(window, qtbot)
    (page,) = window.measuring.photos.pages
    codes = sorted(one.piece for one in page.said.values())
    assert codes == [f"W-{number:03d}" for number in range(19, 25)]
    samples = window.measuring_place.samples
    assert "(by its tag)" in samples.lines(samples.entries[0])[-1]
    # The library knows none of them: saving makes them.
    told = window.measuring_place.assign.told.text()
    assert told == "6 samples to save. 6 pieces are new."
    # What a person says goes before what the tag says, and stays.
    window.measuring_place.sample_list.setCurrentIndex(samples.index(0, 0))
    typed(qtbot, window.measuring_place.assign.piece, "W-100")
    window.measuring_place.measure_again()
    settled(window, qtbot)
    assert page.said[samples.entries[0].name].piece == "W-100"
    saved(window, qtbot)
    assert len(shades(window, qtbot)) == 6
