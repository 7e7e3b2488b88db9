"""Asking the library on behalf of a place: changes that are steps of undo, and questions."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from PySide6.QtCore import QObject, Signal

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.window.library_desk import LibraryDesk

T = TypeVar("T")


class AtTheDesk(QObject):
    """Something in hand, and a desk to ask about it.

    Signals
    -------
    told(str)
        Something was done.
    """

    told = Signal(str)

    def __init__(self, desk: LibraryDesk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk

    def refuse(self, error: DyeshadeError) -> None:
        """Tell why something was not done."""
        self._desk.refused.emit(error)

    def change_library(self, words: str, job: Callable[[Library], object]) -> None:
        """Change something that belongs to no bath, in one step of undo."""
        self._desk.change(words, job)

    def change_or_answer(
        self,
        words: str,
        job: Callable[[Library], object],
        then: Callable[[object], None],
        otherwise: Callable[[DyeshadeError], None],
    ) -> None:
        """As `change_library`; whoever asked hears what came of it."""
        self._desk.change(words, job, then, otherwise)

    def ask(
        self,
        question: Callable[[Library], T],
        then: Callable[[T], None],
        otherwise: Callable[[DyeshadeError], None],
    ) -> None:
        """Ask in the worker's thread, for what takes a while too."""
        self._desk.ask(question, then, otherwise)

    def change(
        self,
        words: str,
        job: Callable[[Library, int], T],
        then: Callable[[], None] = lambda: None,
        told: str = "",
    ) -> None:
        """Change something of the bath in hand in one step of undo, once it is kept.

        Parameters
        ----------
        words : str
            For the menu.
        job : callable
            Called with the library and the bath's id, in the worker's thread.
        then : callable
            Called once it is done.
        told : str
            What is said then.
        """

        def done(_made: object) -> None:
            then()
            if told:
                self.told.emit(told)

        def go(bath_id: int) -> None:
            self._desk.change(words, lambda library: job(library, bath_id), done)

        self.ensure_kept(go)

    def ensure_kept(self, then: Callable[[int], None]) -> None:
        """Call something with the id of what is in hand, once that is kept."""
        raise NotImplementedError
