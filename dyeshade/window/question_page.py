"""A page of the place where shades are compared: what is asked, the answer, its plot and table."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.paper.plot import Figure
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.one_question import OneQuestion
from dyeshade.window.page_parts import show_whole
from dyeshade.window.plot_panel import PlotPanel
from dyeshade.window.presenter import Presenter
from dyeshade.window.records_list import Field, RecordsModel
from dyeshade.window.tables import Keys, PlainTable, choose_rows, chosen_rows
from dyeshade.window.wording import refusal_words
from dyeshade.words.answered import Answered, Line
from dyeshade.words.figure_words import DELTA_E
from dyeshade.work.compare_choices import CompareChoices

Ask = Callable[[Library], Answered]

_ROW = 30


class QuestionPage(QWidget):
    """Asks the library one kind of question, and shows the answer.

    Parameters
    ----------
    desk : LibraryDesk
    presenter : Presenter
    head : str
        The question.
    hint : str
        What to do first, where nothing is asked yet.

    Attributes
    ----------
    controls : QGridLayout
        Takes what the question is put together from.
    answer, more : QLabel
        The answer's first sentence, and the others.
    panel : PlotPanel
    table : PlainTable
    answered : Answered or None

    Signals
    -------
    reading_wanted(int)
        A reading is to be opened in the library.
    """

    reading_wanted = Signal(int)

    def __init__(self, desk: LibraryDesk, presenter: Presenter, head: str, hint: str) -> None:
        super().__init__()
        self.desk, self.presenter = desk, presenter
        self._hint = hint
        self.choices = CompareChoices()
        self.answered: Answered | None = None
        self._asked = OneQuestion(desk, self._take, self, self._refuse)
        self._stale = True
        self.head, self.answer, self.more = QLabel(head), QLabel(hint), QLabel()
        self.controls = QGridLayout()
        self.panel = PlotPanel(desk, presenter)
        self.model = RecordsModel((), self)
        self.table = PlainTable(self.tr("The answer as a table"), _ROW)
        self.table.setModel(self.model)
        self.foot = QHBoxLayout()
        self._build()

    @property
    def busy(self) -> bool:
        """Whether an answer of the library is on its way."""
        return self._asked.busy

    @property
    def line(self) -> Line | None:
        """The chosen line of the table."""
        rows = chosen_rows(self.table.selectionModel())
        return self.model.records[rows[0]] if len(rows) == 1 else None

    def question(self) -> Ask | None:
        """What is asked now; None where something is to be chosen first.

        Raises
        ------
        MistypedError
            Where a field cannot be read.
        """
        raise NotImplementedError

    def show_choices(self, choices: CompareChoices) -> None:
        """Offer what there is to choose from now."""
        raise NotImplementedError

    def take_choices(self, choices: CompareChoices) -> None:
        """Know what there is to choose from now, and ask anew."""
        self.choices = choices
        self.show_choices(choices)
        self.refresh()

    def refresh(self) -> None:
        """Ask anew, at the latest when the page is looked at."""
        self._stale = True
        if self.isVisible():
            self._stale = False
            self.ask()

    def ask(self) -> None:
        """Ask what the controls say."""
        question = self.question()
        if question is None:
            self._asked.forget()
            self.show_answer(Answered((self._hint,)))
        else:
            if self.answered is None or self.answered.sentences == (self._hint,):
                # What to do first would be wrong advice while the answer is on its way.
                self.show_answer(Answered((self.tr("The library is being asked…"),)))
            self._asked.ask(question)

    def begin(self) -> None:
        """Begin with another library."""
        self._asked.forget()
        self._stale = True
        self.show_answer(Answered((self._hint,)))

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Ask for what has changed while nobody looked."""
        super().showEvent(event)
        if self._stale:
            self.refresh()

    def show_answer(self, answered: Answered) -> None:
        """Show an answer; what was chosen of the table stays chosen where it is still there."""
        before = self.line
        self.answered = answered
        # A line that ends between a number and its unit is hard to read.
        told = answered.sentences[0].replace(" %", "\u00a0%")
        self.answer.setText(told.replace(f"{DELTA_E} ", f"{DELTA_E}\u00a0"))
        self.more.setText("\n".join(answered.sentences[1:]))
        self.more.setVisible(len(answered.sentences) > 1)
        if [field.head for field in self.model.fields] != list(answered.heads):
            self.model.show_fields(_fields(answered.heads))
        self.model.show(answered.lines)
        self.table.setVisible(bool(answered.lines))
        self.show_figure(answered.figure)
        self.table.resizeColumnsToContents()
        # Told anew, since a table that was not in view forgets it.
        self.table.horizontalHeader().setStretchLastSection(False)
        self.table.horizontalHeader().setStretchLastSection(True)
        rows = [k for k, one in enumerate(answered.lines) if before is not None and one == before]
        choose_rows(self.table.selectionModel(), rows[:1] or [0][: len(answered.lines)], -1)

    def show_figure(self, figure: Figure | None) -> None:
        """Show a plot, or none."""
        self.panel.show_figure(figure)
        # On a low screen the page scrolls rather than draw its parts over each other.
        self._parts.setMinimumHeight(self._parts.minimumSizeHint().height())
        self.updateGeometry()

    def minimumSizeHint(self) -> QSize:  # noqa: N802
        """What it takes at its width: else sentences ask for room as in a narrow column."""
        least = super().minimumSizeHint()
        needed = self.heightForWidth(self.width()) + self._parts.minimumHeight()
        return QSize(least.width(), min(least.height(), needed))

    def add_control(
        self, place: int, words: str, field: QWidget, row: int = 0, span: int = 1
    ) -> None:
        """Put a field with its words above it among the controls."""
        label = QLabel(words)
        label.setBuddy(field)
        show_whole(label)
        if not field.accessibleName():
            field.setAccessibleName(words.replace("&", ""))
        self.controls.addWidget(label, 2 * row, place)
        self.controls.addWidget(field, 2 * row + 1, place, 1, span)

    def open_line(self) -> None:
        """Open the reading of the chosen line."""
        if self.line is not None and self.line.reading_id is not None:
            self.reading_wanted.emit(self.line.reading_id)

    def _take(self, answered: Answered) -> None:
        self.show_answer(answered)

    def _refuse(self, error: DyeshadeError) -> None:
        self.show_answer(Answered((refusal_words(error),)))

    def _build(self) -> None:
        self.head.setProperty("head", True)
        font = self.answer.font()
        font.setPointSizeF(font.pointSizeF() * 1.25)
        self.answer.setFont(font)
        self.answer.setAccessibleName(self.tr("The answer"))
        self.more.setAccessibleName(self.tr("More of the answer"))
        self.more.setProperty("faint", True)
        self.more.hide()
        for label in (self.answer, self.more):
            label.setWordWrap(True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            label.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.controls.setHorizontalSpacing(SPACE)
        self.controls.setVerticalSpacing(SPACE // 4)
        self.panel.hide()
        self.table.hide()
        parts = self._parts = QSplitter(Qt.Orientation.Vertical)
        parts.setChildrenCollapsible(False)
        parts.addWidget(self.panel)
        parts.addWidget(self.table)
        parts.setStretchFactor(0, 3)
        parts.setStretchFactor(1, 1)
        parts.setSizes([520, 110])
        # It takes what room there is: a scrolling area would give it all that it might like.
        parts.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.table.setMinimumHeight(3 * _ROW)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE)
        column.addWidget(self.head)
        column.addLayout(self.controls)
        column.addWidget(self.answer)
        column.addWidget(self.more)
        column.addWidget(parts, 1)
        column.addLayout(self.foot)
        self.panel.reading_wanted.connect(self.reading_wanted)
        self.table.doubleClicked.connect(lambda _index: self.open_line())
        Keys(self.table, {Qt.Key.Key_Return: self.open_line, Qt.Key.Key_Enter: self.open_line})


def fill_box(box: QComboBox, options: Sequence[tuple[str, object]], otherwise: object) -> None:
    """Give a box other options; what is chosen stays chosen where it is still among them."""
    chosen = box.currentData()
    known = [(box.itemText(row), box.itemData(row)) for row in range(box.count())]
    if known == list(options):
        return
    blocked = box.blockSignals(True)
    box.clear()
    for words, value in options:
        box.addItem(words, value)
    values = [value for _, value in options]
    wanted = chosen if chosen in values else otherwise
    box.setCurrentIndex(values.index(wanted) if wanted in values else -1)
    box.blockSignals(blocked)


def _fields(heads: Sequence[str]) -> tuple[Field[Line], ...]:
    return tuple(
        Field(head, 120, lambda line, place=place: line.cells[place])
        for place, head in enumerate(heads)
    )
