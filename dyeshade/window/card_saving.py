"""Saving a shade card as a PDF, and handing it to whatever prints it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.paper.card_layout import LaidCard
from dyeshade.paper.card_page import draw_card_page
from dyeshade.window import printing
from dyeshade.window.card_making import CardMaking
from dyeshade.window.look import SPACE
from dyeshade.window.presenter import Presenter
from dyeshade.words.shade_card import missing_words
from dyeshade.work.make_card import MadeCard


class CardSaving(QWidget):
    """A button that saves, what came of it, and a button that opens the file.

    Parameters
    ----------
    making : CardMaking
    presenter : Presenter

    Attributes
    ----------
    saved : Path or None
        The file, until the card is changed.
    """

    def __init__(
        self, making: CardMaking, presenter: Presenter, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._making, self._presenter = making, presenter
        self.saved: Path | None = None
        self._laid: LaidCard | None = None
        self._writing = False
        self.missing, self.told = QLabel(), QLabel()
        self.save = QPushButton(self.tr("&Save the card as PDF…"))
        self.save.setProperty("main", True)
        self.print = QPushButton(self.tr("Print…"))
        self.open = QPushButton(self.tr("Ope&n it for printing"))
        help_ = QLabel(
            self.tr(
                "Print at 100 %. Printers change colours: the figures are the shades, the "
                "swatches only show them."
            )
        )
        help_.setProperty("faint", True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        for widget in (help_, self.missing, self.save, self.print, self.told, self.open):
            if isinstance(widget, QLabel):
                widget.setWordWrap(True)
            column.addWidget(widget)
        self.told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.save.clicked.connect(self.choose_file)
        self.print.clicked.connect(self.choose_printer)
        self.open.clicked.connect(self.open_for_printing)
        making.changed.connect(self._forget)
        making.laid_out.connect(self._tell_missing)
        self._forget()
        self._tell_missing(None)

    def choose_file(self) -> None:
        """Ask where the card goes, and save it there."""
        name = _file_name(self._making.choice.card.title)
        path = printing.ask_for_pdf(self, self.tr("Save the shade card"), name)
        if path:
            self.save_to(path)

    def save_to(self, path: Path) -> None:
        """Save the card as it is shown."""
        path = printing.with_ending(path)
        number = self._making.number
        self.told.setText(self.tr("Saving…"))
        self._writing = True
        self._allow()

        def done(made: MadeCard) -> None:
            self._writing = False
            self._allow()
            pages = self.tr("1 page") if made.pages == 1 else self.tr("{} pages").format(made.pages)
            told = self.tr("{} on {}, in {}.").format(
                self._making.counted(made.shades), pages, path
            )
            if number != self._making.number:
                told += self.tr(" What was changed meanwhile is not in it.")
            self.told.setText(told)
            self.saved = path
            self.open.show()

        def refused(error: DyeshadeError) -> None:
            self._writing = False
            self._allow()
            self.told.clear()
            self._presenter.refuse(error)

        self._making.save(path, done, refused)

    def choose_printer(self) -> None:
        """Ask for a printer, and print the pages that are shown."""
        laid = self._laid
        if laid is None:
            return
        # Not before: the window begins without it.
        from dyeshade.window.print_pages import ask_and_print, printer_for

        title = laid.card.title or self.tr("shade card")
        printer = printer_for(laid.pages[0].paper_mm, title, laid.card.two_sided)
        if ask_and_print(self, printer, laid.pages, draw_card_page) is False:
            self.told.setText(self.tr("The printer takes no pages."))

    def open_for_printing(self) -> None:
        """Hand the file to whatever shows PDFs on this computer."""
        if self.saved is None:
            return
        if not printing.open_for_printing(self.saved):
            self.told.setText(
                self.tr("Nothing on this computer opens PDFs by itself. The card is in {}.").format(
                    self.saved
                )
            )

    def _forget(self) -> None:
        self.saved = None
        self.told.clear()
        self.open.hide()

    def _tell_missing(self, laid: LaidCard | None) -> None:
        self._laid = laid
        self._allow()
        missing = "" if laid is None else laid.missing
        self.missing.setText(missing_words(missing) if missing else "")
        self.missing.setVisible(bool(missing))

    def _allow(self) -> None:
        self.save.setEnabled(self._laid is not None and not self._writing)
        self.print.setEnabled(self._laid is not None)


def _file_name(title: str) -> str:
    """A title without what file systems do not take."""
    plain = "".join(c if c.isprintable() and c not in '\\/:*?"<>|' else " " for c in title)
    return " ".join(plain.split()).strip(".")[:80] or "shade card"
