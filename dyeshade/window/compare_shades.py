"""Questions about many shades: which one comes nearest, how well they repeat."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton

from dyeshade.window import compare_questions
from dyeshade.window.colour_field import ColourField
from dyeshade.window.compare_fields import MadeWith
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.presenter import Presenter
from dyeshade.window.question_page import Ask, QuestionPage
from dyeshade.window.typed_fields import Answers, NumberField
from dyeshade.words.answered import Answered
from dyeshade.words.typed import MistypedError
from dyeshade.work.compare_choices import CompareChoices


class NearestPage(QuestionPage):
    """Which shade of the library comes nearest to a colour.

    Signals
    -------
    bath_wanted(int, float)
        The chosen shade is to be made again: its reading, and the grams of fibre.
    """

    bath_wanted = Signal(int, float)

    def __init__(self, desk: LibraryDesk, presenter: Presenter) -> None:
        super().__init__(
            desk,
            presenter,
            NearestPage.tr("Which shade comes nearest?"),
            NearestPage.tr(
                "Give a colour: L*, a*, b* as 60,20,30, an sRGB colour as #d6c84a, the id of a "
                "piece; or pick it from a photo, from a piece or from the screen."
            ),
        )
        self.colour = ColourField(self.tr("Wanted colour"))
        self.tolerance = NumberField(
            self.tr("Tolerance in ΔE00"), self.tr("The tolerance"), above=0.0, most=100.0
        )
        self.tolerance.show_value(2.0)
        self.tolerance.setMaximumWidth(80)
        self.add_control(0, self.tr("Wanted &colour"), self.colour)
        self.add_control(1, self.tr("&Tolerance in ΔE00"), self.tolerance)
        self.made = MadeWith(self, 2)
        self.controls.setColumnStretch(0, 2)
        self.grams = NumberField(
            self.tr("Weight of the fibre in grams"), self.tr("The weight"), above=0.0, unit="g"
        )
        self.grams.setMaximumWidth(90)
        self.grams.setPlaceholderText(self.tr("g of fibre"))
        self.again = QPushButton(self.tr("Make the chosen shade a&gain…"))
        self.open = QPushButton(self.tr("Open it in the librar&y"))
        self.wrong = Answers(self.tolerance, self.grams)
        self.foot.addWidget(self.wrong, 1)
        self.foot.addStretch(1)
        for widget in (self.open, self.grams, self.again):
            self.foot.addWidget(widget)
        self.colour.chosen.connect(self.refresh)
        self.tolerance.editingFinished.connect(self.refresh)
        self.again.clicked.connect(self.make_again)
        self.open.clicked.connect(self.open_line)
        self.table.selectionModel().selectionChanged.connect(lambda *_: self._allow())
        self.grams.textChanged.connect(lambda _text: self._allow())
        self._allow()

    def show_choices(self, choices: CompareChoices) -> None:
        """Offer dyestuffs, fibres, mordants and pieces."""
        self.made.show_choices(choices)
        self.colour.show_pieces(choices)

    def question(self) -> Ask | None:
        """The shades nearest to the colour that is meant."""
        colour, query = self.colour.wanted, self.made.query()
        try:
            tolerance = self.tolerance.read()
        except MistypedError:
            return None
        if not colour or tolerance is None:
            return None
        return lambda library: compare_questions.nearest(library, colour, query, tolerance)

    def make_again(self) -> None:
        """Ask for a bath of the chosen shade for so much fibre."""
        line = self.line
        if not self.wrong.check(self.grams) or line is None or line.reading_id is None:
            return
        grams = self.grams.read()
        if grams is not None:
            self.bath_wanted.emit(line.reading_id, grams)

    def show_answer(self, answered: Answered) -> None:
        """Show it, and allow what can be done with it."""
        super().show_answer(answered)
        self._allow()

    def _allow(self) -> None:
        chosen = self.line is not None and self.line.reading_id is not None
        for widget in (self.open, self.grams, self.again):
            widget.setVisible(bool(self.model.records))
        self.open.setEnabled(chosen)
        self.again.setEnabled(chosen and bool(self.grams.text().strip()))


class RepeatPage(QuestionPage):
    """How well the dyer repeats."""

    def __init__(self, desk: LibraryDesk, presenter: Presenter) -> None:
        super().__init__(
            desk,
            presenter,
            RepeatPage.tr("How well do I repeat a shade?"),
            RepeatPage.tr("Dye the same again in another bath, and measure both."),
        )
        self.made = MadeWith(self, 0)
        self.controls.setColumnStretch(3, 1)

    def show_choices(self, choices: CompareChoices) -> None:
        """Offer dyestuffs, fibres and mordants."""
        self.made.show_choices(choices)

    def question(self) -> Ask:
        """The spreads of what is asked for."""
        query = self.made.query()
        return lambda library: compare_questions.repeats(library, query)
