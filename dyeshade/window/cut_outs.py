"""Pictures of samples, cut out of their photos beside the window."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QPixmap

from dyeshade.errors import DyeshadeError
from dyeshade.window.last_wish import LastWish
from dyeshade.work.cut_out import CutOut, cut_out

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
        self._reading = LastWish("cut-out", cut_out, self)
        self._reading.came.connect(self._take)
        self._reading.failed.connect(self.failed)
        self._kept: dict[CutOut, QPixmap] = {}

    def ask(self, wanted: CutOut) -> None:
        """Ask for a picture; `came` tells."""
        if wanted in self._kept:
            self.forget()
            self.came.emit(wanted, self._kept[wanted])
        else:
            self._reading.ask(wanted)

    def forget(self) -> None:
        """Drop what is not begun yet."""
        self._reading.forget()

    def close(self) -> None:
        """Wait for what is in hand, and read nothing more."""
        self._reading.close()

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
