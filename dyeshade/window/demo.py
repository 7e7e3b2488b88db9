"""The shade library of the invented workshop, measured from the example photos when first seen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QProgressDialog, QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.window.errands import Errand, Errands, Progress
from dyeshade.window.presenter import Presenter
from dyeshade.work.demo_library import DemoMade, make_demo_library


class _StoppedError(Exception):
    """A person has had enough."""


class Demo(QObject):
    """Makes the library where it is not there yet, and has it opened.

    Parameters
    ----------
    show : callable
        Opens a library in the window.
    presenter : Presenter
    above : QWidget
    """

    def __init__(self, show: Callable[[Path], None], presenter: Presenter, above: QWidget) -> None:
        super().__init__(above)
        self._show, self._presenter, self._above = show, presenter, above
        self._errands = Errands("demo", 1, self)
        self._errands.failed.connect(presenter.fault)
        self._busy = False

    def open(self) -> None:
        """Open it, measured first where that was not done yet."""
        if self._busy:
            return
        self._busy = True
        dialog = QProgressDialog(
            self.tr("Measuring the example photos of the invented workshop…"),
            self.tr("Stop"), 0, 0, self._above,
        )  # fmt: skip
        dialog.setWindowTitle(self.tr("The invented workshop"))
        dialog.setWindowModality(Qt.WindowModality.WindowModal)
        dialog.setMinimumDuration(400)
        dialog.setAutoClose(False)

        def progress(done: int, of: int) -> None:
            dialog.setMaximum(of)
            dialog.setValue(done)

        def work(tell: Progress) -> Iterator[object]:
            def tell_or_stop(done: int, of: int) -> None:
                if errand.cancelled:
                    raise _StoppedError
                tell(done, of)

            try:
                yield make_demo_library(progress=tell_or_stop)
            except DyeshadeError as error:
                yield error
            except _StoppedError:
                return

        def take(told: object) -> None:
            if isinstance(told, DyeshadeError):
                self._presenter.refuse(told)
            elif isinstance(told, DemoMade):
                self._show(told.folder)

        def ended() -> None:
            self._busy = False
            dialog.close()
            dialog.deleteLater()

        errand = Errand(take, progress, ended)
        dialog.canceled.connect(errand.cancel)
        self._errands.start(work, errand)

    def close(self) -> None:
        """Stop, and wait for the photo in hand."""
        self._errands.close()
