"""What home tests wait for, shown at the window's start."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QObject, Slot

from dyeshade.library.changes import Changes
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.one_question import OneQuestion
from dyeshade.window.start_place import StartPlace
from dyeshade.words.home_test_words import reminders_words
from dyeshade.work.home_tests_kept import KeptTest, due_tests

_OF_TESTS = {"home_test", "home_test_pair", "reading", "piece"}


class HomeTestReminders(QObject):
    """Asks the library which photos are due, whenever that may have changed.

    Parameters
    ----------
    desk : LibraryDesk
    start : StartPlace
    """

    def __init__(self, desk: LibraryDesk, start: StartPlace) -> None:
        super().__init__(start)
        self._start = start
        self._asked = OneQuestion(desk, self._take, self)
        desk.opened.connect(self.ask)
        desk.changed.connect(self._changed)
        # Another day may have begun since.
        start.shown.connect(self.ask)

    @Slot()
    def ask(self) -> None:
        """Ask what is due today."""
        now = datetime.now()
        self._asked.ask(lambda library: due_tests(library, now))

    @Slot(object)
    def _changed(self, changes: Changes | None) -> None:
        if changes is None or changes.kinds & _OF_TESTS:
            self.ask()

    def _take(self, tests: tuple[KeptTest, ...]) -> None:
        self._start.show_due(reminders_words(tests, datetime.now()))
