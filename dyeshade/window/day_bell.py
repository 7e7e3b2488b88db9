"""Rings when a step of any bath is over by its plan, whatever the window shows."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QObject, QTimer, Signal, Slot
from PySide6.QtWidgets import QApplication, QWidget

from dyeshade.window.bathing import Bathing
from dyeshade.words.dye_words import TREATMENTS
from dyeshade.work.dye_day import ends_of

_LONGEST_MS = 60 * 60 * 1000
"""A timer that is asked for longer than this may miss a computer that slept."""


class DayBell(QObject):
    """Waits for the next end among the steps that are under way.

    Signals
    -------
    rang(str)
        What is over.
    """

    rang = Signal(str)

    def __init__(self, bathing: Bathing, above: QWidget) -> None:
        super().__init__(above)
        self._bathing, self._above = bathing, above
        self._since = datetime.now()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._ring)
        bathing.listed.connect(self._wait)

    def let_go(self) -> None:
        """Ring no more; a step that ends meanwhile says so when the program is opened again."""
        self._bathing.listed.disconnect(self._wait)
        self._timer.stop()

    def _ends(self) -> list[tuple[datetime, str]]:
        found = []
        for bath in self._bathing.baths:
            for step in bath.running:
                ends = ends_of(step)
                if ends is not None:
                    name = step.what or TREATMENTS[step.treatment]
                    found.append((ends, self.tr("{0}: {1} is over.").format(bath.code, name)))
        return sorted(found)

    @Slot()
    def _wait(self) -> None:
        next_ends = [ends for ends, _ in self._ends() if ends > self._since]
        if not next_ends:
            self._timer.stop()
            return
        left = (next_ends[0] - datetime.now()).total_seconds() * 1000
        self._timer.start(int(min(max(left, 0), _LONGEST_MS)) + 1)

    @Slot()
    def _ring(self) -> None:
        now = datetime.now()
        over = [words for ends, words in self._ends() if self._since < ends <= now]
        self._since = max(now, self._since)
        if over:
            QApplication.beep()
            QApplication.alert(self._above.window())
            self.rang.emit(" ".join(over))
        self._wait()
