"""What can be printed of the shades, pieces and baths of the library."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QPushButton, QWidget

from dyeshade.window.library_records import BathsPage, PiecesPage
from dyeshade.window.library_shades import LibraryShades


class LibraryPapers(QPushButton):
    """A menu of papers; those of pieces are of all that are shown, or of several chosen ones.

    Parameters
    ----------
    shades : LibraryShades
    pieces : PiecesPage
    baths : BathsPage

    Signals
    -------
    wanted(str, tuple of str)
        "tags", "labels" or "sheets" of the pieces with these codes, or the pot card of one "piece"
        or "bath".
    """

    wanted = Signal(str, object)

    def __init__(self, shades: LibraryShades, pieces: PiecesPage, baths: BathsPage) -> None:
        super().__init__()
        self.setText(self.tr("Tags and sheets"))
        self.setToolTip(self.tr("Of all that are shown; or, of several chosen, of those"))
        self._shades, self._pieces, self._baths = shades, pieces, baths
        self._looked_at: QWidget = shades
        menu = QMenu(self)
        self.of_pieces = [
            self._add(menu, which, words)
            for which, words in (
                ("tags", self.tr("&Tags of these pieces")),
                ("labels", self.tr("Skein &labels of these pieces")),
                ("sheets", self.tr("Piece &sheets of these pieces")),
            )
        ]
        self.of_one = self._add(menu, "pot", self.tr("A &pot card of the chosen one"))
        menu.aboutToShow.connect(self._allow)
        self.setMenu(menu)

    def look_at(self, page: QWidget) -> None:
        """Print of what is shown on a page."""
        self._looked_at = page

    def _add(self, menu: QMenu, which: str, words: str) -> QAction:
        action = menu.addAction(words)
        action.triggered.connect(lambda _on=False: self._make(which))
        return action

    def _allow(self) -> None:
        for action in self.of_pieces:
            action.setEnabled(bool(self._codes()))
        self.of_one.setEnabled(self._current() is not None)

    def _make(self, which: str) -> None:
        if which == "pot":
            current = self._current()
            if current is not None:
                self.wanted.emit(current[0], (current[1],))
        elif codes := self._codes():
            self.wanted.emit(which, codes)

    def _codes(self) -> tuple[str, ...]:
        if self._looked_at is self._baths:
            return ()
        if self._looked_at is self._pieces:
            found = self._pieces.chosen
        else:
            chosen = self._shades.chosen_shades()
            found = chosen if len(chosen) > 1 else list(self._shades.model.shades)
        return tuple(dict.fromkeys(one.history.piece.code for one in found))

    def _current(self) -> tuple[str, str] | None:
        if self._looked_at is self._baths:
            bath = self._baths.current
            return None if bath is None else ("bath", bath.whole.bath.code)
        page = self._pieces if self._looked_at is self._pieces else self._shades
        one = page.current
        return None if one is None else ("piece", one.history.piece.code)
