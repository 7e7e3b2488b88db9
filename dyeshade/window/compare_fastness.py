"""Home fastness tests: how one is set up, begun, photographed again, and what it came to."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout

from dyeshade.library.shade_records import Reading
from dyeshade.window import compare_questions
from dyeshade.window.compare_fields import PieceBox, plain_box
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.one_question import OneQuestion
from dyeshade.window.presenter import Presenter
from dyeshade.window.question_page import Ask, QuestionPage, fill_box
from dyeshade.window.typed_fields import Answers, NumberField
from dyeshade.words.figure_words import short_reading_words
from dyeshade.words.home_test_words import HOME_TEST, SET_UP, TESTS, running_words
from dyeshade.work.compare_choices import CompareChoices
from dyeshade.work.home_tests import (
    KINDS,
    RunningTest,
    begin_home_test,
    readings_of_piece,
    running_light_tests,
)


class FastnessPage(QuestionPage):
    """Whether a piece's colour lasts, by tests at home."""

    def __init__(self, desk: LibraryDesk, presenter: Presenter) -> None:
        super().__init__(
            desk,
            presenter,
            FastnessPage.tr("Does the colour last? Tests at home"),
            FastnessPage.tr("Choose the piece to be tested. {}").format(HOME_TEST),
        )
        self.piece = PieceBox(self.tr("Piece"))
        self.kind = plain_box(QComboBox(), 16)
        self.kind.addItem(self.tr("all that it went through"), None)
        for kind, words in TESTS.items():
            self.kind.addItem(words, kind)
        self.before, self.after = plain_box(QComboBox(), 18), plain_box(QComboBox(), 18)
        self.add_control(0, self.tr("Pie&ce"), self.piece)
        self.add_control(1, self.tr("&Test"), self.kind)
        self.add_control(2, self.tr("&Untreated reading"), self.before)
        self.add_control(3, self.tr("T&reated reading"), self.after)
        self.controls.setColumnStretch(1, 1)
        self.controls.setColumnStretch(2, 1)
        self.controls.setColumnStretch(3, 1)
        self.due, self.steps = QLabel(), QLabel()
        self.ph = NumberField(self.tr("pH of the dip"), self.tr("The pH"), 0.0, 14.0)
        self.ph.setPlaceholderText(self.tr("pH of the dip"))
        self.ph.setMaximumWidth(110)
        self.start = QPushButton(self.tr("Be&gin the test now"))
        self.wrong = Answers(self.ph)
        self._running = OneQuestion(desk, self._take_running, self)
        self._readings = OneQuestion(desk, self._take_readings, self, lambda _error: None)
        self._build_set_up()
        self.piece.chosen.connect(self._other_piece)
        self.kind.activated.connect(lambda _row: self._other_kind())
        self.before.activated.connect(lambda _row: self.refresh())
        self.after.activated.connect(lambda _row: self.refresh())
        self.start.clicked.connect(self.begin_test)
        self._other_kind()

    @property
    def busy(self) -> bool:
        """Whether an answer of the library is on its way."""
        return super().busy or self._running.busy or self._readings.busy

    def show_choices(self, choices: CompareChoices) -> None:
        """Offer the pieces."""
        self.piece.show_pieces(choices)

    def begin(self) -> None:
        """Begin with another library."""
        self._running.forget()
        self._readings.forget()
        super().begin()

    def ask(self) -> None:
        """Ask for the result, for the piece's readings, and for what is due."""
        super().ask()
        self._running.ask(running_light_tests)
        code = self.piece.code
        if code:
            self._readings.ask(lambda library: readings_of_piece(library, code))

    def question(self) -> Ask | None:
        """The tests of the piece that is meant."""
        piece, kind = self.piece.code, self.kind.currentData()
        pair = (self.before.currentData(), self.after.currentData())
        if not piece:
            return None
        named = [pair] if kind is not None and None not in pair and pair[0] != pair[1] else []
        return lambda library: compare_questions.fastness(library, piece, kind, named)

    def begin_test(self) -> None:
        """Write down that the piece goes into the test now."""
        piece, kind = self.piece.code, self.kind.currentData()
        if not piece or kind not in KINDS or not self.wrong.check(self.ph):
            return
        ph = self.ph.read() if KINDS[kind] == "dip" else None
        if KINDS[kind] == "dip" and ph is None:
            self.wrong.answer(self.ph, self.tr("The pH of the dip is needed."))
            return
        now = datetime.now().replace(microsecond=0)
        self.desk.change(
            self.tr("begin a home fastness test"),
            lambda library: begin_home_test(library, piece, kind, now, ph),
        )

    def _build_set_up(self) -> None:
        card = QFrame()
        card.setProperty("card", True)
        self.steps.setWordWrap(True)
        self.steps.setAccessibleName(self.tr("How the test is set up"))
        self.due.setWordWrap(True)
        self.due.setAccessibleName(self.tr("Next photos"))
        foot = QHBoxLayout()
        foot.addWidget(self.wrong, 1)
        foot.addStretch(1)
        foot.addWidget(self.ph)
        foot.addWidget(self.start)
        inner = QVBoxLayout(card)
        inner.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        inner.setSpacing(SPACE // 2)
        inner.addWidget(self.steps)
        inner.addLayout(foot)
        self.set_up = card
        column = self.layout()
        assert isinstance(column, QVBoxLayout)
        column.insertWidget(2, card)
        column.insertWidget(2, self.due)

    def _other_piece(self) -> None:
        self.before.clear()
        self.after.clear()
        self._allow()
        self.refresh()

    def _other_kind(self) -> None:
        kind = self.kind.currentData()
        self.set_up.setVisible(kind is not None)
        if kind is not None:
            self.steps.setText("\n".join(f"{k}.  {s}" for k, s in enumerate(SET_UP[kind], 1)))
        self.start.setVisible(kind in KINDS)
        self.ph.setVisible(KINDS.get(kind or "") == "dip")
        self._allow()
        self.refresh()

    def _allow(self) -> None:
        named = self.kind.currentData() is not None
        for box in (self.before, self.after):
            box.setEnabled(named and box.count() > 2)
        self.start.setEnabled(self.desk.can_write and bool(self.piece.code))

    def _take_running(self, tests: tuple[RunningTest, ...]) -> None:
        words = running_words(tests, datetime.now())
        self.due.setText(words)
        self.due.setVisible(bool(words))

    def _take_readings(self, readings: Sequence[Reading]) -> None:
        options = [(self.tr("as the piece's history tells"), None)]
        options += [(short_reading_words(one), one.id) for one in readings]
        for box in (self.before, self.after):
            fill_box(box, options, None)
        self._allow()
