"""What is asked of the library, said as a sentence with fields in it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from dyeshade.library.find import ShadeQuery
from dyeshade.window.look import SPACE
from dyeshade.window.typed_fields import (
    Answers,
    DayField,
    NumberField,
    RatioField,
    TypedField,
    WordsField,
)
from dyeshade.words.dye_words import FORMS, STATES, WHICH_PH, exhaust_words
from dyeshade.work.shades_wanted import Choices, Wanted

_NUMBER, _DAY = 62, 112


class ShadesFilter(QWidget):
    """Three lines that read as one question.

    Signals
    -------
    changed()
        Something else is asked for; `wanted` tells.
    """

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.dyestuff = _choice(self.tr("Dyestuff"), 130)
        self.part = _choice(self.tr("Part of the dyestuff"), 96)
        self.form = _choice(self.tr("Form of the dyestuff"), 96)
        self.ratio_least = RatioField(
            self.tr("Least per cent of the weight of fibre"), self.tr("The ratio")
        )
        self.ratio_most = RatioField(
            self.tr("Most per cent of the weight of fibre"), self.tr("The ratio")
        )
        self.exhaust = _choice(self.tr("First or exhaust bath"), 124)
        self.fibre = _choice(self.tr("Fibre"), 110)
        self.mordant = _choice(self.tr("Mordant"), 130)
        self.ph_least = NumberField(self.tr("Least pH"), self.tr("The pH"), 0, 14)
        self.ph_most = NumberField(self.tr("Most pH"), self.tr("The pH"), 0, 14)
        self.which = _choice(self.tr("Which pH"), 170)
        self.from_day = DayField(self.tr("Read from this day on"), self.tr("The first day"))
        self.to_day = DayField(self.tr("Read up to this day"), self.tr("The last day"))
        self.state = _choice(self.tr("State"), 150)
        self.words = WordsField(self.tr("Words in what was written down"))
        self.words.setPlaceholderText(self.tr("any words"))
        self.words.setClearButtonEnabled(True)
        self.everything = QPushButton(self.tr("Show everythin&g"))
        self.count = QLabel()
        self.count.setProperty("head", True)
        self._answers = [Answers(), Answers(), Answers()]
        self._quiet = False
        for field in (self.ratio_least, self.ratio_most, self.ph_least, self.ph_most):
            field.setFixedWidth(_NUMBER)
        for field in (self.from_day, self.to_day):
            field.setFixedWidth(_DAY)
        self._build()
        self.take_choices(Choices())
        self._connect()

    def wanted(self) -> Wanted | None:
        """What is asked for; None where something that was typed cannot be meant."""
        fine = True
        for answers, fields in zip(self._answers, self._typed, strict=True):
            for field in fields:
                fine = answers.check(field) and fine
        if not fine:
            return None
        bounds = (
            (0, self.ratio_least, self.ratio_most),
            (1, self.ph_least, self.ph_most),
            (2, self.from_day, self.to_day),
        )
        for line, first, last in bounds:
            least, most = first.read(), last.read()
            if least is not None and most is not None and least > most:
                words = self.tr("Nothing lies from {0} to {1}: turn them round.")
                self._answers[line].answer(last, words.format(first.text(), last.text()))
                fine = False
        if not fine:
            return None
        return Wanted(
            ShadeQuery(
                dyestuff=self.dyestuff.currentData(),
                part=self.part.currentData(),
                form=self.form.currentData(),
                ratio_least=self.ratio_least.read(),
                ratio_most=self.ratio_most.read(),
                exhaust_number=self.exhaust.currentData(),
                fibre=self.fibre.currentData(),
                mordant=self.mordant.currentData(),
                ph_least=self.ph_least.read(),
                ph_most=self.ph_most.read(),
                ph_which=self.which.currentData(),
                from_day=self.from_day.read(),
                to_day=self.to_day.read(),
                state=self.state.currentData(),
            ),
            self.words.read(),
        )

    def take_choices(self, choices: Choices) -> None:
        """Offer what the library holds; what was chosen stays chosen, even where it is gone."""
        none = [(self.tr("nothing noted"), "")]
        for box, anything, options in (
            (self.dyestuff, self.tr("anything"), _same(choices.dyestuffs)),
            (self.part, self.tr("any part"), _same(choices.parts)),
            (self.form, self.tr("any form"), [(words, form) for form, words in FORMS.items()]),
            (
                self.exhaust,
                self.tr("any bath"),
                [(exhaust_words(i), i) for i in range(choices.most_exhausts + 1)],
            ),
            (self.fibre, self.tr("any fibre"), _same(choices.fibres) + none),
            (self.mordant, self.tr("any mordant"), _same(choices.mordants) + none),
            (
                self.which,
                self.tr("as it acted last"),
                [(words, which) for which, words in WHICH_PH.items()],
            ),
            (self.state, self.tr("in any state"), [(words, s) for s, words in STATES.items()]),
        ):
            _fill(box, anything, options)

    def show_everything(self) -> None:
        """Ask for all shades."""
        self._quiet = True
        for box in self.findChildren(QComboBox):
            box.setCurrentIndex(0)
        for fields in self._typed:
            for field in fields:
                field.clear()
        self._quiet = False
        self._tell()

    def _connect(self) -> None:
        for box in self.findChildren(QComboBox):
            box.currentIndexChanged.connect(self._tell)
        for fields in self._typed:
            for field in fields:
                field.textChanged.connect(self._tell)
        self.everything.clicked.connect(self.show_everything)

    def _tell(self) -> None:
        if not self._quiet:
            self.changed.emit()

    def _build(self) -> None:
        self._typed: tuple[tuple[TypedField, ...], ...] = (
            (self.ratio_least, self.ratio_most),
            (self.ph_least, self.ph_most),
            (self.from_day, self.to_day, self.words),
        )
        lines: tuple[tuple[str | QWidget, ...], ...] = (
            (
                self.tr("&Dyed with"), self.dyestuff, self.part, self.form,
                self.tr("at"), self.ratio_least, self.tr("to"), self.ratio_most,
                self.tr("% wof, in"), self.exhaust,
            ),
            (
                self.tr("o&n"), self.fibre, self.tr("with"), self.mordant,
                self.tr("&at pH"), self.ph_least, self.tr("to"), self.ph_most, self.which,
            ),
            (
                self.tr("&read from"), self.from_day, self.tr("to"), self.to_day, self.state,
                self.tr("with the w&ords"), self.words,
            ),
        )  # fmt: skip
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        for number, (parts, answers) in enumerate(zip(lines, self._answers, strict=True)):
            line = QHBoxLayout()
            line.setSpacing(SPACE // 2)
            label: QLabel | None = None
            for part in parts:
                if isinstance(part, str):
                    label = QLabel(part)
                    line.addWidget(label)
                else:
                    if label is not None:
                        label.setBuddy(part)
                        label = None
                    line.addWidget(part, 1 if part is self.words else 0)
            if number == 1:
                line.addStretch(1)
                line.addWidget(self.count)
            elif number == 0:
                line.addStretch(1)
                line.addWidget(self.everything)
            column.addLayout(line)
            column.addWidget(answers)
        self.count.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)


def _same(names: tuple[str, ...]) -> list[tuple[str, object]]:
    return [(name, name) for name in names]


def _choice(name: str, width: int) -> QComboBox:
    box = QComboBox()
    box.setAccessibleName(name)
    box.setMinimumWidth(width)
    box.setMaximumWidth(width + 40)
    box.setMaxVisibleItems(20)
    return box


def _fill(box: QComboBox, anything: str, options: list[tuple[str, object]]) -> None:
    """Put other choices into a box without telling anybody."""
    kept, words = box.currentData(), box.currentText()
    wanted = [(anything, None), *options]
    if kept is not None and kept not in [data for _, data in wanted]:
        wanted.append((words, kept))
    if [(box.itemText(i), box.itemData(i)) for i in range(box.count())] == wanted:
        return
    blocked = box.blockSignals(True)
    box.clear()
    for text, data in wanted:
        box.addItem(text, data)
    box.setCurrentIndex([data for _, data in wanted].index(kept))
    box.blockSignals(blocked)
