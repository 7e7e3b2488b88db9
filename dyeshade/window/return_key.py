"""Return presses the button that has the keyboard, in the window and in its dialogs."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractButton, QCheckBox, QDialog, QRadioButton, QWidget

_RETURN = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


def presses_focused(widget: QWidget, event: QKeyEvent) -> bool:
    """Press the button that has the keyboard, if it was Return that nobody took.

    Qt leaves that to Space, and has Return press a dialog's main button even where the keyboard is
    on the one that leaves it. Boxes to tick are no buttons here.
    """
    button = widget.focusWidget()
    if event.key() not in _RETURN or not isinstance(button, QAbstractButton):
        return False
    if isinstance(button, QCheckBox | QRadioButton):
        return False
    button.click()
    return True


class Dialog(QDialog):
    """A dialog in which Return presses the button that has the keyboard, else the main one."""

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Press what is meant."""
        if not presses_focused(self, event):
            super().keyPressEvent(event)
