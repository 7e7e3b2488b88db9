"""Strips in photos, read beside the window: one at a time, and the last of those asked for."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QObject, Signal

from dyeshade.window.errands import Errand, Errands, Progress
from dyeshade.work.read_strip import StripAsked, StripLook, look_at_strip
from dyeshade.work.side_by_side import Warm


class ReadingStrips(QObject):
    """Reads a strip in a process of its own, that stays ready for the next.

    Signals
    -------
    came(StripLook)
        Its `asked` is the very object that was asked with.
    failed(Exception)
        A fault of ours.
    """

    came = Signal(object)
    failed = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._errands: Errands | None = None
        self._next: StripAsked | None = None
        self._closed = False
        self._warm = Warm()
        self.busy = False

    def ask(self, wanted: StripAsked) -> None:
        """Ask for a strip; `came` tells."""
        self._next = wanted
        self._go_on()

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
            # A thread is begun only where somebody reads a strip.
            self._errands = Errands("strips", 1, self)
            self._errands.failed.connect(self.failed)
        wanted, self._next, self.busy = self._next, None, True

        def work(_progress: Progress) -> Iterator[StripLook]:
            yield look_at_strip(wanted, self._warm)

        self._errands.start(work, Errand(self.came.emit, ended=self._ended))

    def _ended(self) -> None:
        self.busy = False
        self._go_on()
