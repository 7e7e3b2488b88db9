"""Each key of the first place leads to one thing only."""

from __future__ import annotations

from collections import Counter

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QPushButton

from dyeshade.window.main_window import MainWindow


def test_no_key_of_the_start_is_also_a_menu_s(window: MainWindow) -> None:
    window.go("start")
    buttons = [one for one in window.findChildren(QPushButton) if one.isVisible()]
    words = [one.text() for one in buttons]
    words += [action.text() for action in window.menuBar().actions()]
    keys = Counter(QKeySequence.mnemonic(one).toString() for one in words if "&" in one)
    assert len(keys) >= 10
    assert [key for key, count in keys.items() if count > 1] == []
