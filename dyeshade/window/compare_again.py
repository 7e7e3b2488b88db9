"""Photos read again when measuring has become better, and what that has changed."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QProgressBar, QPushButton

from dyeshade.window import compare_questions
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.presenter import Presenter
from dyeshade.window.question_page import Ask, QuestionPage
from dyeshade.window.reading_again import ReadingAgain
from dyeshade.words.answered import Answered
from dyeshade.words.read_again_answer import ReadAgainAnswered
from dyeshade.words.read_again_words import round_words
from dyeshade.work.compare_choices import CompareChoices


class AgainPage(QuestionPage):
    """Has photos read again, and shows both values.

    Attributes
    ----------
    reading : ReadingAgain
    start, stop : QPushButton
    bar : QProgressBar
    """

    def __init__(self, desk: LibraryDesk, presenter: Presenter) -> None:
        super().__init__(
            desk,
            presenter,
            AgainPage.tr("Can photos be read better?"),
            AgainPage.tr("No photo is kept yet."),
        )
        self.reading = ReadingAgain(desk, self)
        self.says = QLabel(
            self.tr(
                "When measuring has become better, or you have calibrated a camera or a sheet, "
                "kept photos can be measured anew. The older values stay beside the newer ones."
            )
        )
        self.says.setWordWrap(True)
        self.says.setProperty("faint", True)
        self.start = QPushButton(self.tr("&Read the photos again"))
        self.start.setProperty("main", True)
        self.stop = QPushButton(self.tr("S&top"))
        self.bar = QProgressBar()
        self.bar.setAccessibleName(self.tr("Photos read again"))
        self.round = QLabel()
        self.round.setWordWrap(True)
        self.round.setAccessibleName(self.tr("What became of the photos"))
        self.controls.addWidget(self.says, 0, 0, 1, 3)
        self.controls.addWidget(self.start, 1, 0)
        self.controls.addWidget(self.bar, 1, 1)
        self.controls.addWidget(self.stop, 1, 2)
        self.controls.addWidget(self.round, 2, 0, 1, 3)
        self.controls.setColumnStretch(1, 1)
        self.open = QPushButton(self.tr("Open it in the librar&y"))
        self.foot.addStretch(1)
        self.foot.addWidget(self.open)
        self.start.clicked.connect(self.reading.start)
        self.stop.clicked.connect(self.reading.stop)
        self.open.clicked.connect(self.open_line)
        self.reading.changed.connect(self._show_state)
        self.reading.ended.connect(self.refresh)
        self.table.selectionModel().selectionChanged.connect(lambda *_: self._allow())
        self._waits = False
        self._show_state()

    @property
    def busy(self) -> bool:
        """Whether an answer of the library is on its way."""
        return super().busy or self.reading.running

    def let_go(self) -> None:
        """Stop reading, and wait until the photo in hand is let go."""
        self.reading.close()

    def show_choices(self, choices: CompareChoices) -> None:
        """Nothing is chosen here."""

    def question(self) -> Ask:
        """What was read anew, and what waits."""
        return compare_questions.read_anew

    def show_answer(self, answered: Answered) -> None:
        """Show it, and allow what can be done."""
        super().show_answer(answered)
        self._waits = isinstance(answered, ReadAgainAnswered) and answered.waits > 0
        self._show_state()

    def refresh(self) -> None:
        """Ask anew, once the round is over: each photo changes the answer."""
        if not self.reading.running:
            super().refresh()

    def _show_state(self) -> None:
        reading = self.reading
        self.start.setEnabled(self._waits and not reading.running and self.desk.can_write)
        self.stop.setVisible(reading.running)
        self.stop.setEnabled(not reading.stopping)
        self.bar.setVisible(reading.running)
        self.bar.setRange(0, reading.of)
        self.bar.setValue(reading.done)
        self.bar.setFormat(self.tr("%v of %m photos"))
        words = "" if reading.running else round_words(reading.told)
        self.round.setText(words)
        self.round.setVisible(bool(words))
        self._allow()

    def _allow(self) -> None:
        self.open.setVisible(bool(self.model.records))
        self.open.setEnabled(self.line is not None)
