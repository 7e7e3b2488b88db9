"""Commissions: shades that were agreed on, whether dyeings met them, and dyeing for them again."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QPushButton

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.window import commission_jobs, compare_questions
from dyeshade.window.commission_dialogs import CommissionDialog, JudgeDialog
from dyeshade.window.compare_fields import plain_box
from dyeshade.window.form_dialog import FormDialog, Keep
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.presenter import Presenter
from dyeshade.window.question_page import Ask, QuestionPage
from dyeshade.window.typed_fields import Answers, NumberField
from dyeshade.words.answered import Answered
from dyeshade.words.commission_answer import (
    CommissionLine,
    commission_figure,
    commission_sentences,
    made_again_words,
)
from dyeshade.work.commissions import CommissionKept, SaidCommission, agree
from dyeshade.work.compare_choices import CompareChoices

if TYPE_CHECKING:
    from dyeshade.work.commission_again import CommissionBath


class CommissionsPage(QuestionPage):
    """All commissions; of the chosen one what was agreed on and how near its dyeings came.

    Attributes
    ----------
    which : QComboBox
    new, judge, put_right, remove, nearest, again : QPushButton
    grams : NumberField

    Signals
    -------
    bath_wanted(TypedBath)
        The agreed shade is to be dyed: its bath for the weight.
    nearest_wanted(str, float)
        What comes nearest to the agreed shade is wanted: its numbers or piece, and the tolerance.
    dialog_opened(FormDialog)
        A form stands open; its colour field may want to be picked.
    """

    bath_wanted = Signal(object)
    nearest_wanted = Signal(str, float)
    dialog_opened = Signal(object)

    def __init__(self, desk: LibraryDesk, presenter: Presenter) -> None:
        super().__init__(
            desk,
            presenter,
            CommissionsPage.tr("Was the agreed shade met? Commissions"),
            CommissionsPage.tr("No commission is kept yet."),
        )
        self.which = plain_box(QComboBox(), 16)
        for words, state in (
            (self.tr("all of them"), None),
            (self.tr("those that are open"), "open"),
            (self.tr("those that were met"), "met"),
        ):
            self.which.addItem(words, state)
        self.new = QPushButton(self.tr("A new &commission…"))
        self.new.setProperty("main", True)
        self.judge = QPushButton(self.tr("&Judge a dyeing…"))
        self.put_right = QPushButton(self.tr("Put it r&ight…"))
        self.remove = QPushButton(self.tr("Re&move it"))
        self.add_control(0, self.tr("Commi&ssions"), self.which)
        for place, button in enumerate((self.new, self.judge, self.put_right, self.remove), 1):
            self.controls.addWidget(button, 1, place)
        self.controls.setColumnStretch(5, 1)
        self.grams = NumberField(
            self.tr("Weight of the fibre in grams"), self.tr("The weight"), above=0.0, unit="g"
        )
        self.grams.setMaximumWidth(90)
        self.grams.setPlaceholderText(self.tr("g of fibre"))
        self.again = QPushButton(self.tr("Make it a&gain…"))
        self.nearest = QPushButton(self.tr("What comes nearest t&o it?"))
        self.open = QPushButton(self.tr("Open it in the librar&y"))
        self.wrong = Answers(self.grams)
        self.foot.addWidget(self.wrong, 1)
        self.foot.addStretch(1)
        for widget in (self.open, self.nearest, self.grams, self.again):
            self.foot.addWidget(widget)
        self._weight_of: str | None = None
        self._connect()
        self._show_chosen()

    def _connect(self) -> None:
        self.which.activated.connect(lambda _row: self.refresh())
        self.new.clicked.connect(lambda _on: self.add())
        self.judge.clicked.connect(self.judge_dyeing)
        self.put_right.clicked.connect(self.change)
        self.remove.clicked.connect(self.drop)
        self.open.clicked.connect(self.open_line)
        self.nearest.clicked.connect(self.ask_nearest)
        self.again.clicked.connect(self.make_again)
        self.grams.textChanged.connect(lambda _text: self._allow())
        self.table.selectionModel().selectionChanged.connect(lambda *_: self._show_chosen())

    @property
    def chosen(self) -> CommissionKept | None:
        """The commission of the chosen line."""
        return self.line.kept if isinstance(self.line, CommissionLine) else None

    def show_choices(self, choices: CompareChoices) -> None:
        """Nothing to offer beside what the dialogs take."""

    def question(self) -> Ask:
        """The commissions that are asked for."""
        state, today = self.which.currentData(), date.today()
        return lambda library: compare_questions.commissions(library, state, today)

    def show_answer(self, answered: Answered) -> None:
        """Show them; the commission that was chosen stays so, whatever has become of it."""
        before = None if self.chosen is None else self.chosen.commission.id
        super().show_answer(answered)
        for row, line in enumerate(answered.lines):
            kept = line.kept if isinstance(line, CommissionLine) else None
            if kept is not None and kept.commission.id == before:
                self.table.selectRow(row)
        self._show_chosen()

    def add(self, piece: str = "") -> None:
        """Agree on a shade, such as that of a piece."""
        if self.desk.can_write:
            dialog = CommissionDialog(self.choices, None, self, self._keep_new)
            dialog.shade.choose(piece)
            self._open(dialog)

    def change(self) -> None:
        """Put the chosen commission right."""
        kept = self.chosen
        if kept is not None and self.desk.can_write:
            code = kept.commission.code
            keep = self._keeping(
                self.tr("change {}").format(code),
                lambda library, said: commission_jobs.put_right(library, code, said),
            )
            self._open(CommissionDialog(self.choices, kept, self, keep))

    def judge_dyeing(self) -> None:
        """Say which piece was dyed for the chosen commission."""
        kept = self.chosen
        if kept is not None and self.desk.can_write:
            code = kept.commission.code
            keep = self._keeping(
                self.tr("judge a dyeing by {}").format(code),
                lambda library, said: commission_jobs.judge(library, code, *said),
            )
            self._open(JudgeDialog(self.choices, kept, self.desk, self, keep))

    def drop(self) -> None:
        """Remove the chosen commission; undo brings it back."""
        kept = self.chosen
        if kept is not None and self.desk.can_write:
            code = kept.commission.code
            words = self.tr("remove {}").format(code)
            self.desk.change(words, lambda library: commission_jobs.drop(library, code))

    def ask_nearest(self) -> None:
        """Ask which shade of the library comes nearest to the agreed one."""
        kept = self.chosen
        if kept is not None:
            shade = kept.agreed_piece or ",".join(f"{value:.2f}" for value in kept.commission.lab)
            self.nearest_wanted.emit(shade, kept.commission.tolerance)

    def make_again(self) -> None:
        """Ask for the bath that makes the agreed shade, for so much fibre."""
        kept = self.chosen
        if kept is None or not self.wrong.check(self.grams):
            return
        code, grams = kept.commission.code, self.grams.read()
        if grams is None:
            return

        def take(bath: CommissionBath) -> None:
            self.panel.told.setText(made_again_words(bath))
            self.bath_wanted.emit(bath.typed)

        self.desk.ask(
            lambda library: commission_jobs.again(library, code, grams), take, self.presenter.refuse
        )

    def _keep_new(
        self,
        said: SaidCommission,
        done: Callable[[object], None],
        refused: Callable[[DyeshadeError], None],
    ) -> None:
        def then(kept: CommissionKept) -> None:
            self.which.setCurrentIndex(0)
            done(kept)

        words = self.tr("agree on a commission")
        self.desk.change(words, lambda library: agree(library, said), then, refused)

    def _keeping(self, words: str, job: Callable[[Library, Any], object]) -> Keep:
        def keep(
            said: object,
            done: Callable[[object], None],
            refused: Callable[[DyeshadeError], None],
        ) -> None:
            self.desk.change(words, lambda library: job(library, said), done, refused)

        return keep

    def _open(self, dialog: FormDialog) -> None:
        self.desk.failed.connect(dialog.release)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        self.dialog_opened.emit(dialog)

    def _show_chosen(self) -> None:
        kept = self.chosen
        if kept is not None:
            self.show_figure(commission_figure(kept))
            self.more.setText("\n".join(commission_sentences(kept)))
            self.more.show()
            # What was typed for one commission stays until another is chosen.
            if self._weight_of != kept.commission.code:
                self._weight_of = kept.commission.code
                self.grams.show_value(kept.commission.weight_g)
        self._allow()

    def _allow(self) -> None:
        chosen, can = self.chosen is not None, self.desk.can_write
        for widget in (self.open, self.nearest, self.grams, self.again):
            widget.setVisible(bool(self.model.records))
        self.new.setEnabled(can)
        for button in (self.judge, self.put_right, self.remove):
            button.setEnabled(chosen and can)
        self.nearest.setEnabled(chosen)
        self.open.setEnabled(chosen and self.line is not None and self.line.reading_id is not None)
        self.again.setEnabled(chosen and bool(self.grams.text().strip()))
