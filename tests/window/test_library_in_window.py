"""The library place among the others: keys mean there what they say there, undo is the window's."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog
from pytestqt.qtbot import QtBot

from dyeshade.window.commission_dialogs import CommissionDialog
from dyeshade.window.compare_place import ComparePlace
from dyeshade.window.library_place import LibraryPlace
from dyeshade.window.main_window import MainWindow
from dyeshade.window.reading_editor import ReadingEditor
from tests.library.workshop import fill


def test_keys_reach_the_shades_before_the_menus_and_undo_is_the_window_s(
    window: MainWindow, qtbot: QtBot
) -> None:
    place = window.places["library"]
    assert isinstance(place, LibraryPlace)
    window.go("library")
    window.desk.change("fill", fill)
    qtbot.waitUntil(lambda: len(place.shades.model.shades) == 8)
    table = place.shades.table
    table.setFocus()
    opened: list[QDialog] = []
    place.jobs.opened.connect(opened.append)
    # F2 names a sample in the menu; here it puts the reading right.
    QTest.keyClick(table, Qt.Key.Key_F2)
    qtbot.waitUntil(lambda: bool(opened))
    assert isinstance(opened[0], ReadingEditor)
    opened[0].reject()
    QTest.keyClick(table, Qt.Key.Key_Delete)
    qtbot.waitUntil(lambda: len(place.shades.model.shades) == 7)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    QTest.keySequence(table, QKeySequence(QKeySequence.StandardKey.Undo))
    qtbot.waitUntil(lambda: len(place.shades.model.shades) == 8)
    qtbot.waitUntil(lambda: not place.busy)


def test_a_shade_that_is_looked_at_is_compared(window: MainWindow, qtbot: QtBot) -> None:
    place, compare = window.places["library"], window.places["compare"]
    assert isinstance(place, LibraryPlace)
    assert isinstance(compare, ComparePlace)
    moved, nearest, agree = place.asking.actions_of_piece
    window.go("library")
    assert not moved.isEnabled()
    window.desk.change("fill", fill)
    qtbot.waitUntil(lambda: place.shades.current is not None and not place.busy)
    code = place.shades.current.history.piece.code
    moved.trigger()
    assert compare.isVisible()
    qtbot.waitUntil(lambda: not compare.busy)
    assert compare.drift.piece.code == code
    window.go("library")
    nearest.trigger()
    qtbot.waitUntil(lambda: not compare.busy)
    assert compare.nearest.colour.words == code
    window.go("library")
    agree.trigger()
    (dialog,) = compare.findChildren(CommissionDialog)
    assert dialog.shade.words == code
    dialog.reject()
    qtbot.waitUntil(lambda: not compare.busy and not place.busy)


def test_no_two_buttons_that_are_seen_together_share_a_letter(
    window: MainWindow, qtbot: QtBot
) -> None:
    from PySide6.QtWidgets import QAbstractButton, QLabel

    place = window.places["library"]
    assert isinstance(place, LibraryPlace)
    window.go("library")
    menus = [action.text() for action in window.menuBar().actions()]
    for which in range(4):
        place.look_at(which)
        seen = [one for kind in (QAbstractButton, QLabel) for one in window.findChildren(kind)]
        texts = menus + [one.text() for one in seen if one.isVisible()]
        letters = [
            QKeySequence.mnemonic(text).toString()
            for text in texts
            if "&" in text.replace("&&", "")
        ]
        given = [letter for letter in letters if letter]
        assert len(given) == len(set(given)), sorted(given)
