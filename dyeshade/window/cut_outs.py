"""Pictures of samples, cut out of their photos beside the window."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QPixmap

from dyeshade.errors import DyeshadeError
from dyeshade.window.errands import Errand, Errands, Progress
from dyeshade.work.cut_out import CutOut, cut_out
from dyeshade.work.side_by_side import Warm

_MOST_KEPT = 60


class CutOuts(QObject):
    """Reads one photo at a time; of those that are asked for meanwhile, only the last.

    Signals
    -------
    came(CutOut, QPixmap or DyeshadeError)
    failed(Exception)
        A fault of ours.
    """

    came = Signal(object, object)
    failed = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._errands: Errands | None = None
        self._busy = False
        self._next: CutOut | None = None
        self._kept: dict[CutOut, QPixmap] = {}
        self._closed = False
        self._warm = Warm()

    def ask(self, wanted: CutOut) -> None:
        """Ask for a picture; `came` tells."""
        if wanted in self._kept:
            self._next = None
            self.came.emit(wanted, self._kept[wanted])
            return
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
        if self._busy or self._next is None or self._closed:
            return
        if self._errands is None:
            # Threads are begun only where somebody looks at photos.
            self._errands = Errands("cut-out", 1, self)
            self._errands.failed.connect(self.failed)
        wanted, self._next, self._busy = self._next, None, True

        def work(_progress: Progress) -> Iterator[bytes | DyeshadeError]:
            try:
                yield cut_out(wanted, self._warm)
            except DyeshadeError as error:
                yield error

        self._errands.start(work, Errand(lambda told: self._take(wanted, told), ended=self._ended))

    def _take(self, wanted: CutOut, told: bytes | DyeshadeError) -> None:
        if isinstance(told, DyeshadeError):
            self.came.emit(wanted, told)
            return
        picture = QPixmap()
        picture.loadFromData(told, "JPEG")
        self._kept[wanted] = picture
        while len(self._kept) > _MOST_KEPT:
            del self._kept[next(iter(self._kept))]
        self.came.emit(wanted, picture)

    def _ended(self) -> None:
        self._busy = False
        self._go_on()
