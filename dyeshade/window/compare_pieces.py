"""Questions about one piece: whether it has moved, and whether the set-up has."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QComboBox

from dyeshade.window import compare_questions
from dyeshade.window.compare_fields import PieceBox, plain_box
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.presenter import Presenter
from dyeshade.window.question_page import Ask, QuestionPage, fill_box
from dyeshade.words.answered import FIRST_OF_ALL, Answered
from dyeshade.work.compare_choices import CompareChoices


class DriftPage(QuestionPage):
    """Whether a piece has moved."""

    def __init__(self, desk: LibraryDesk, presenter: Presenter) -> None:
        super().__init__(
            desk,
            presenter,
            DriftPage.tr("Has a piece moved?"),
            DriftPage.tr(
                "Nothing was read yet. Measure a piece and save it; measure it again in some weeks."
            ),
        )
        self.piece = PieceBox(self.tr("Piece"))
        self.since = plain_box(QComboBox(), 22)
        self.wet = QCheckBox(self.tr("Wet readings beside dry &ones, too"))
        self.add_control(0, self.tr("Pie&ce"), self.piece)
        self.add_control(1, self.tr("Be&side its reading of"), self.since)
        self.controls.addWidget(self.wet, 1, 2)
        self.controls.setColumnStretch(3, 1)
        self.piece.chosen.connect(self._other_piece)
        self.since.activated.connect(lambda _row: self.refresh())
        self.wet.toggled.connect(lambda _on: self.refresh())

    def show_choices(self, choices: CompareChoices) -> None:
        """Offer the pieces; the one that was read most often is shown first."""
        self.piece.show_pieces(choices, choices.most_read)

    def question(self) -> Ask | None:
        """The drift of the piece that is meant."""
        piece, wet = self.piece.code, self.wet.isChecked()
        base = self.since.currentData()
        if not piece:
            return None
        base_id = None if base in (None, FIRST_OF_ALL) else int(base)
        return lambda library: compare_questions.drift(library, piece, base_id, wet)

    def show_answer(self, answered: Answered) -> None:
        """Show it, and offer the piece's readings."""
        super().show_answer(answered)
        fill_box(self.since, [(words, value) for value, words in answered.choices], FIRST_OF_ALL)
        self.since.setEnabled(len(answered.choices) > 2)

    def _other_piece(self) -> None:
        self.since.clear()
        self.refresh()


class CheckPage(QuestionPage):
    """Whether set-up, sheet or light have moved."""

    def __init__(self, desk: LibraryDesk, presenter: Presenter) -> None:
        super().__init__(
            desk,
            presenter,
            CheckPage.tr("Is my set-up steady?"),
            CheckPage.tr(
                "Take a stable coloured thing as check standard, such as a glazed tile or painted "
                "card kept in the dark. Measure it in each session and save it under an id of its "
                "own; then choose that id here."
            ),
        )
        self.piece = PieceBox(self.tr("Check standard"))
        self.learn = plain_box(QComboBox(), 11)
        for count in (5, 10, 15, 20, 25):
            self.learn.addItem(self.tr("{} sessions").format(count), count)
        self.learn.setCurrentIndex(1)
        self.add_control(0, self.tr("&Check standard"), self.piece)
        self.add_control(1, self.tr("Limits fr&om the first"), self.learn)
        self.controls.setColumnStretch(2, 1)
        self.piece.chosen.connect(self.refresh)
        self.learn.activated.connect(lambda _row: self.refresh())

    def show_choices(self, choices: CompareChoices) -> None:
        """Offer the pieces; what was read most and never dyed is shown first."""
        self.piece.show_pieces(choices, choices.check_standard)

    def question(self) -> Ask | None:
        """The charts of the piece that is meant."""
        piece, learn = self.piece.code, int(self.learn.currentData())
        if not piece:
            return None
        return lambda library: compare_questions.check(library, piece, learn)
