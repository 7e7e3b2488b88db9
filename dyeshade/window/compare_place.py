"""The place where kept shades are set beside each other: questions, each with its page."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QListWidget,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from dyeshade.library.changes import Changes
from dyeshade.window.colour_field import ColourField
from dyeshade.window.compare_again import AgainPage
from dyeshade.window.compare_commissions import CommissionsPage
from dyeshade.window.compare_fastness import FastnessPage
from dyeshade.window.compare_ph import PhPage
from dyeshade.window.compare_pieces import CheckPage, DriftPage
from dyeshade.window.compare_shades import NearestPage, RepeatPage
from dyeshade.window.library_asking import COMMISSION, DRIFT
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.measuring import Measuring
from dyeshade.window.one_question import OneQuestion
from dyeshade.window.picking import Picking
from dyeshade.window.presenter import Presenter
from dyeshade.window.question_page import QuestionPage
from dyeshade.work.compare_choices import CompareChoices, compare_choices

_QUESTIONS_WIDTH = 216


class ComparePlace(QWidget):
    """Questions on the left, the answer to the chosen one beside them.

    Parameters
    ----------
    desk : LibraryDesk
    presenter : Presenter
    measuring : Measuring
        A wanted shade can be picked from its photos.

    Attributes
    ----------
    questions : QListWidget
    pages : tuple of QuestionPage
        In the order of the questions.
    drift, ph, nearest, commissions, fastness, repeats, check, again
        The same by name.
    picking : Picking

    Signals
    -------
    reading_wanted(int)
        A reading is to be opened in the library, by its id.
    bath_wanted(int, float)
        A reading's shade is to be made again: its id, and the grams of fibre.
    bath_made(TypedBath)
        A bath is to be dyed, worked out already.
    """

    reading_wanted = Signal(int)
    bath_wanted = Signal(int, float)
    bath_made = Signal(object)

    def __init__(
        self,
        desk: LibraryDesk,
        presenter: Presenter,
        measuring: Measuring,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.drift = DriftPage(desk, presenter)
        self.ph = PhPage(desk, presenter)
        self.nearest = NearestPage(desk, presenter)
        self.commissions = CommissionsPage(desk, presenter)
        self.fastness = FastnessPage(desk, presenter)
        self.repeats = RepeatPage(desk, presenter)
        self.check = CheckPage(desk, presenter)
        self.again = AgainPage(desk, presenter)
        self.pages: tuple[QuestionPage, ...] = (
            self.drift,
            self.ph,
            self.nearest,
            self.commissions,
            self.fastness,
            self.repeats,
            self.check,
            self.again,
        )
        self._choices = OneQuestion(desk, self._take_choices, self)
        self._stale = True
        self.questions = QListWidget()
        self._stack = QStackedWidget()
        self._build()
        for page in self.pages:
            page.reading_wanted.connect(self.reading_wanted)
        self.nearest.bath_wanted.connect(self.bath_wanted)
        self.commissions.bath_wanted.connect(self.bath_made)
        self.ph.bath_made.connect(self.bath_made)
        self.commissions.nearest_wanted.connect(self.show_nearest)
        self.picking = Picking(desk, measuring, self)
        for field in (self.ph.wanted, self.nearest.colour):
            self.picking.serve(field)
        self.commissions.dialog_opened.connect(self._serve)
        self.questions.currentRowChanged.connect(self._stack.setCurrentIndex)
        desk.opened.connect(self._opened)
        desk.changed.connect(self._changed)
        self.questions.setCurrentRow(0)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for a plot beside the questions."""
        return QSize(1180, 720)

    @property
    def busy(self) -> bool:
        """Whether an answer of the library is on its way."""
        return self._choices.busy or any(page.busy for page in self.pages)

    def look_at(self, page: QuestionPage) -> None:
        """Show a question's page."""
        self.questions.setCurrentRow(self.pages.index(page))

    def show_drift(self, piece: str) -> None:
        """Ask whether a piece has moved."""
        self.look_at(self.drift)
        self.drift.piece.choose(piece)

    def show_nearest(self, colour: str, tolerance: float | None = None) -> None:
        """Ask what comes nearest to a colour, or to a piece by its id."""
        self.look_at(self.nearest)
        if tolerance is not None:
            self.nearest.tolerance.show_value(tolerance)
        self.nearest.colour.choose(colour)

    def show_asked(self, which: str, piece: str) -> None:
        """Ask of a piece what `LibraryAsking` names."""
        if which == COMMISSION:
            self.look_at(self.commissions)
            self.commissions.add(piece)
        elif which == DRIFT:
            self.show_drift(piece)
        else:
            self.show_nearest(piece)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Ask for what has changed while nobody looked, and put the keyboard to the questions."""
        super().showEvent(event)
        if not event.spontaneous():
            self.questions.setFocus()
        if self._stale:
            self._refresh()

    def let_go(self) -> None:
        """Stop what is done beside the window, and wait until it is let go."""
        self.again.let_go()

    def _serve(self, dialog: QWidget) -> None:
        for field in dialog.findChildren(ColourField):
            self.picking.serve(field)

    def _build(self) -> None:
        head = QLabel(self.tr("&What would you like to know?"))
        head.setProperty("head", True)
        head.setBuddy(self.questions)
        head.setWordWrap(True)
        self.questions.setAccessibleName(self.tr("Questions"))
        self.questions.setWordWrap(True)
        self.questions.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for page in self.pages:
            self.questions.addItem(page.head.text())
            # On a low screen a page scrolls; the window need not be higher than it.
            area = QScrollArea()
            area.setWidget(page)
            area.setWidgetResizable(True)
            area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            self._stack.addWidget(area)
        side = QVBoxLayout()
        side.setSpacing(SPACE // 2)
        side.addWidget(head)
        side.addWidget(self.questions, 1)
        left = QWidget()
        left.setFixedWidth(_QUESTIONS_WIDTH)
        side.setContentsMargins(0, 0, 0, 0)
        left.setLayout(side)
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        row.setSpacing(SPACE + SPACE // 2)
        row.addWidget(left)
        row.addWidget(self._stack, 1)

    def _refresh(self) -> None:
        self._stale = True
        if self.isVisible():
            self._stale = False
            self._choices.ask(compare_choices)

    def _take_choices(self, choices: CompareChoices) -> None:
        for page in self.pages:
            page.take_choices(choices)

    def _opened(self, _library: object) -> None:
        self._choices.forget()
        for page in self.pages:
            page.begin()
        self._refresh()

    @Slot(object)
    def _changed(self, changes: Changes | None) -> None:
        if changes is None or not changes.kinds <= {"draft"}:
            self._refresh()
