"""The place where tags, skein labels, piece sheets and pot cards are looked at and saved."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.library.changes import Changes
from dyeshade.paper.paper_page import LaidPages
from dyeshade.paper.shade_card import PAPERS
from dyeshade.window import printing
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.one_question import OneQuestion
from dyeshade.window.page_parts import scrolled
from dyeshade.window.papers_forms import LabelForm, PaperForm, SheetForm, TagForm
from dyeshade.window.papers_kept import keep_field, remember_tagged, tagged_in
from dyeshade.window.papers_new import NewPieces, NewPiecesDialog
from dyeshade.window.papers_pieces import PieceTicks
from dyeshade.window.papers_pot import ForPapers, PotForm, for_papers
from dyeshade.window.papers_preview import PapersPreview
from dyeshade.window.papers_saving import PapersSaving
from dyeshade.window.presenter import Presenter
from dyeshade.window.wording import refusal_words
from dyeshade.work.make_pieces import MadePieces, make_pieces

TAGS, LABELS, SHEETS, POT = range(4)


class PapersPlace(QWidget):
    """What is printed, of which pieces; a preview; the file to print.

    Parameters
    ----------
    desk : LibraryDesk
    presenter : Presenter
    """

    def __init__(
        self, desk: LibraryDesk, presenter: Presenter, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._stale = True
        self._wanted: tuple[str, ...] = ()
        self._pot_for: tuple[str, str] | None = None
        self.pieces = PieceTicks()
        self.tags, self.labels, self.sheets, self.pot = (
            TagForm(),
            LabelForm(),
            SheetForm(),
            PotForm(),
        )
        self.forms: tuple[PaperForm, ...] = (self.tags, self.labels, self.sheets, self.pot)
        self.paper = QComboBox()
        self.preview = PapersPreview()
        self.new = QPushButton(self.tr("Ne&w pieces…"))
        self.saving = PapersSaving(desk, presenter)
        self.ways = QButtonGroup(self)
        self._listing = OneQuestion(desk, self._show_records, self)
        self._laying = OneQuestion(desk, self._show_pages, self, self._show_refusal)
        self._build()
        self.pieces.ticked.connect(self._changed_wish)
        self.paper.activated.connect(lambda _row: self._changed_wish())
        for form in self.forms:
            form.wished.connect(self._changed_wish)
        self.ways.idClicked.connect(self.look_at)
        self.pot.take.clicked.connect(self._fill_pot)
        self.new.clicked.connect(self.ask_new)
        self.saving.wanted.connect(self.choose_file)
        desk.opened.connect(lambda _library: self._changed(None))
        desk.changed.connect(self._changed)
        self.look_at(TAGS)

    @property
    def busy(self) -> bool:
        """Whether pieces or pages are on their way."""
        return self._listing.busy or self._laying.busy

    @property
    def form(self) -> PaperForm:
        """The fields of what is looked at."""
        return self.forms[self.ways.checkedId()]

    def take(self, codes: Iterable[str]) -> None:
        """Choose pieces, and only those, by their codes."""
        self._wanted = tuple(codes)
        self._refresh()

    def make(self, which: str, codes: Iterable[str]) -> None:
        """Go to what another place asks for.

        Parameters
        ----------
        which : str
            "tags", "labels" or "sheets" of these pieces; the pot card of a "piece", a "bath" or a
            "commission".
        codes : iterable of str
            Of a pot card one.
        """
        places = {"tags": TAGS, "labels": LABELS, "sheets": SHEETS}
        if which in places:
            self.look_at(places[which])
            self.take(codes)
            return
        (code,) = codes
        self._pot_for = which, code
        self.look_at(POT)
        self._refresh()

    def look_at(self, which: int) -> None:
        """Go to `TAGS`, `LABELS`, `SHEETS` or `POT`."""
        self.ways.button(which).setChecked(True)
        for number, form in enumerate(self.forms):
            form.setVisible(number == which)
        self._changed_wish()

    def ask_new(self) -> None:
        """Ask for new pieces by the dozen; they are chosen then."""
        dialog = NewPiecesDialog(self._make_new, self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()

    def choose_file(self) -> None:
        """Ask where the paper goes, and save it there."""
        path = printing.ask_for_pdf(self, self.tr("Save for printing"), self.form.file_name)
        if path:
            self.save_to(path)

    def save_to(self, path: Path) -> None:
        """Save the paper as the fields stand."""
        form, codes = self.form, self.pieces.codes

        def made(laid: LaidPages) -> str:
            return form.made_words(len(codes) if form.needs_pieces else len(laid.pages))

        def done() -> None:
            library = self._desk.library
            if form is self.tags and library is not None:
                self.pieces.show_tagged(remember_tagged(library.folder, codes))

        self.saving.write(form.lay(codes, self.paper.currentData()), path, made, done)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Ask for what has changed while the place was not in view."""
        super().showEvent(event)
        if self._stale:
            self._refresh()

    def _build(self) -> None:
        kinds = QGridLayout()
        kinds.setSpacing(SPACE // 2)
        for which, words in (
            (TAGS, self.tr("Tags")),
            (LABELS, self.tr("Skein labels")),
            (SHEETS, self.tr("Piece sheets")),
            (POT, self.tr("Pot card")),
        ):
            button = QPushButton(words)
            button.setCheckable(True)
            self.ways.addButton(button, which)
            kinds.addWidget(button, which // 2, which % 2)
        left = QWidget()
        left.setFixedWidth(330)
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE)
        column.addLayout(kinds)
        column.addWidget(self.pieces, 1)
        column.addWidget(self.new)
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        row.setSpacing(SPACE + SPACE // 2)
        row.addWidget(left)
        row.addWidget(self.preview, 1)
        row.addWidget(self._build_settings())

    def _build_settings(self) -> QWidget:
        for paper in PAPERS:
            self.paper.addItem(paper, paper)
        usual = "Letter" if printing.letter_country() else "A4"
        self.paper.setCurrentIndex(self.paper.findData(usual))
        keep_field(self.paper, "papers/paper")
        label = QLabel(self.tr("Paper"))
        label.setBuddy(self.paper)
        self.paper.setAccessibleName(self.tr("Paper"))
        inner = QWidget()
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 0, SPACE // 2, 0)
        column.setSpacing(SPACE // 2)
        for widget in (label, self.paper, *self.forms, self.saving):
            column.addWidget(widget)
            if widget is self.paper:
                column.addSpacing(SPACE // 2)
        column.addStretch(1)
        area = scrolled(inner)
        area.setFixedWidth(270)
        return area

    def _make_new(
        self,
        said: NewPieces,
        done: Callable[[object], None],
        refused: Callable[[DyeshadeError], None],
    ) -> None:
        count, alike, names = said

        def made(pieces: MadePieces) -> None:
            done(pieces)
            self.take(pieces.codes)

        words = self.tr("make {} pieces").format(count)
        self._desk.change(
            words, lambda library: make_pieces(library, count, alike, names), made, refused
        )

    @Slot(object)
    def _changed(self, changes: Changes | None) -> None:
        if changes is not None and changes.kinds <= {"draft"}:
            return
        self.sheets.forget()
        self._stale = True
        if self.isVisible():
            self._refresh()

    def _refresh(self) -> None:
        self._stale = False
        self._listing.ask(for_papers)

    def _show_records(self, records: ForPapers) -> None:
        ticked, self._wanted = self._wanted or self.pieces.codes, ()
        self.new.setEnabled(self._desk.can_write)
        self.pot.show_records(records)
        library = self._desk.library
        self.pieces.show_tagged(tagged_in(library.folder if library else None))
        self.pieces.show_pieces(records.pieces, ticked)
        if self._pot_for is not None:
            (source, code), self._pot_for = self._pot_for, None
            self.pot.choose(source, code)

    def _fill_pot(self) -> None:
        left = self.pot.fill(self.pieces.chosen)
        if left:
            self.saving.tell(
                self.tr("Left out, since weight or kind of fibre is not known: {}.").format(
                    ", ".join(left)
                )
            )

    def _lacks(self) -> str:
        if self.form is self.pot:
            return self.pot.lacks()
        if not self.pieces.codes:
            return self.tr("Choose pieces on the left, or make new ones.")
        return ""

    def _changed_wish(self) -> None:
        self.saving.forget()
        lacks = self._lacks()
        if lacks:
            self._laying.forget()
            self.preview.show_words(lacks)
            self.saving.show_pages(None)
        else:
            self._laying.ask(self.form.lay(self.pieces.codes, self.paper.currentData()))

    def _show_pages(self, laid: LaidPages) -> None:
        self.preview.show_pages(laid)
        self.saving.show_pages(laid)

    def _show_refusal(self, error: DyeshadeError) -> None:
        self.preview.show_words(refusal_words(error))
        self.saving.show_pages(None)
