"""What can be done with the shade that is looked at, by menu and by key."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QGuiApplication

from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.library_jobs import LibraryJobs
from dyeshade.window.library_shades import LibraryShades
from dyeshade.window.shades_model import COLUMNS


class ShadeActions(QObject):
    """Changes of the chosen shade, its piece and its bath.

    Parameters
    ----------
    desk : LibraryDesk
    jobs : LibraryJobs
    shades : LibraryShades

    Attributes
    ----------
    changing, removing : list of QAction
        For menus.
    keys : dict of key to callable
        For the views.
    """

    def __init__(
        self, desk: LibraryDesk, jobs: LibraryJobs, shades: LibraryShades, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self.jobs = jobs
        self.shades = shades
        self._allowed: list[tuple[QAction, Callable[[], bool]]] = []
        one, bath = self._has_one, lambda: self._bath_id() is not None
        self.changing = [
            self._add(self.tr("The &piece…\tEnter"), self.edit_piece, one),
            self._add(self.tr("The &reading…\tF2"), self.edit_reading, one),
            self._add(self.tr("Its &bath…"), self.edit_bath, bath),
            self._add(self.tr("Start an e&xhaust bath of its bath…"), self.exhaust, bath),
            self._add(self.tr("The piece is one with a&nother…"), self.merge, one),
        ]
        self.removing = [
            self._add(
                self.tr("The &chosen readings\tDel"),
                self.remove_readings,
                lambda: bool(shades.chosen_shades()),
            ),
            self._add(self.tr("The piece with &all its readings"), self.remove_piece, one),
        ]
        self.keys: dict[Qt.Key, Callable[[], object]] = {
            Qt.Key.Key_Return: self.edit_piece,
            Qt.Key.Key_Enter: self.edit_piece,
            Qt.Key.Key_F2: self.edit_reading,
            Qt.Key.Key_Delete: self.remove_readings,
        }

    def allow(self) -> None:
        """Offer what can be done with what is chosen now."""
        for action, allowed in self._allowed:
            action.setEnabled(self._desk.can_write and allowed())

    def edit_piece(self) -> None:
        """Put the chosen shade's piece right."""
        current = self.shades.current
        if current is not None and self._desk.can_write:
            self.jobs.edit_piece(current.history.piece.id)

    def edit_reading(self) -> None:
        """Put the chosen reading right."""
        current = self.shades.current
        if current is not None and self._desk.can_write:
            self.jobs.edit_reading(current.reading.id)

    def edit_bath(self) -> None:
        """Put the bath that the chosen shade comes from right."""
        bath = self._bath_id()
        if bath is not None and self._desk.can_write:
            self.jobs.edit_bath(bath)

    def exhaust(self) -> None:
        """Describe the next exhaust bath of the chosen shade's bath."""
        current = self.shades.current
        if current is not None and current.bath_code and self._desk.can_write:
            self.jobs.new_bath(current.bath_code)

    def merge(self) -> None:
        """Make the chosen shade's piece one with another."""
        current = self.shades.current
        if current is not None and self._desk.can_write:
            self.jobs.merge(current.history.piece.id, current.history.piece.code)

    def remove_readings(self) -> None:
        """Remove the chosen readings."""
        chosen = self.shades.chosen_shades()
        if chosen and self._desk.can_write:
            self.jobs.remove_readings(chosen)

    def remove_piece(self) -> None:
        """Remove the chosen shade's piece with all that belongs to it."""
        current = self.shades.current
        if current is not None and self._desk.can_write:
            self.jobs.remove_piece(current.history.piece.id, current.history.piece.code)

    def _bath_id(self) -> int | None:
        current = self.shades.current
        steps = () if current is None else current.history.before(current.reading)
        baths = [step.bath.bath.id for step in steps if step.bath is not None]
        return baths[-1] if baths else None

    def copy(self) -> None:
        """Put the chosen shades on the clipboard, as lines of tab-separated words."""
        lines = ["\t".join(column.head for column in COLUMNS)]
        for one in self.shades.chosen_shades():
            lines.append("\t".join(column.words(one) for column in COLUMNS))
        QGuiApplication.clipboard().setText("\n".join(lines))

    def _add(self, words: str, does: Callable[[], object], allowed: Callable[[], bool]) -> QAction:
        action = QAction(words, self)
        action.triggered.connect(lambda _on=False: does())
        self._allowed.append((action, allowed))
        return action

    def _has_one(self) -> bool:
        return self.shades.current is not None
