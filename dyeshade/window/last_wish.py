"""Photos read beside the window: one at a time, and the last of those that were asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from PySide6.QtCore import QObject, Signal

from dyeshade.errors import DyeshadeError
from dyeshade.window.errands import Errand, Errands, Progress
from dyeshade.work.side_by_side import Warm

Read = Callable[[Any, Warm], object]


class LastWish(QObject):
    """Has wishes answered in a process of its own, that stays ready for the next.

    Parameters
    ----------
    name : str
        Of the thread, for whoever looks for faults.
    read : callable
        Called in a thread with the wish and the process.

    Signals
    -------
    came(object, object)
        The very wish that was asked, and its answer or a DyeshadeError.
    failed(Exception)
        A fault of ours.
    """

    came = Signal(object, object)
    failed = Signal(object)

    def __init__(self, name: str, read: Read, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._name, self._read = name, read
        self._errands: Errands | None = None
        self._next: object | None = None
        self._closed = False
        self._warm = Warm()
        self.busy = False

    def ask(self, wanted: object) -> None:
        """Ask; `came` tells, unless something else is asked before this was begun."""
        self._next = wanted
        self._go_on()

    def forget(self) -> None:
        """Drop what is not begun yet."""
        self._next = None

    def close(self) -> None:
        """Wait for what is in hand, and read nothing more."""
        self._closed = True
        self._next = None
        if self._errands is not None:
            self._errands.close()
        self._warm.close()

    def _go_on(self) -> None:
        if self.busy or self._next is None or self._closed:
            return
        if self._errands is None:
            # A thread is begun only where somebody looks at photos.
            self._errands = Errands(self._name, 1, self)
            self._errands.failed.connect(self.failed)
        wanted, self._next, self.busy = self._next, None, True

        def work(_progress: Progress) -> Iterator[object]:
            try:
                yield self._read(wanted, self._warm)
            except DyeshadeError as error:
                yield error

        def tell(answer: object) -> None:
            self.came.emit(wanted, answer)

        self._errands.start(work, Errand(tell, ended=self._ended))

    def _ended(self) -> None:
        self.busy = False
        self._go_on()
