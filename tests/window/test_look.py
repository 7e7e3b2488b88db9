"""Signs on buttons are seen in both looks."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QFileDialog, QToolButton
from pytestqt.qtbot import QtBot

from dyeshade.window import look


@pytest.mark.parametrize("which", ["light", "dark"])
def test_the_signs_of_a_file_dialog_s_buttons_are_seen(
    which: str, qtbot: QtBot, qapp: QApplication, tmp_path: Path
) -> None:
    look.put_on(qapp, which)
    dialog = QFileDialog(None, "", str(tmp_path))
    dialog.setOption(QFileDialog.Option.DontUseNativeDialog)
    qtbot.addWidget(dialog)
    dialog.show()
    button = dialog.findChild(QToolButton, "newFolderButton")
    assert isinstance(button, QToolButton)
    picture = button.grab().toImage()
    middle = picture.copy(6, 6, picture.width() - 12, picture.height() - 12)
    seen = {middle.pixel(x, y) for x in range(middle.width()) for y in range(middle.height())}
    # A button without its sign is of one colour inside.
    assert len(seen) > 4
