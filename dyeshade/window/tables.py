"""Tables and lists of the library: how they look, and the keys that do something in them."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import (
    QAbstractItemModel,
    QEvent,
    QItemSelection,
    QItemSelectionModel,
    QObject,
    Qt,
)
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QTableView

ROW_HEIGHT = 40


class PlainTable(QTableView):
    """A table of whole lines, with columns that people may widen."""

    def __init__(self, name: str, row_height: int = ROW_HEIGHT) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setShowGrid(False)
        self.setWordWrap(False)
        # Tab leaves the table; arrows move within it.
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(16)
        self.verticalHeader().setDefaultSectionSize(row_height)
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setStretchLastSection(True)
        # What is chosen is marked by grey: the accent beside swatches would tint them.
        self.setStyleSheet(
            "QTableView { selection-background-color: palette(alternate-base);"
            " selection-color: palette(text); }"
        )

    def setModel(self, model: QAbstractItemModel) -> None:  # noqa: N802
        """Show a model."""
        super().setModel(model)
        # To mark columns that are chosen as a whole, the header asks every line, at each painting:
        # half a second for ten thousand. Columns are never chosen here.
        self.horizontalHeader().setSelectionModel(QItemSelectionModel(model, self))


class Keys(QObject):
    """Does something on a key in a view, and lets no menu of the window take the key before.

    Parameters
    ----------
    view : QAbstractItemView
    does : mapping of key to callable
    copies : callable, optional
        Copies what is chosen.
    """

    def __init__(
        self,
        view: QAbstractItemView,
        does: Mapping[Qt.Key, Callable[[], object]],
        copies: Callable[[], object] | None = None,
    ) -> None:
        super().__init__(view)
        self._does = does
        self._copies = copies
        view.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Take the keys."""
        does = self._meant(event) if isinstance(event, QKeyEvent) else None
        if does is not None and event.type() == QEvent.Type.ShortcutOverride:
            event.accept()
            return True
        if does is not None and event.type() == QEvent.Type.KeyPress:
            does()
            return True
        return super().eventFilter(watched, event)

    def _meant(self, event: QKeyEvent) -> Callable[[], object] | None:
        if self._copies is not None and event.matches(QKeySequence.StandardKey.Copy):
            return self._copies
        plain = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if plain != Qt.KeyboardModifier.NoModifier or event.key() not in self._does:
            return None
        return self._does[Qt.Key(event.key())]


def chosen_rows(selection: QItemSelectionModel) -> list[int]:
    """Lines that are chosen, from the top."""
    rows = {row for part in selection.selection() for row in range(part.top(), part.bottom() + 1)}
    return sorted(rows)


def choose_rows(selection: QItemSelectionModel, rows: list[int], current: int) -> None:
    """Choose lines in place of those that are chosen, and make one of them the current one.

    Parameters
    ----------
    selection : QItemSelectionModel
    rows : list of int
        From the top.
    current : int
        -1 for none.
    """
    model = selection.model()
    last = model.columnCount() - 1
    wanted = QItemSelection()
    begin = 0
    for place in range(len(rows)):
        # Lines that follow one another are one range: ten thousand are chosen at once.
        if place + 1 == len(rows) or rows[place + 1] != rows[place] + 1:
            wanted.select(model.index(rows[begin], 0), model.index(rows[place], last))
            begin = place + 1
    if current >= 0:
        selection.setCurrentIndex(
            model.index(current, 0), QItemSelectionModel.SelectionFlag.NoUpdate
        )
    selection.select(wanted, QItemSelectionModel.SelectionFlag.ClearAndSelect)
