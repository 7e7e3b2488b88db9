"""Long work beside the window: done in threads, told in the main thread through one slot."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal, Slot

Progress = Callable[[int, int], None]
Work = Callable[[Progress], Iterator[Any]]


def _nothing(*_told: object) -> None:
    pass


@dataclass(eq=False)
class Errand:
    """One piece of work on its way.

    Attributes
    ----------
    each : callable
        Called in the main thread with each thing that the work yields.
    progress : callable
        Called in the main thread with how many are done and how many there are.
    ended : callable
        Called in the main thread once, whatever the end.
    cancelled : bool
    """

    each: Callable[[Any], None]
    progress: Progress = _nothing
    ended: Callable[[], None] = _nothing
    cancelled: bool = field(default=False, init=False)

    def cancel(self) -> None:
        """Take no further thing; what is in hand is let go when it is done."""
        self.cancelled = True


class Errands(QObject):
    """Runs errands, each in a thread.

    Signals
    -------
    failed(Exception)
        A fault of ours, to be shown with its report.
    """

    failed = Signal(object)
    _news = Signal(object, str, object)

    def __init__(self, name: str, threads: int, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = ThreadPoolExecutor(threads, thread_name_prefix=name)
        self._running: set[Errand] = set()
        self._news.connect(self._deliver, Qt.ConnectionType.QueuedConnection)

    @property
    def busy(self) -> bool:
        """Whether something that was begun has not been told to its end."""
        return bool(self._running)

    def start(self, work: Work, errand: Errand) -> None:
        """Begin work.

        Parameters
        ----------
        work : callable
            Called in a thread with a function for progress; yields things.
        errand : Errand
        """
        self._running.add(errand)
        self._pool.submit(self._run, work, errand)

    def close(self) -> None:
        """Cancel all, wait until what is in hand is let go, and tell nothing more."""
        for errand in self._running:
            errand.cancel()
        self._running.clear()
        self._pool.shutdown(wait=True, cancel_futures=True)

    def finish(self, last: Callable[[], object]) -> None:
        """Do all that was begun and then one more thing, wait for it, and tell nothing more.

        Parameters
        ----------
        last : callable
            Called in a thread after everything else, where there is one thread.
        """
        self._running.clear()
        self._pool.submit(last)
        self._pool.shutdown(wait=True)

    def _run(self, work: Work, errand: Errand) -> None:
        def progress(done: int, of: int) -> None:
            self._news.emit(errand, "progress", (done, of))

        try:
            if not errand.cancelled:
                for thing in work(progress):
                    self._news.emit(errand, "each", (thing,))
                    # What is left of the work is let go with its iterator.
                    if errand.cancelled:
                        break
        except Exception as fault:
            self._news.emit(errand, "failed", (fault,))
        self._news.emit(errand, "ended", ())

    @Slot(object, str, object)
    def _deliver(self, errand: Errand, what: str, told: tuple[Any, ...]) -> None:
        if errand not in self._running:
            return
        if what == "failed":
            self.failed.emit(told[0])
        elif what == "ended":
            self._running.discard(errand)
            errand.ended()
        elif what == "progress":
            errand.progress(*told)
        elif not errand.cancelled:
            errand.each(*told)
