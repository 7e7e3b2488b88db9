"""Measures photos beside the window: the work in other processes, the news in the main thread."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Future, ThreadPoolExecutor

from PySide6.QtCore import QObject, Signal

from dyeshade.work.measure_photos import PhotoOutcome, measure_photos


class Measuring(QObject):
    """One run after the other, each off the main thread.

    Signals
    -------
    photo_done(PhotoOutcome)
    progressed(int, int)
        How many are done, how many there are.
    finished()
    failed(Exception)
        A fault of ours, to be shown with its report.
    """

    photo_done = Signal(object)
    progressed = Signal(int, int)
    finished = Signal()
    failed = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="measuring")
        self._stop = False
        self._run: Future[None] | None = None

    def start(self, paths: Sequence[str], light: str | None) -> None:
        """Measure photos; news comes by the signals."""
        self._stop = False
        self._run = self._pool.submit(self._measure, list(paths), light)

    def cancel(self) -> None:
        """Measure no further photo; what is done stays."""
        self._stop = True

    def close(self) -> None:
        """Stop, and wait until the photo in hand is let go."""
        self.cancel()
        self._pool.shutdown(wait=True)

    def _measure(self, paths: list[str], light: str | None) -> None:
        try:
            for outcome in measure_photos(paths, light=light, progress=self.progressed.emit):
                self._tell(outcome)
                if self._stop:
                    break
        except Exception as fault:
            self.failed.emit(fault)
        finally:
            self.finished.emit()

    def _tell(self, outcome: PhotoOutcome) -> None:
        self.photo_done.emit(outcome)
