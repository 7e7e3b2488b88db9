"""Names offered while one is typed, that never hold a mouse up."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QCompleter, QWidget


class Completer(QCompleter):
    """Offers names that hold what was typed, in upper or lower case.

    A click beside the offered names goes where it was meant to. Otherwise it would only close the
    list, and what is typed next would land in the field that people thought they had left.
    """

    def __init__(self, names: object, parent: QWidget) -> None:
        super().__init__(names, parent)  # type: ignore[call-overload]
        self.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.setFilterMode(Qt.MatchFlag.MatchContains)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Hand a click beside the list on to what lies there."""
        if (
            isinstance(event, QMouseEvent)
            and event.type() == QEvent.Type.MouseButtonPress
            and watched is self.popup()
            and not self.popup().rect().contains(event.position().toPoint())
        ):
            self.popup().hide()
            _click(event)
            return True
        return super().eventFilter(watched, event)


def _click(event: QMouseEvent) -> None:
    """Click on what lies beneath the mouse."""
    place = event.globalPosition()
    below = QApplication.widgetAt(place.toPoint())
    if below is None:
        return
    if below.focusPolicy() & Qt.FocusPolicy.ClickFocus:
        below.setFocus(Qt.FocusReason.MouseFocusReason)
    local = QPointF(below.mapFromGlobal(place))
    button = event.button()
    for kind, held in (
        (QEvent.Type.MouseButtonPress, button),
        (QEvent.Type.MouseButtonRelease, Qt.MouseButton.NoButton),
    ):
        told = QMouseEvent(kind, local, place, button, held, event.modifiers())
        QApplication.postEvent(below, told)
