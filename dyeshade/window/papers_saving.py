"""Saving a paper as a PDF, what is told of it, and handing it to whatever prints it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.paper.paper_page import LaidPages, draw_paper_page, write_pages_pdf
from dyeshade.window import printing
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.papers_forms import Lay
from dyeshade.window.presenter import Presenter
from dyeshade.words.papers import missing_on_paper


class PapersSaving(QWidget):
    """A button that saves, what came of it, and a button that opens the file.

    Parameters
    ----------
    desk : LibraryDesk
    presenter : Presenter

    Attributes
    ----------
    saved : Path or None
        The file, until something else is wanted.

    Signals
    -------
    wanted()
        The paper is to be saved.
    """

    wanted = Signal()

    def __init__(
        self, desk: LibraryDesk, presenter: Presenter, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk, self._presenter = desk, presenter
        self.saved: Path | None = None
        self._laid: LaidPages | None = None
        self._writing = False
        self.told = QLabel()
        self.told.setWordWrap(True)
        self.told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.save = QPushButton(self.tr("&Save as PDF…"))
        self.save.setProperty("main", True)
        self.print = QPushButton(self.tr("Print…"))
        self.open = QPushButton(self.tr("Open it for printin&g"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        for widget in (self.save, self.print, self.told, self.open):
            column.addWidget(widget)
        self.save.clicked.connect(self.wanted)
        self.print.clicked.connect(self.choose_printer)
        self.open.clicked.connect(self.open_for_printing)
        self.show_pages(None)

    def forget(self) -> None:
        """Something else is wanted than what was saved."""
        self.saved = None
        self.told.clear()
        self.open.hide()

    def tell(self, words: str) -> None:
        """Say something beneath the button."""
        self.told.setText(words)

    def write(
        self, lay: Lay, path: Path, made: Callable[[LaidPages], str], done: Callable[[], None]
    ) -> None:
        """Lay pages out and write them.

        Parameters
        ----------
        lay : callable
        path : Path
            Its ending may be left out.
        made : callable
            Says what was made, as in "12 tags".
        done : callable
            Called once the file is there.
        """
        path = printing.with_ending(path)
        self.tell(self.tr("Saving…"))
        self._writing = True
        self._allow()

        def job(library: Library) -> LaidPages:
            laid = lay(library)
            write_pages_pdf(laid, path)
            return laid

        def written(laid: LaidPages) -> None:
            self._writing = False
            self._allow()
            count = len(laid.pages)
            pages = self.tr("1 page") if count == 1 else self.tr("{} pages").format(count)
            told = self.tr("{} on {}, in {}. Print at 100 %.").format(made(laid), pages, path)
            if laid.missing:
                told += " " + missing_on_paper(laid.missing)
            self.tell(told)
            self.saved = path
            self.open.show()
            done()

        def refused(error: DyeshadeError) -> None:
            self._writing = False
            self._allow()
            self.told.clear()
            self._presenter.refuse(error)

        self._desk.ask(job, written, refused)

    def show_pages(self, laid: LaidPages | None) -> None:
        """Take the pages that are shown as those to save and to print."""
        self._laid = laid
        self._allow()

    def _allow(self) -> None:
        self.save.setEnabled(self._laid is not None and not self._writing)
        self.print.setEnabled(self._laid is not None)

    def choose_printer(self) -> None:
        """Ask for a printer, and print the pages that are shown."""
        laid = self._laid
        if laid is None:
            return
        # Not before: the window begins without it.
        from dyeshade.window.print_pages import ask_and_print, printer_for

        printer = printer_for(laid.pages[0].paper_mm, laid.title)
        if ask_and_print(self, printer, laid.pages, draw_paper_page) is False:
            self.tell(self.tr("The printer takes no pages."))

    def open_for_printing(self) -> None:
        """Hand the file to whatever shows PDFs on this computer."""
        if self.saved is not None and not printing.open_for_printing(self.saved):
            self.tell(
                self.tr("Nothing on this computer opens PDFs by itself. It is in {}.").format(
                    self.saved
                )
            )
