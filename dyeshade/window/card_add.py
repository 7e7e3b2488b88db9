"""Shades for a card, asked of the library by the conditions of their baths."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from dyeshade.library.find import ShadeQuery
from dyeshade.library.library import Library
from dyeshade.library.shade_records import STATES
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.words import dye_words
from dyeshade.words.typed import MistypedError, read_number
from dyeshade.work.make_card import once_each
from dyeshade.work.shades_wanted import ShadesFound, Wanted, shades_wanted


class AddShades(QFrame):
    """Fields for dyestuff, fibre, mordant, state and pH, and a button that adds what fits.

    Parameters
    ----------
    desk : LibraryDesk

    Signals
    -------
    wanted(tuple of int)
        Readings that are to come onto the card.
    answered()
        The library has told what fits.
    """

    wanted = Signal(object)
    answered = Signal()

    def __init__(self, desk: LibraryDesk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._asked = 0
        self._on_card: frozenset[int] = frozenset()
        self.fitting: tuple[int, ...] = ()
        self.held: int | None = None
        """How many shades the library holds; None until it has told."""
        self.dyestuff, self.fibre, self.mordant = QComboBox(), QComboBox(), QComboBox()
        self.state = QComboBox()
        self.once = QCheckBox(self.tr("Each piece once, as read last"))
        self.ph_least, self.ph_most = QLineEdit(), QLineEdit()
        self.trouble = QLabel()
        self.add = QPushButton()
        self._build()

    def _build(self) -> None:
        self.setProperty("card", True)
        any_one = self.tr("any")
        for box in (self.dyestuff, self.fibre, self.mordant, self.state):
            box.addItem(any_one, None)
            box.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            box.setMinimumContentsLength(8)
            box.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            box.currentIndexChanged.connect(self.refresh)
        for state in STATES:
            self.state.addItem(dye_words.STATES[state], state)
        for field, words in (
            (self.ph_least, self.tr("Lowest pH")),
            (self.ph_most, self.tr("Highest pH")),
        ):
            field.setPlaceholderText(any_one)
            field.setAccessibleName(words)
            field.setToolTip(self.tr("The pH that acted last on the piece"))
            field.setMaximumWidth(70)
            field.textEdited.connect(self.refresh)
            field.returnPressed.connect(self.add.click)
        head = QLabel(self.tr("Add from the library"))
        head.setProperty("head", True)
        grid = QGridLayout()
        grid.setHorizontalSpacing(SPACE // 2)
        grid.setVerticalSpacing(SPACE // 2)
        for place, (words, box) in enumerate(
            (
                (self.tr("&Dyestuff"), self.dyestuff),
                (self.tr("F&ibre"), self.fibre),
                (self.tr("&Mordant"), self.mordant),
                (self.tr("State"), self.state),
            )
        ):
            label = QLabel(words)
            label.setBuddy(box)
            box.setAccessibleName(words.replace("&", ""))
            row, column = divmod(place, 2)
            grid.addWidget(label, row, 2 * column)
            grid.addWidget(box, row, 2 * column + 1)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)
        label = QLabel(self.tr("pH from"))
        label.setBuddy(self.ph_least)
        foot = QHBoxLayout()
        foot.setSpacing(SPACE // 2)
        for widget in (label, self.ph_least, QLabel(self.tr("to")), self.ph_most):
            foot.addWidget(widget)
        foot.addStretch(1)
        foot.addWidget(self.add)
        self.once.setChecked(True)
        self.once.setToolTip(self.tr("Dry where it was read so; check standards are left out"))
        self.once.toggled.connect(lambda _on: self.refresh())
        self.trouble.setWordWrap(True)
        self.trouble.setProperty("wrong", True)
        self.trouble.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.trouble.hide()
        whole = QVBoxLayout(self)
        whole.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        whole.setSpacing(SPACE // 2)
        whole.addWidget(head)
        whole.addLayout(grid)
        whole.addWidget(self.once)
        whole.addLayout(foot)
        whole.addWidget(self.trouble)
        self.add.clicked.connect(lambda: self.wanted.emit(self.new))
        self._tell()

    @property
    def new(self) -> tuple[int, ...]:
        """Readings that fit and are not on the card yet."""
        return tuple(one for one in self.fitting if one not in self._on_card)

    def query(self) -> ShadeQuery:
        """What is asked for.

        Raises
        ------
        MistypedError
            Where a pH cannot be read.
        """
        return ShadeQuery(
            dyestuff=self.dyestuff.currentData(),
            fibre=self.fibre.currentData(),
            mordant=self.mordant.currentData(),
            state=self.state.currentData(),
            ph_least=read_number(self.ph_least.text(), self.tr("The lowest pH"), 0, 14),
            ph_most=read_number(self.ph_most.text(), self.tr("The highest pH"), 0, 14),
        )

    def show_on_card(self, ids: Iterable[int]) -> None:
        """Know which readings need not be added any more."""
        self._on_card = frozenset(ids)
        self._tell()

    def refresh(self) -> None:
        """Ask the library what fits, and what there is to choose from."""
        self._asked += 1
        number = self._asked
        try:
            query = self.query()
        except MistypedError as error:
            self.trouble.setText(error.sentence)
            self.trouble.show()
            self.fitting = ()
            self._tell()
            return
        self.trouble.hide()
        once = self.once.isChecked()

        def question(library: Library) -> ShadesFound | None:
            # What was asked since has overtaken this.
            if number != self._asked:
                return None
            answer = shades_wanted(library, Wanted(query))
            return replace(answer, found=once_each(answer.found)) if once else answer

        def take(answer: ShadesFound | None) -> None:
            if answer is not None and number == self._asked:
                self._take(answer)

        self._desk.ask(question, take)

    def _take(self, answer: ShadesFound) -> None:
        self.fitting = tuple(one.reading.id for one in answer.found)
        self.held = answer.of
        nothing = self.tr("none written down")
        _fill(self.dyestuff, [(name, name) for name in answer.choices.dyestuffs])
        _fill(self.fibre, [*((name, name) for name in answer.choices.fibres), (nothing, "")])
        _fill(self.mordant, [*((name, name) for name in answer.choices.mordants), (nothing, "")])
        self._tell()
        self.answered.emit()

    def _tell(self) -> None:
        count = len(self.new)
        self.add.setEnabled(count > 0)
        if count == 1:
            self.add.setText(self.tr("&Add 1 shade"))
        elif count:
            self.add.setText(self.tr("&Add {} shades").format(count))
        elif self.fitting:
            self.add.setText(self.tr("All on the card"))
        else:
            self.add.setText(self.tr("No shade fits"))


def _fill(box: QComboBox, choices: Sequence[tuple[str, str]]) -> None:
    """Give a box other choices behind "any"; what is chosen stays so, also where nothing has it."""
    chosen = box.currentData()
    listed = list(choices)
    if chosen is not None and chosen not in [name for _, name in listed]:
        listed.append((str(chosen), str(chosen)))
    if [(box.itemText(row), box.itemData(row)) for row in range(1, box.count())] == listed:
        return
    blocked = box.blockSignals(True)
    while box.count() > 1:
        box.removeItem(1)
    for words, name in listed:
        box.addItem(words, name)
    box.setCurrentIndex(0 if chosen is None else box.findData(chosen))
    box.blockSignals(blocked)
