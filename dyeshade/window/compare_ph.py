"""Which pH makes a shade, and the baths that this leads to."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QPushButton

from dyeshade.window import compare_questions
from dyeshade.window.colour_field import ColourField
from dyeshade.window.compare_fields import MadeWith, plain_box
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.presenter import Presenter
from dyeshade.window.question_page import Ask, QuestionPage, fill_box
from dyeshade.window.typed_fields import Answers, NumberField
from dyeshade.words.answered import Answered, BathAt, PhAnswered
from dyeshade.words.dye_words import WHICH_PH, ph_words
from dyeshade.work.bath_again import bath_again
from dyeshade.work.compare_choices import CompareChoices


class PhPage(QuestionPage):
    """Which pH makes a shade.

    Signals
    -------
    card_wanted(tuple of int)
        The readings of what is shown are to stand on a shade card, from acid to alkaline.
    bath_made(TypedBath)
        A bath at another pH is to be dyed.
    """

    card_wanted = Signal(object)
    bath_made = Signal(object)

    def __init__(self, desk: LibraryDesk, presenter: Presenter) -> None:
        super().__init__(
            desk,
            presenter,
            PhPage.tr("Which pH makes this shade?"),
            PhPage.tr(
                "No dyestuff is written down yet. Save pieces with their baths and the pH of each: "
                "three baths at different pH, all else alike, make a series."
            ),
        )
        self.made = MadeWith(self, 0)
        self.which = plain_box(QComboBox(), 14)
        self.which.addItem(self.tr("the one read most"), None)
        for key, words in WHICH_PH.items():
            self.which.addItem(words, key)
        self.wanted = ColourField(self.tr("Wanted shade"))
        self.series, self.beside = plain_box(QComboBox(), 20), plain_box(QComboBox(), 20)
        self.add_control(3, self.tr("pH"), self.which)
        self.add_control(0, self.tr("Serie&s"), self.series, 1)
        self.add_control(1, self.tr("Beside i&t"), self.beside, 1)
        self.add_control(2, self.tr("Wanted sh&ade"), self.wanted, 1, 2)
        self.card = QPushButton(self.tr("P&ut it on a shade card"))
        self.card.setEnabled(False)
        self.grams = NumberField(
            self.tr("Weight of the fibre in grams"), self.tr("The weight"), above=0.0, unit="g"
        )
        self.grams.setMaximumWidth(90)
        self.grams.setPlaceholderText(self.tr("g of fibre"))
        self.dye, self.next = QPushButton(), QPushButton()
        self.wrong = Answers(self.grams)
        self.foot.addWidget(self.wrong, 1)
        self.foot.addStretch(1)
        for widget in (self.card, self.grams, self.dye, self.next):
            self.foot.addWidget(widget)
        self.card.clicked.connect(self.put_on_card)
        self.dye.clicked.connect(lambda: self.make_bath(self.baths[0]))
        self.next.clicked.connect(lambda: self.make_bath(self.baths[1]))
        self.grams.textChanged.connect(lambda _text: self._allow())
        for column in range(4):
            self.controls.setColumnStretch(column, 1)
        for box in (self.which, self.series, self.beside):
            box.activated.connect(lambda _row: self.refresh())
        self.wanted.chosen.connect(self.refresh)

    def show_choices(self, choices: CompareChoices) -> None:
        """Offer dyestuffs, fibres, mordants and pieces."""
        self.made.show_choices(choices, needs_dyestuff=True)
        self.wanted.show_pieces(choices)

    def question(self) -> Ask | None:
        """The series of the dyestuff that is meant."""
        query, which, colour = self.made.query(), self.which.currentData(), self.wanted.wanted
        chosen, other = self.series.currentText(), str(self.beside.currentData() or "")
        if query.dyestuff is None:
            return None

        return lambda library: compare_questions.ph(library, query, which, colour, chosen, other)

    @property
    def baths(self) -> tuple[BathAt | None, BathAt | None]:
        """The bath for the wanted shade, and the one from which most would be learnt."""
        told = self.answered
        return (told.wanted_bath, told.next_bath) if isinstance(told, PhAnswered) else (None, None)

    def make_bath(self, bath: BathAt | None) -> None:
        """Ask for a bath at a pH, for so much fibre."""
        if bath is None or not self.wrong.check(self.grams):
            return
        grams = self.grams.read()
        if grams is not None:
            self.desk.ask(
                lambda library: bath_again(library, bath.reading_id, grams, bath.ph),
                self.bath_made.emit,
                self.presenter.refuse,
            )

    def put_on_card(self) -> None:
        """Ask for a shade card of what is shown."""
        if self.answered is not None and self.answered.reading_ids:
            self.card_wanted.emit(self.answered.reading_ids)

    def show_answer(self, answered: Answered) -> None:
        """Show it, and offer the series that there are."""
        super().show_answer(answered)
        self.card.setEnabled(bool(answered.reading_ids))
        names = [words for _, words in answered.choices]
        fill_box(self.series, [(name, name) for name in names], names[0] if names else None)
        others = [(name, name) for name in names if name != self.series.currentText()]
        fill_box(self.beside, [(self.tr("none"), ""), *others], "")
        self.series.setEnabled(len(names) > 1)
        self.beside.setEnabled(len(names) > 1)
        self._allow()

    def _allow(self) -> None:
        for button, bath, words in zip(
            (self.dye, self.next),
            self.baths,
            (self.tr("D&ye the wanted shade"), self.tr("Dye to lea&rn most")),
            strict=True,
        ):
            at = "" if bath is None else self.tr(", pH {}").format(ph_words(round(bath.ph, 1)))
            button.setText(f"{words}{at}…")
            button.setVisible(bath is not None)
            button.setEnabled(bool(self.grams.text().strip()))
        self.grams.setVisible(any(self.baths))
