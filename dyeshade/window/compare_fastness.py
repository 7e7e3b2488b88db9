"""Home fastness tests: those that were set up, what is due, and what they came to."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QVBoxLayout

from dyeshade.library.shade_records import Reading
from dyeshade.window import compare_questions
from dyeshade.window.compare_fields import PieceBox, plain_box
from dyeshade.window.home_test_list import HomeTestList
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.one_question import OneQuestion
from dyeshade.window.presenter import Presenter
from dyeshade.window.question_page import Ask, QuestionPage, fill_box
from dyeshade.words.figure_words import short_reading_words
from dyeshade.words.home_test_words import HOME_TEST, TESTS
from dyeshade.work.compare_choices import CompareChoices
from dyeshade.work.home_tests_kept import KeptTest, readings_of_piece


class FastnessPage(QuestionPage):
    """Whether a piece's colour lasts, by tests at home.

    Signals
    -------
    photos_wanted()
        Photos are to be measured.
    """

    photos_wanted = Signal()

    def __init__(self, desk: LibraryDesk, presenter: Presenter) -> None:
        super().__init__(
            desk,
            presenter,
            FastnessPage.tr("Does the colour last? Tests at home"),
            FastnessPage.tr("Choose a piece, or set up a test. {}").format(HOME_TEST),
        )
        self.tests = HomeTestList(desk)
        self.piece = PieceBox(self.tr("Piece"))
        self.kind = plain_box(QComboBox(), 12)
        self.kind.addItem(self.tr("all that it went through"), None)
        for kind, words in TESTS.items():
            self.kind.addItem(words, kind)
        self.before, self.after = plain_box(QComboBox(), 12), plain_box(QComboBox(), 12)
        self.add_control(0, self.tr("Pie&ce"), self.piece)
        self.add_control(1, self.tr("&Test"), self.kind)
        self.add_control(2, self.tr("&Untreated reading"), self.before)
        self.add_control(3, self.tr("T&reated reading"), self.after)
        for column in (1, 2, 3):
            self.controls.setColumnStretch(column, 1)
        self._readings = OneQuestion(desk, self._take_readings, self, lambda _error: None)
        layout = self.layout()
        assert isinstance(layout, QVBoxLayout)
        layout.insertWidget(1, self.tests)
        self.piece.chosen.connect(self._other_piece)
        self.kind.activated.connect(lambda _row: self._other_kind())
        self.before.activated.connect(lambda _row: self.refresh())
        self.after.activated.connect(lambda _row: self.refresh())
        self.tests.test_chosen.connect(self.show_test)
        self.tests.photos_wanted.connect(self.photos_wanted)
        self._allow()

    @property
    def busy(self) -> bool:
        """Whether an answer of the library is on its way."""
        return super().busy or self.tests.busy or self._readings.busy

    def show_choices(self, choices: CompareChoices) -> None:
        """Offer the pieces."""
        self.piece.show_pieces(choices)

    def begin(self) -> None:
        """Begin with another library."""
        self.tests.begin()
        self._readings.forget()
        super().begin()

    def ask(self) -> None:
        """Ask for the result, for the piece's readings, and for the tests."""
        super().ask()
        self.tests.ask()
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

    def show_test(self, test: KeptTest) -> None:
        """Show what a test that was set up came to."""
        self.kind.setCurrentIndex(self.kind.findData(test.record.kind))
        self.before.clear()
        self.after.clear()
        self.piece.choose(test.piece)
        self._allow()
        self.refresh()

    def _other_piece(self) -> None:
        self.before.clear()
        self.after.clear()
        self.tests.look_at(self.piece.code, self.kind.currentData())
        self._allow()
        self.refresh()

    def _other_kind(self) -> None:
        self.tests.look_at(self.piece.code, self.kind.currentData())
        self._allow()
        self.refresh()

    def _allow(self) -> None:
        named = self.kind.currentData() is not None
        for box in (self.before, self.after):
            box.setEnabled(named and box.count() > 2)

    def _take_readings(self, readings: Sequence[Reading]) -> None:
        options: list[tuple[str, object]] = [(self.tr("as its tests and its history tell"), None)]
        options += [(short_reading_words(one), one.id) for one in readings]
        for box in (self.before, self.after):
            fill_box(box, options, None)
        self._allow()
