"""The worker that owns the library: answers, changes, undo, refusals."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.library.pieces import add_piece
from dyeshade.window.main_window import MainWindow
from tests.window.drive import PATIENCE_MS


def added(code: str, library: Library) -> int:
    with library.edit("add_piece") as edit:
        return add_piece(edit, Piece(code))


def elsewhere(tmp_path: Path, does: str) -> None:
    """Do something to the library in another process, as another window would."""
    program = f"""
from dyeshade.library.dye_records import Piece
from dyeshade.library.library import open_library
from dyeshade.library.pieces import add_piece, change_piece, find_piece
with open_library({str(tmp_path / "library")!r}) as library, library.edit("elsewhere") as edit:
    {does}
"""
    subprocess.run([sys.executable, "-c", program], check=True)


def codes(window: MainWindow, qtbot: QtBot) -> list[str]:
    told: list[list[str]] = []
    window.desk.ask(
        lambda library: [piece.code for piece in library.where(Piece, order="code")], told.append
    )
    qtbot.waitUntil(lambda: bool(told), timeout=PATIENCE_MS)
    return told[0]


def test_a_change_is_told_and_can_be_undone_and_done_again(
    window: MainWindow, qtbot: QtBot
) -> None:
    told: list[object] = []
    window.desk.changed.connect(told.append)
    window.desk.change("add a piece", lambda library: added("W-001", library))
    assert codes(window, qtbot) == ["W-001"]
    qtbot.waitUntil(lambda: len(told) == 1, timeout=PATIENCE_MS)
    assert window.undo.undoText() == "add a piece"
    window.undo.undo()
    assert codes(window, qtbot) == []
    window.undo.redo()
    assert codes(window, qtbot) == ["W-001"]
    qtbot.waitUntil(lambda: len(told) == 3, timeout=PATIENCE_MS)


def test_drafts_are_no_step_of_undo(window: MainWindow, qtbot: QtBot) -> None:
    def job(library: Library) -> None:
        with library.edit("quietly", undoable=False) as edit:
            add_piece(edit, Piece("W-001"))

    window.desk.change("quietly", job)
    assert codes(window, qtbot) == ["W-001"]
    assert not window.undo.canUndo()


def test_what_others_have_changed_is_not_undone_over_their_heads(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    window.desk.change("add a piece", lambda library: added("W-001", library))
    assert codes(window, qtbot) == ["W-001"]
    elsewhere(tmp_path, "change_piece(edit, Piece('S-001', id=find_piece(edit, 'W-001').id))")
    refused: list[DyeshadeError] = []
    window.desk.refused.disconnect(window.presenter.refuse)
    window.desk.refused.connect(refused.append)
    window.undo.undo()
    qtbot.waitUntil(lambda: bool(refused), timeout=PATIENCE_MS)
    assert refused[0].code == "changed_elsewhere"
    assert codes(window, qtbot) == ["S-001"]
    # What could be redone no longer fits either: it goes without harm.
    window.undo.redo()
    assert codes(window, qtbot) == ["S-001"]


def test_a_folder_that_is_no_library_leaves_the_open_one(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    stray = tmp_path / "stray"
    stray.mkdir()
    (stray / "letter.txt").write_text("no library")
    refused: list[DyeshadeError] = []
    window.desk.open(stray, otherwise=refused.append)
    qtbot.waitUntil(lambda: bool(refused), timeout=PATIENCE_MS)
    assert window.desk.library is not None
    assert window.desk.library.folder == tmp_path / "library"
    assert codes(window, qtbot) == []


def test_another_window_s_changes_are_noticed(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    assert codes(window, qtbot) == []
    told: list[object] = []
    window.desk.changed.connect(told.append)
    elsewhere(tmp_path, "add_piece(edit, Piece('W-009'))")
    window.desk.look_for_others()
    qtbot.waitUntil(lambda: told == [None], timeout=PATIENCE_MS)


def test_a_fault_of_ours_is_loud(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    faults: list[BaseException] = []
    window.desk.failed.disconnect(window.presenter.fault)
    window.desk.failed.connect(faults.append)
    window.desk.ask(lambda library: 1 / 0, lambda _answer: None)
    qtbot.waitUntil(lambda: bool(faults), timeout=PATIENCE_MS)
    assert isinstance(faults[0], ZeroDivisionError)
