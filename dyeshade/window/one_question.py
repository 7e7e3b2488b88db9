"""One question to the library at a time; of those that come up meanwhile, only the last."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.window.library_desk import LibraryDesk

Question = Callable[[Library], Any]


class OneQuestion(QObject):
    """Keeps typing and paging from piling up questions.

    Parameters
    ----------
    desk : LibraryDesk
    then : callable
        Told each answer that is still of use.
    otherwise : callable, optional
        Told a refusal; where not given, the desk's `refused` is.
    """

    def __init__(
        self,
        desk: LibraryDesk,
        then: Callable[[Any], None],
        parent: QObject,
        otherwise: Callable[[DyeshadeError], None] | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._then = then
        self._otherwise = otherwise or desk.refused.emit
        self._next: Question | None = None
        self._round = 0
        self.busy = False
        desk.failed.connect(self._failed)

    def ask(self, question: Question) -> None:
        """Ask this, as soon as what is on its way has been answered."""
        self._next = question
        self._go_on()

    def forget(self) -> None:
        """Want no answer any more, not even to what is on its way."""
        self._round += 1
        self._next = None
        self.busy = False

    def _go_on(self) -> None:
        if self.busy or self._next is None or self._desk.library is None:
            return
        question, self._next, self.busy = self._next, None, True
        number = self._round

        def then(answer: Any) -> None:
            if number == self._round:
                self.busy = False
                # An answer to what nobody asks any more would only flicker.
                if self._next is None:
                    self._then(answer)
                self._go_on()

        def otherwise(error: DyeshadeError) -> None:
            if number == self._round:
                self.busy = False
                self._otherwise(error)
                self._go_on()

        self._desk.ask(question, then, otherwise)

    def _failed(self, _fault: Exception) -> None:
        self.busy = False
