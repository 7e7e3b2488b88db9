"""The home tests that were set up: which photo is due, and what can be done with each."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QPushButton, QVBoxLayout, QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.window.home_test_form import HomeTestForm
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.one_question import OneQuestion
from dyeshade.window.page_parts import tell, told
from dyeshade.words.home_test_words import TESTS, due_words, kept_test_words, reminder_words
from dyeshade.work.home_tests import SaidTest, drop_test, end_test, go_on_with_test, set_up_test
from dyeshade.work.home_tests_kept import KeptTest, all_tests

_MOST_ROWS = 4


class HomeTestList(QWidget):
    """Tests under way and ended, with buttons beside them.

    Parameters
    ----------
    desk : LibraryDesk

    Attributes
    ----------
    tests : tuple of KeptTest
        In the order of the list.
    form : HomeTestForm or None
        The form that was opened last.

    Signals
    -------
    test_chosen(KeptTest)
        A person has chosen a test, or set it up.
    photos_wanted()
        Photos are to be measured.
    """

    test_chosen = Signal(object)
    photos_wanted = Signal()

    def __init__(self, desk: LibraryDesk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.tests: tuple[KeptTest, ...] = ()
        self.form: HomeTestForm | None = None
        self._asked = OneQuestion(desk, self._take, self)
        self._wanted: int | None = None
        self.list = QListWidget()
        self.list.setAccessibleName(self.tr("Home tests"))
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.due = told()
        self.due.setAccessibleName(self.tr("Next photo"))
        self.set_up = QPushButton(self.tr("&Set up a test…"))
        self.photos = QPushButton(self.tr("&Measure its photo…"))
        self.end = QPushButton()
        self.away = QPushButton(self.tr("Remove &it"))
        self.away.setToolTip(self.tr("Remove the test; its readings stay in the library"))
        row = QHBoxLayout()
        row.setSpacing(SPACE // 2)
        for button in (self.set_up, self.photos, self.end, self.away):
            row.addWidget(button)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(self.list)
        column.addWidget(self.due)
        column.addLayout(row)
        self.list.currentRowChanged.connect(self._row_changed)
        self.list.itemClicked.connect(lambda _item: self._choose())
        self.list.itemActivated.connect(lambda _item: self._choose())
        self.set_up.clicked.connect(lambda: self.open_form())
        self.photos.clicked.connect(self.photos_wanted)
        self.end.clicked.connect(self.end_or_go_on)
        self.away.clicked.connect(self.remove)
        self._show([])

    @property
    def busy(self) -> bool:
        """Whether an answer of the library is on its way."""
        return self._asked.busy

    @property
    def test(self) -> KeptTest | None:
        """The chosen test."""
        row = self.list.currentRow()
        return self.tests[row] if 0 <= row < len(self.tests) else None

    def ask(self) -> None:
        """Ask for the tests anew."""
        self._asked.ask(all_tests)

    def begin(self) -> None:
        """Begin with another library."""
        self._asked.forget()
        self._wanted = None
        self._show([])

    def look_at(self, piece: str, kind: str | None) -> None:
        """Mark the test of a piece, where there is one; none otherwise."""
        fits = [
            row
            for row, one in enumerate(self.tests)
            if one.piece.casefold() == piece.casefold() and kind in (None, one.record.kind)
        ]
        if self.list.currentRow() not in fits:
            self.list.setCurrentRow(fits[0] if fits else -1)

    def open_form(self, piece: str = "", kind: str | None = None) -> None:
        """Let a test be set up."""

        def show(codes: Sequence[str]) -> None:
            self.form = HomeTestForm(piece, kind, codes, self._keep, self.window())
            self._desk.failed.connect(self.form.release)
            self.form.finished.connect(self.form.deleteLater)
            self.form.open()

        self._desk.ask(lambda library: [one.code for one in library.where(Piece)], show)

    def end_or_go_on(self) -> None:
        """End the chosen test, or go on with it."""
        test = self.test
        if test is None:
            return
        number = test.record.id
        words = kept_test_words(test)
        if test.running:
            said = self.tr("end the home test {}").format(words)
            self._desk.change(said, lambda library: end_test(library, number))
        else:
            said = self.tr("go on with the home test {}").format(words)
            self._desk.change(said, lambda library: go_on_with_test(library, number))

    def remove(self) -> None:
        """Remove the chosen test; it can be undone."""
        test = self.test
        if test is not None:
            said = self.tr("remove the home test {}").format(kept_test_words(test))
            self._desk.change(said, lambda library: drop_test(library, test.record.id))

    def _keep(
        self,
        said: SaidTest,
        done: object,
        refused: object,
    ) -> None:
        assert callable(done)
        assert callable(refused)

        def job(library: Library) -> int:
            return set_up_test(library, said).id

        def take(number: int) -> None:
            self._wanted = number
            self.ask()
            done(number)

        def lost(error: DyeshadeError) -> None:
            refused(error)

        words = self.tr("set up a home test of {}").format(TESTS[said.kind])
        self._desk.change(words, job, take, lost)

    def _take(self, tests: Sequence[KeptTest]) -> None:
        before = self.test
        wanted = self._wanted if before is None or self._wanted is not None else before.record.id
        self._show(tests)
        rows = [row for row, one in enumerate(self.tests) if one.record.id == wanted]
        self.list.setCurrentRow(rows[0] if rows else -1)
        if rows and self._wanted is not None:
            self._wanted = None
            self._choose()

    def _show(self, tests: Sequence[KeptTest]) -> None:
        now = datetime.now()
        self.tests = tuple(tests)
        blocked = self.list.blockSignals(True)
        self.list.clear()
        for one in self.tests:
            self.list.addItem(f"{kept_test_words(one)}  –  {due_words(one, now)}")
        self.list.blockSignals(blocked)
        self.list.setFixedHeight(min(len(self.tests), _MOST_ROWS) * self._row_height() + 2)
        self.list.setVisible(bool(self.tests))
        for button in (self.photos, self.end, self.away):
            button.setVisible(bool(self.tests))
        self._row_changed()

    def _row_height(self) -> int:
        hint = self.list.sizeHintForRow(0) if self.tests else 0
        return max(hint, self.fontMetrics().height())

    def _row_changed(self) -> None:
        test = self.test
        running = test is not None and test.running
        self.end.setText(self.tr("&Go on with it") if test and not running else self.tr("En&d it"))
        write = self._desk.can_write
        self.set_up.setEnabled(write)
        self.end.setEnabled(write and test is not None)
        self.away.setEnabled(write and test is not None)
        self.photos.setEnabled(write and running)
        due = test is not None and test.due is not None
        tell(self.due, [reminder_words(test, datetime.now())] if test and due else [])
        if self.list.hasFocus():
            self._choose()

    def _choose(self) -> None:
        if self.test is not None:
            self.test_chosen.emit(self.test)
