"""The place where what was kept is found again, looked at, put right and taken away."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

from PySide6.QtCore import QPoint, QSize, QStandardPaths, Qt, Signal
from PySide6.QtGui import QAction, QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from dyeshade.exchange.shades_csv import write_shades_csv
from dyeshade.library.changes import Changes
from dyeshade.window.library_asking import LibraryAsking
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.library_jobs import LibraryJobs
from dyeshade.window.library_papers import LibraryPapers
from dyeshade.window.library_records import BathsPage, PiecesPage
from dyeshade.window.library_shades import LibraryShades
from dyeshade.window.look import SPACE
from dyeshade.window.presenter import Presenter
from dyeshade.window.shade_actions import ShadeActions
from dyeshade.window.tables import Keys
from dyeshade.words.sentences import counted

TABLE, SWATCHES, PIECES, BATHS = range(4)


class LibraryPlace(QWidget):
    """Shades as a table or as swatches; all pieces; all baths.

    Parameters
    ----------
    desk : LibraryDesk
    presenter : Presenter

    Attributes
    ----------
    shades : LibraryShades
    pieces : PiecesPage
    baths : BathsPage
    jobs : LibraryJobs
    shade_actions : ShadeActions
        What can be done with the chosen shade.
    told : QLabel
        What was done last, and how it is taken back.

    Signals
    -------
    card_wanted(tuple of int)
        A shade card is to be made of the readings with these ids.
    papers_wanted(str, tuple of str)
        Tags, skein labels, piece sheets ("tags", "labels", "sheets") or a pot card are to be made
        ("piece", "bath"), of these codes.
    photo_wanted(Path)
        A kept photo is to be shown as a whole.
    compare_wanted(str, str)
        Something is asked of a piece, as `LibraryAsking.wanted`.
    """

    card_wanted = Signal(object)
    papers_wanted = Signal(str, object)
    photo_wanted = Signal(object)
    compare_wanted = Signal(str, str)

    def __init__(
        self, desk: LibraryDesk, presenter: Presenter, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self.jobs = LibraryJobs(desk, self)
        self.shades = LibraryShades(desk)
        self.shade_actions = ShadeActions(desk, self.jobs, self.shades, self)
        self.pieces = PiecesPage(desk, self.jobs)
        self.baths = BathsPage(desk, self.jobs)
        self.asking = LibraryAsking(self.shades)
        self.papers = LibraryPapers(self.shades, self.pieces, self.baths)
        self.told = QLabel()
        self.told.setAccessibleName(self.tr("What was done last"))
        self.told.setProperty("faint", True)
        self._pages = QStackedWidget()
        self._build()
        self._connect(presenter)
        self._allow()

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for the table and a story."""
        return QSize(1180, 720)

    @property
    def busy(self) -> bool:
        """Whether an answer of the library is on its way."""
        return self.shades.busy or self.pieces.busy or self.baths.busy

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Put the keyboard to the shades."""
        super().showEvent(event)
        if not event.spontaneous() and self.looked_at in (TABLE, SWATCHES):
            self.shades.focus_view()

    def refresh(self) -> None:
        """Ask the library anew; what is chosen stays chosen."""
        for page in (self.shades, self.pieces, self.baths):
            page.refresh()

    def choose(self, reading_ids: Sequence[int]) -> None:
        """Choose readings, as those that were just saved."""
        self.look_at(TABLE if self._pages.currentWidget() is not self.shades else self.looked_at)
        self.shades.choose(reading_ids)

    def let_go(self) -> None:
        """Read no more photos; the window closes."""
        self.shades.cut_outs.close()

    @property
    def looked_at(self) -> int:
        """Which of the four is shown: `TABLE`, `SWATCHES`, `PIECES`, `BATHS`."""
        return self._ways.checkedId()

    def look_at(self, which: int) -> None:
        """Show the table, the swatches, all pieces or all baths."""
        self._ways.button(which).setChecked(True)
        self._pages.setCurrentWidget(
            {PIECES: self.pieces, BATHS: self.baths}.get(which, self.shades)
        )
        if which in (TABLE, SWATCHES):
            self.shades.show_swatches(which == SWATCHES)
        self._of_shades.setVisible(which in (TABLE, SWATCHES))
        self.papers.look_at({PIECES: self.pieces, BATHS: self.baths}.get(which, self.shades))

    def find_words(self) -> None:
        """Go to the field for words."""
        if self.looked_at not in (TABLE, SWATCHES):
            self.look_at(TABLE)
        self.shades.filter.words.setFocus()
        self.shades.filter.words.selectAll()

    def choose_csv(self) -> None:
        """Ask where the shown shades go as CSV, and write them there."""
        folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        path, _ = QFileDialog.getSaveFileName(
            self,
            self.tr("Save the shown shades as CSV"),
            str(Path(folder) / self.tr("shades.csv")),
            self.tr("CSV (*.csv)"),
        )
        if path:
            self.save_csv(Path(path))

    def save_csv(self, path: Path) -> None:
        """Write the shown shades as CSV."""
        if path.suffix.lower() != ".csv":
            path = path.with_name(path.name + ".csv")
        found = list(self.shades.model.shades)
        told = self.tr("{0} are in {1}.").format(counted(len(found), "shade", "shades"), path)
        self._desk.ask(
            lambda library: write_shades_csv(library, found, path),
            lambda _done: self.told.setText(told),
        )

    def make_card(self) -> None:
        """Ask for a shade card of the chosen shades, of all where only one is looked at."""
        chosen = self.shades.chosen_shades()
        shades = chosen if len(chosen) > 1 else self.shades.model.shades
        ids = tuple(one.reading.id for one in shades)
        if ids:
            self.card_wanted.emit(ids)

    def _build(self) -> None:
        self._ways = QButtonGroup(self)
        bar = QHBoxLayout()
        bar.setSpacing(SPACE // 2)
        for which, words in (
            (TABLE, self.tr("&Table")),
            (SWATCHES, self.tr("S&watches")),
            (PIECES, self.tr("P&ieces")),
            (BATHS, self.tr("Bath&s")),
        ):
            button = QPushButton(words)
            button.setCheckable(True)
            self._ways.addButton(button, which)
            bar.addWidget(button)
        self._of_shades = QWidget()
        own = QHBoxLayout(self._of_shades)
        own.setContentsMargins(SPACE, 0, 0, 0)
        own.setSpacing(SPACE // 2)
        self.change = self._menu_button(self.tr("&Change"), self.shade_actions.changing)
        self.remove = self._menu_button(self.tr("Re&move"), self.shade_actions.removing)
        self.csv = QPushButton(self.tr("Save as CS&V…"))
        self.csv.setToolTip(self.tr("The shades that are shown, for a spreadsheet"))
        self.card = QPushButton(self.tr("Ma&ke a shade card"))
        self.card.setProperty("main", True)
        self.card.setToolTip(self.tr("All shades that are shown; or, of several chosen, those"))
        for widget in (self.change, self.remove, self.asking):
            own.addWidget(widget)
        own.addStretch(1)
        for widget in (self.csv, self.card):
            own.addWidget(widget)
        bar.addWidget(self._of_shades, 1)
        bar.addStretch(0)
        bar.addWidget(self.papers)
        for page in (self.shades, self.pieces, self.baths):
            self._pages.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(SPACE, SPACE, SPACE, SPACE // 2)
        column.setSpacing(SPACE)
        column.addLayout(bar)
        column.addWidget(self._pages, 1)
        column.addWidget(self.told)
        stops = [*self._ways.buttons(), self.change, self.remove, self.asking]
        stops += [self.csv, self.card, self.papers]
        for one, other in pairwise([*stops, self.shades.filter.dyestuff]):
            QWidget.setTabOrder(one, other)
        self.look_at(TABLE)

    def _menu_button(self, words: str, actions: Sequence[QAction]) -> QPushButton:
        button = QPushButton(words)
        menu = QMenu(button)
        menu.addActions(list(actions))
        button.setMenu(menu)
        return button

    def _connect(self, presenter: Presenter) -> None:
        self._ways.idClicked.connect(self.look_at)
        find = QShortcut(QKeySequence(QKeySequence.StandardKey.Find), self)
        find.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        find.activated.connect(self.find_words)
        self._desk.opened.connect(self._opened)
        self._desk.changed.connect(self._changed)
        self.jobs.told.connect(self.told.setText)
        self.shades.chosen.connect(self._allow)
        self.shades.cut_outs.failed.connect(presenter.fault)
        self.shades.details.photo_wanted.connect(self._show_photo)
        self.csv.clicked.connect(self.choose_csv)
        self.card.clicked.connect(self.make_card)
        self.papers.wanted.connect(self.papers_wanted)
        self.asking.wanted.connect(self.compare_wanted)
        for view in (self.shades.table, self.shades.swatches):
            Keys(view, self.shade_actions.keys, self.shade_actions.copy)
            view.doubleClicked.connect(lambda _index: self.shade_actions.edit_piece())
            view.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
            view.customContextMenuRequested.connect(
                lambda at, view=view: self._show_menu(view.viewport().mapToGlobal(at))
            )

    def _show_menu(self, at: QPoint) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.addActions([*self.shade_actions.changing, *self.shade_actions.removing])
        menu.addSeparator()
        menu.addActions(self.asking.actions_of_piece)
        menu.popup(at)

    def _allow(self) -> None:
        self.shade_actions.allow()
        self.card.setEnabled(bool(self.shades.model.shades))
        self.csv.setEnabled(bool(self.shades.model.shades))

    def _opened(self, _library: object) -> None:
        self.told.clear()
        for page in (self.shades, self.pieces, self.baths):
            page.begin()

    def _changed(self, _changes: Changes | None) -> None:
        # What a job has to say comes after its changes; after an undo it is no longer so.
        self.told.clear()
        self.refresh()

    def _show_photo(self) -> None:
        story = self.shades.details.story
        if story is not None and story.photo_file is not None:
            self.photo_wanted.emit(story.photo_file)
