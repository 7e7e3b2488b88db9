"""The one place that shows what went wrong: the world's troubles in words, ours with a report."""

from __future__ import annotations

import platform
import sys
import threading
import traceback
from collections.abc import Callable
from types import TracebackType

from PySide6.QtCore import QObject, Qt, Signal, Slot, qVersion
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QLabel,
    QMessageBox,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from dyeshade import __version__
from dyeshade.errors import DyeshadeError
from dyeshade.window.look import SPACE
from dyeshade.window.return_key import Dialog
from dyeshade.window.wording import refusal_words


class Presenter(QObject):
    """Shows troubles above a window.

    Signals
    -------
    _came(Exception)
        A fault from any thread, on its way to the main thread.
    """

    _came = Signal(object)

    def __init__(self, above: QWidget) -> None:
        super().__init__(above)
        self._above = above
        self._report: FaultReport | None = None
        self._came.connect(self._show, Qt.ConnectionType.QueuedConnection)

    def refuse(self, error: DyeshadeError) -> None:
        """Say what the world did."""
        box = QMessageBox(QMessageBox.Icon.Warning, "dyeshade", refusal_words(error))
        box.setParent(self._above, box.windowFlags())
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.open()

    def warn(self, words: str, go_on: str, then: Callable[[], None]) -> None:
        """Say what would be lost, and go on only where that is wanted.

        Parameters
        ----------
        words : str
        go_on : str
            Words of the button that goes on; the other one leaves all as it is.
        then : callable
            Goes on.
        """
        box = QMessageBox(QMessageBox.Icon.Warning, "dyeshade", words)
        box.setParent(self._above, box.windowFlags())
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        stays = box.addButton(QMessageBox.StandardButton.Cancel)
        box.addButton(go_on, QMessageBox.ButtonRole.DestructiveRole).clicked.connect(
            lambda _checked=False: then()
        )
        box.setDefaultButton(stays)
        box.open()

    @Slot(object)
    def fault(self, fault: BaseException) -> None:
        """Show a fault of ours with its report; may be called in any thread."""
        self._came.emit(fault)

    def catch_all(self) -> None:
        """Take every exception that nobody else takes, in this thread and in others."""

        def in_main(
            kind: type[BaseException], fault: BaseException, where: TracebackType | None
        ) -> None:
            sys.__excepthook__(kind, fault, where)
            if issubclass(kind, KeyboardInterrupt):
                QGuiApplication.quit()
            else:
                self.fault(fault)

        def in_thread(told: threading.ExceptHookArgs) -> None:
            if told.exc_value is not None:
                in_main(told.exc_type, told.exc_value, told.exc_traceback)

        sys.excepthook = in_main
        threading.excepthook = in_thread

    @Slot(object)
    def _show(self, fault: BaseException) -> None:
        if isinstance(fault, DyeshadeError):
            self.refuse(fault)
            return
        if self._report is None:
            self._report = FaultReport(self._above)
        self._report.add(fault)
        self._report.open()


class FaultReport(Dialog):
    """A report for whoever makes dyeshade; further faults are added to it."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(self.tr("dyeshade made a mistake"))
        self.resize(640, 420)
        words = QLabel(
            self.tr(
                "What you did last may not have been done; your photos are untouched. "
                "Copy this report and send it to whoever gave you dyeshade. It names files that "
                "you opened, and holds none of them."
            )
        )
        words.setWordWrap(True)
        self.text = QPlainTextEdit()
        self.text.setReadOnly(True)
        self.text.setAccessibleName(self.tr("Report"))
        self.text.setPlainText(
            f"dyeshade {__version__}, Python {platform.python_version()}, Qt {qVersion()}, "
            f"{platform.platform()}\n"
        )
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        copy = buttons.addButton(self.tr("&Copy report"), QDialogButtonBox.ButtonRole.ActionRole)
        copy.clicked.connect(self.copy)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setSpacing(SPACE)
        for widget in (words, self.text, buttons):
            column.addWidget(widget)

    def add(self, fault: BaseException) -> None:
        """Add a fault to the report."""
        self.text.appendPlainText("".join(traceback.format_exception(fault)))

    def copy(self) -> None:
        """Put the report on the clipboard."""
        QGuiApplication.clipboard().setText(self.text.toPlainText())
