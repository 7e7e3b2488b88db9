"""The library's photos measured anew beside the window, one by one, until it is stopped."""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from pathlib import Path

from PySide6.QtCore import QObject, Signal, Slot

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.measure.result import Measurement
from dyeshade.window.errands import Errand, Errands, Progress
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.work.read_again import (
    NotRead,
    PhotoReadAgain,
    PhotoToRead,
    keep_again,
    measure_again,
    photos_to_read,
)

_Told = tuple[PhotoToRead, Measurement | DyeshadeError]


class ReadingAgain(QObject):
    """Measures in a thread, and has the library keep what comes.

    What is kept is kept: whoever stops, or closes the window, goes on there the next time.

    Parameters
    ----------
    desk : LibraryDesk

    Attributes
    ----------
    running : bool
    told : list of PhotoReadAgain
        What became of the photos of this round.

    Signals
    -------
    changed()
        It began, went on, or ended: look at `running`, `done` and `of`.
    ended()
        It is over.
    """

    changed = Signal()
    ended = Signal()

    def __init__(self, desk: LibraryDesk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._errands = Errands("reading again", 1, self)
        self._errands.failed.connect(desk.failed)
        self._errand: Errand | None = None
        self.running = False
        self.stopping = False
        self.done, self.of = 0, 0
        self.told: list[PhotoReadAgain] = []
        self._folder = Path()
        desk.opened.connect(self.stop)
        desk.failed.connect(self._failed)

    def start(self) -> None:
        """Read all photos that wait; nothing where it runs already, or nothing may be written."""
        if self.running or not self._desk.can_write:
            return
        self.running, self.stopping = True, False
        self.done, self.of, self.told = 0, 0, []
        self.changed.emit()
        assert self._desk.library is not None
        self._folder = self._desk.library.folder

        def ask(library: Library) -> tuple[PhotoToRead | NotRead, ...]:
            return photos_to_read(library) if library.folder == self._folder else ()

        self._desk.ask(ask, self._begin, self._lost)

    @Slot()
    def stop(self) -> None:
        """Take no further photo; what is kept stays."""
        if self.running:
            self.stopping = True
            if self._errand is not None:
                self._errand.cancel()
            self.changed.emit()

    def close(self) -> None:
        """Stop, and wait until the photo in hand is let go."""
        self._errands.close()

    def _begin(self, waiting: Sequence[PhotoToRead | NotRead]) -> None:
        for one in waiting:
            if isinstance(one, NotRead):
                self.told.append(PhotoReadAgain(one.name, error=one.error))
        photos = [one for one in waiting if isinstance(one, PhotoToRead)]
        if self.stopping:
            self._ended()
            return
        self.of = len(photos)
        self._errand = Errand(self._keep, self._went_on, self._measured)
        self._errands.start(lambda progress: _measure(photos, progress), self._errand)

    def _keep(self, told: _Told) -> None:
        photo, found = told
        folder = self._folder

        def keep(library: Library) -> PhotoReadAgain | None:
            # Another library may have been opened since: its photos have the same numbers.
            return keep_again(library, photo, found) if library.folder == folder else None

        self._desk.ask(keep, self._kept, self._lost)

    def _kept(self, told: PhotoReadAgain | None) -> None:
        if told is not None:
            self.told.append(told)

    def _went_on(self, done: int, of: int) -> None:
        self.done, self.of = done, of
        self.changed.emit()

    def _measured(self) -> None:
        # What was measured last is kept by then.
        self._desk.ask(lambda _library: None, lambda _nothing: self._ended(), self._lost)

    def _lost(self, error: DyeshadeError) -> None:
        self._desk.refused.emit(error)
        self.stopping = True
        if self._errand is None:
            self._ended()
        else:
            self._errand.cancel()

    @Slot(object)
    def _failed(self, _fault: object) -> None:
        # A fault of ours before anything was measured: nobody else will say that it is over.
        if self.running and self._errand is None:
            self._ended()

    def _ended(self) -> None:
        self.running, self._errand = False, None
        self.changed.emit()
        self.ended.emit()


def _measure(photos: Sequence[PhotoToRead], progress: Progress) -> Iterator[_Told]:
    measuring: Generator[_Told, None, None] = measure_again(photos, progress=progress)
    return measuring
