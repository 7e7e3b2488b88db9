"""What can be asked of the piece that is looked at in the library."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QPushButton

from dyeshade.window.library_shades import LibraryShades

DRIFT, NEAREST, COMMISSION = "drift", "nearest", "commission"


class LibraryAsking(QPushButton):
    """A menu of questions about the chosen shade's piece.

    Parameters
    ----------
    shades : LibraryShades

    Attributes
    ----------
    actions_of_piece : list of QAction
        For other menus.

    Signals
    -------
    wanted(str, str)
        `DRIFT`, `NEAREST` or `COMMISSION`, and the piece's code.
    """

    wanted = Signal(str, str)

    def __init__(self, shades: LibraryShades) -> None:
        super().__init__()
        self.setText(self.tr("Compare"))
        self._shades = shades
        menu = QMenu(self)
        self.actions_of_piece = [
            self._add(menu, which, words)
            for which, words in (
                (DRIFT, self.tr("Has this piece &moved?")),
                (NEAREST, self.tr("What comes nearest to &it?")),
                (COMMISSION, self.tr("A&gree on its shade…")),
            )
        ]
        self.setMenu(menu)
        shades.chosen.connect(self.allow)
        self.allow()

    def allow(self) -> None:
        """Offer what can be asked of what is chosen now."""
        for action in self.actions_of_piece:
            action.setEnabled(self._shades.current is not None)

    def _add(self, menu: QMenu, which: str, words: str) -> QAction:
        action = menu.addAction(words)
        action.triggered.connect(lambda _on=False: self._ask(which))
        return action

    def _ask(self, which: str) -> None:
        current = self._shades.current
        if current is not None:
            self.wanted.emit(which, current.history.piece.code)
