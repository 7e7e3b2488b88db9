"""Each letter of the keyboard leads to one thing only, in the first two places; Return presses."""

from __future__ import annotations

from collections import Counter

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLabel, QPushButton, QWidget

from dyeshade.window.main_window import MainWindow


def letters(window: MainWindow, above: QWidget) -> Counter[str]:
    """How often each letter is given out: by menus, buttons, and the labels of fields."""
    words = [action.text() for action in window.menuBar().actions()]
    for label in above.findChildren(QLabel):
        if label.buddy() is not None and label.isVisible():
            words.append(label.text())
    for button in above.findChildren(QAbstractButton):
        if button.isVisible():
            words.append(button.text())
    keys = [QKeySequence.mnemonic(one).toString() for one in words]
    return Counter(key for key in keys if key)


@pytest.mark.parametrize(("key", "at_least"), [("start", 10), ("measuring", 14)])
def test_no_letter_of_a_place_is_also_another_s(
    window: MainWindow, key: str, at_least: int
) -> None:
    window.go(key)
    given = letters(window, window.places[key])
    assert len(given) >= at_least
    assert [letter for letter, count in given.items() if count > 1] == []


def test_return_presses_the_button_that_has_the_keyboard(window: MainWindow) -> None:
    way = next(one for one in window.findChildren(QPushButton) if one.text() == "The sheet")
    way.setFocus()
    QTest.keyClick(way, Qt.Key.Key_Return)
    assert window.sheet_place.isVisible()


def test_every_place_has_room_on_a_small_screen(window: MainWindow) -> None:
    # A picture of the window lays out what was never in view, too.
    window.grab()
    wide = {key: place.minimumSizeHint().width() for key, place in window.places.items()}
    assert max(wide.values()) <= 1024
    assert window.minimumSizeHint().height() <= 700
