"""Opens the real window and tells where things stand in it, one question a line.

Run by `hands.py` on a display of its own. It moves nothing and types nothing: hands do that through
the display, as a person's would.
"""

from __future__ import annotations

import json
import os
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

from PySide6.QtCore import QObject, QPoint, QRect, Qt, Signal, Slot
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QLabel,
    QLineEdit,
    QMenu,
    QMenuBar,
    QWidget,
)


class Host(QObject):
    """Answers questions in the main thread."""

    asked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.asked.connect(self._answer, Qt.ConnectionType.QueuedConnection)

    def listen(self) -> None:
        """Read questions until whoever asks goes away."""
        for line in sys.stdin:
            self.asked.emit(line.strip())
        os._exit(0)

    @Slot(str)
    def _answer(self, question: str) -> None:
        what, _, words = question.partition(" ")
        print(json.dumps(list(_places(what, words))), flush=True)


def _top() -> QWidget | None:
    popup = QApplication.activePopupWidget()
    # What completes a word being typed stands in nobody's way.
    return (
        (popup if isinstance(popup, QMenu) else None)
        or QApplication.activeModalWidget()
        or next((w for w in QApplication.topLevelWidgets() if w.objectName() == "main"), None)
    )


def _places(what: str, words: str) -> Iterator[list[int]]:
    """Middles on the screen, of what is visible: a field, a button, a row, an entry of a menu."""
    top = _top()
    if top is None:
        return
    if what == "row":
        for view in top.findChildren(QAbstractItemView):
            if view.isVisible() and view.model() is not None:
                yield from _rows(view, words)
    elif what == "menu":
        for menu in [top, *top.findChildren(QMenuBar), *top.findChildren(QMenu)]:
            if isinstance(menu, QMenuBar | QMenu) and menu.isVisible():
                for action in menu.actions():
                    if action.text().replace("&", "") == words:
                        yield _middle(menu, menu.actionGeometry(action))
    elif what == "text":
        for label in top.findChildren(QLabel):
            if label.isVisible() and words in label.text():
                yield _middle(label, label.rect())
    else:
        for widget in top.findChildren(QWidget):
            if widget.isVisible() and words in (_named(widget), widget.objectName()):
                yield _middle(widget, widget.rect())


def _named(widget: QWidget) -> str:
    if isinstance(widget, QAbstractButton) and widget.text():
        return widget.text().replace("&", "")
    if isinstance(widget, QLineEdit) and not widget.accessibleName():
        return widget.placeholderText()
    return widget.accessibleName()


def _rows(view: QAbstractItemView, words: str) -> Iterator[list[int]]:
    model = view.model()
    for row in range(model.rowCount()):
        index = model.index(row, 0)
        if words in str(model.data(index)):
            rect = view.visualRect(index)
            # Near its beginning: a row may be wider than what is seen of it.
            place = QPoint(min(rect.center().x(), rect.left() + 60), rect.center().y())
            yield _on_screen(view.viewport(), place)


def _middle(widget: QWidget, rect: QRect) -> list[int]:
    return _on_screen(widget, rect.center())


def _on_screen(widget: QWidget, place: QPoint) -> list[int]:
    point = widget.mapToGlobal(place)
    return [point.x(), point.y()]


def main() -> None:
    """Open the window with the library that is named, and answer."""
    application = QApplication(sys.argv[:1])
    application.setApplicationName("dyeshade")
    application.setOrganizationName("dyeshade")
    from dyeshade.window import look
    from dyeshade.window.main_window import MainWindow

    look.put_on(application, "light")
    window = MainWindow(Path(sys.argv[1]))
    window.setObjectName("main")
    window.presenter.catch_all()
    window.setGeometry(0, 0, 1280, 860)
    window.show()
    host = Host()
    threading.Thread(target=host.listen, daemon=True).start()
    print(json.dumps("open"), flush=True)
    application.exec()
    print(json.dumps("closed"), flush=True)
    os._exit(0)


if __name__ == "__main__":
    main()
