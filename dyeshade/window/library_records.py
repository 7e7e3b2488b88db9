"""All pieces, or all baths, and what can be done with the chosen one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from dyeshade.library.library import Library
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.library_jobs import LibraryJobs
from dyeshade.window.look import SPACE
from dyeshade.window.one_question import OneQuestion
from dyeshade.window.records_list import BATHS, PIECES, Field, RecordsModel
from dyeshade.window.tables import Keys, PlainTable, choose_rows, chosen_rows
from dyeshade.work.edit_bath import ListedBath, listed_baths
from dyeshade.work.edit_piece import ListedPiece, listed_pieces

_HEIGHT = 30


class RecordsPage(QWidget):
    """A table of records with buttons below it.

    Parameters
    ----------
    desk : LibraryDesk
    name : str
        Of the table.
    fields : sequence of Field
    question : callable
        Asks the library for the records.
    key : callable
        What tells a record from others.
    """

    def __init__(
        self,
        desk: LibraryDesk,
        name: str,
        fields: Sequence[Field[Any]],
        question: Callable[[Library], Sequence[Any]],
        key: Callable[[Any], int],
    ) -> None:
        super().__init__()
        self._desk = desk
        self._key = key
        self._question = question
        self._asked = OneQuestion(desk, self._take, self)
        self._stale = True
        self.model = RecordsModel(fields, self)
        self.table = PlainTable(name, _HEIGHT)
        self.table.setModel(self.model)
        for place, field in enumerate(fields):
            self.table.setColumnWidth(place, field.width)
        self._needs: list[tuple[QPushButton, bool]] = []
        self.bar = QHBoxLayout()
        self.bar.setSpacing(SPACE // 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE)
        column.addWidget(self.table, 1)
        column.addLayout(self.bar)
        self.table.selectionModel().selectionChanged.connect(lambda *_: self._allow())

    @property
    def busy(self) -> bool:
        """Whether an answer of the library is on its way."""
        return self._asked.busy

    @property
    def current(self) -> Any:
        """The chosen record, None where none or several are."""
        rows = chosen_rows(self.table.selectionModel())
        return self.model.records[rows[0]] if len(rows) == 1 else None

    @property
    def chosen(self) -> list[Any]:
        """The chosen records where several are, else all."""
        rows = chosen_rows(self.table.selectionModel())
        records = self.model.records
        return [records[row] for row in rows] if len(rows) > 1 else list(records)

    def add_button(
        self, words: str, does: Callable[[], object], needs_one: bool = True
    ) -> QPushButton:
        """Add a button; `needs_one` says that it does something with the chosen record."""
        button = QPushButton(words)
        button.clicked.connect(lambda _on=False: does())
        self.bar.addWidget(button)
        self._needs.append((button, needs_one))
        return button

    def refresh(self) -> None:
        """Ask anew, at the latest when it is looked at; what is chosen stays chosen."""
        self._stale = True
        if self.isVisible():
            self._stale = False
            self._asked.ask(self._question)

    def begin(self) -> None:
        """Begin with another library."""
        self._asked.forget()
        self.model.show([])
        self.refresh()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Ask for what has changed while nobody looked."""
        super().showEvent(event)
        if self._stale:
            self.refresh()

    def _take(self, records: Sequence[Any]) -> None:
        selection = self.table.selectionModel()
        kept = {self._key(self.model.records[row]) for row in chosen_rows(selection)}
        near = selection.currentIndex().row()
        self.model.show(records)
        rows = [row for row, one in enumerate(records) if self._key(one) in kept]
        if not rows and records:
            rows = [min(max(near, 0), len(records) - 1)]
        choose_rows(selection, rows, rows[0] if rows else -1)
        self._allow()

    def _allow(self) -> None:
        for button, needs_one in self._needs:
            button.setEnabled(self._desk.can_write and (not needs_one or self.current is not None))


class BathsPage(RecordsPage):
    """All baths."""

    def __init__(self, desk: LibraryDesk, jobs: LibraryJobs) -> None:
        super().__init__(
            desk,
            BathsPage.tr("Baths"),
            BATHS,
            listed_baths,
            lambda one: int(one.whole.bath.id),
        )
        self._jobs = jobs
        self.add_button(self.tr("&New bath…"), jobs.new_bath, needs_one=False)
        self.add_button(self.tr("&Change it…"), self.change)
        self.add_button(self.tr("Start an e&xhaust bath of it…"), self.exhaust)
        self.add_button(self.tr("Re&move it"), self.remove)
        self.bar.addStretch(1)
        self.table.doubleClicked.connect(lambda _index: self.change())
        Keys(self.table, _keys(self.change, self.remove))

    def change(self) -> None:
        """Put the chosen bath right."""
        if isinstance(self.current, ListedBath) and self._desk.can_write:
            self._jobs.edit_bath(self.current.whole.bath.id)

    def exhaust(self) -> None:
        """Describe the next exhaust bath of the chosen one."""
        if isinstance(self.current, ListedBath) and self._desk.can_write:
            self._jobs.new_bath(self.current.whole.bath.code)

    def remove(self) -> None:
        """Remove the chosen bath."""
        if isinstance(self.current, ListedBath) and self._desk.can_write:
            bath = self.current.whole.bath
            self._jobs.remove_bath(bath.id, bath.code)


class PiecesPage(RecordsPage):
    """All pieces."""

    def __init__(self, desk: LibraryDesk, jobs: LibraryJobs) -> None:
        super().__init__(
            desk,
            PiecesPage.tr("Pieces"),
            PIECES,
            listed_pieces,
            lambda one: int(one.history.piece.id),
        )
        self._jobs = jobs
        self.add_button(self.tr("&Change it…"), self.change)
        self.add_button(self.tr("It is one with a&nother…"), self.merge)
        self.add_button(self.tr("Re&move it"), self.remove)
        self.bar.addStretch(1)
        self.table.doubleClicked.connect(lambda _index: self.change())
        Keys(self.table, _keys(self.change, self.remove))

    def change(self) -> None:
        """Put the chosen piece right."""
        if isinstance(self.current, ListedPiece) and self._desk.can_write:
            self._jobs.edit_piece(self.current.history.piece.id)

    def merge(self) -> None:
        """Make the chosen piece one with another."""
        if isinstance(self.current, ListedPiece) and self._desk.can_write:
            piece = self.current.history.piece
            self._jobs.merge(piece.id, piece.code)

    def remove(self) -> None:
        """Remove the chosen piece with its readings and treatments."""
        if isinstance(self.current, ListedPiece) and self._desk.can_write:
            piece = self.current.history.piece
            self._jobs.remove_piece(piece.id, piece.code)


def _keys(
    change: Callable[[], object], remove: Callable[[], object]
) -> dict[Qt.Key, Callable[[], object]]:
    return {
        Qt.Key.Key_Return: change,
        Qt.Key.Key_Enter: change,
        Qt.Key.Key_F2: change,
        Qt.Key.Key_Delete: remove,
    }
