"""The shades of the library: the question above, a table or swatches, and the chosen one's story.

The place around it says what can be done with them; here they are only shown.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QItemSelection, QModelIndex, Qt, Signal, Slot
from PySide6.QtGui import QPixmap, QShowEvent
from PySide6.QtWidgets import QLabel, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.library.find import FoundShade
from dyeshade.window.cut_outs import CutOuts
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.one_question import OneQuestion
from dyeshade.window.shade_details import ShadeDetails
from dyeshade.window.shade_swatches import PieceDelegate, Swatches
from dyeshade.window.shades_filter import ShadesFilter
from dyeshade.window.shades_model import COLUMNS, PLACE, ShadesModel
from dyeshade.window.tables import PlainTable, choose_rows, chosen_rows
from dyeshade.window.wording import refusal_words
from dyeshade.words.shade_lines import shades_counted
from dyeshade.work.cut_out import CutOut
from dyeshade.work.piece_story import ShadeStory, story_of
from dyeshade.work.shades_wanted import ShadesFound, shades_wanted


class LibraryShades(QWidget):
    """Shades that are asked for.

    Parameters
    ----------
    desk : LibraryDesk

    Signals
    -------
    chosen()
        Other shades are chosen, or another one is the current one.
    """

    chosen = Signal()

    def __init__(self, desk: LibraryDesk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._since: tuple[int, int] | None = None
        self._picture: CutOut | None = None
        self._to_choose: tuple[int, ...] = ()
        self.model = ShadesModel(self)
        self.filter = ShadesFilter()
        self.table = PlainTable(self.tr("Shades"))
        self.swatches = Swatches()
        self.nothing = QLabel()
        self.views = QStackedWidget()
        self.details = ShadeDetails()
        self.cut_outs = CutOuts(self)
        self._shades = OneQuestion(desk, self._take, self)
        self._story = OneQuestion(desk, self._take_story, self, self._no_story)
        self._swatches_wanted = False
        self._untold = False
        self._build()
        self.selection = self.table.selectionModel()
        self.swatches.setSelectionModel(self.selection)
        self.filter.changed.connect(self.refresh)
        self.selection.currentRowChanged.connect(self._current_changed)
        self.selection.selectionChanged.connect(self._selection_changed)
        self.details.compare_wanted.connect(self._compare)
        self.cut_outs.came.connect(self._take_picture)

    @property
    def current(self) -> FoundShade | None:
        """The shade whose story is told."""
        index = self.selection.currentIndex()
        return self.model.shades[index.row()] if index.isValid() else None

    @property
    def busy(self) -> bool:
        """Whether an answer of the library is on its way."""
        return self._shades.busy or self._story.busy

    def chosen_shades(self) -> list[FoundShade]:
        """The chosen shades, in the order in which they are shown."""
        return [self.model.shades[row] for row in chosen_rows(self.selection)]

    def refresh(self) -> None:
        """Ask anew; what is chosen stays chosen."""
        wanted = self.filter.wanted()
        if wanted is not None:
            self._shades.ask(lambda library: shades_wanted(library, wanted))

    def begin(self) -> None:
        """Begin with another library."""
        for question in (self._shades, self._story):
            question.forget()
        self.model.show([])
        self._show_view(0)
        self.details.show_nothing("")
        self.refresh()

    def choose(self, reading_ids: Sequence[int]) -> None:
        """Choose readings, once they are shown; where one of them is not, show everything."""
        self._to_choose = tuple(reading_ids)
        if any(self.model.row_of(i) < 0 for i in reading_ids):
            self.filter.show_everything()
        self.refresh()

    def show_swatches(self, swatches: bool) -> None:
        """Show swatches, or the table."""
        self._swatches_wanted = swatches
        self._show_view(len(self.model.shades))
        view = self.swatches if swatches else self.table
        if self.selection.currentIndex().isValid():
            view.scrollTo(self.selection.currentIndex())

    def focus_view(self) -> None:
        """Put the keyboard to the shades."""
        self.views.currentWidget().setFocus()

    def _build(self) -> None:
        self.table.setModel(self.model)
        self.table.setItemDelegateForColumn(0, PieceDelegate(self.table))
        for place, column in enumerate(COLUMNS):
            self.table.setColumnWidth(place, column.width)
        self.table.horizontalHeader().setSectionsMovable(True)
        self.table.horizontalHeader().setSortIndicator(PLACE["read"], Qt.SortOrder.DescendingOrder)
        self.table.setSortingEnabled(True)
        self.swatches.setModel(self.model)
        self.swatches.setAccessibleName(self.tr("Shades as swatches"))
        self.nothing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.nothing.setWordWrap(True)
        self.nothing.setProperty("faint", True)
        for view in (self.table, self.swatches, self.nothing):
            self.views.addWidget(view)
        parts = QSplitter(Qt.Orientation.Horizontal)
        parts.addWidget(self.views)
        parts.addWidget(self.details)
        parts.setStretchFactor(0, 1)
        parts.setSizes([780, 340])
        parts.setChildrenCollapsible(False)
        parts.setHandleWidth(SPACE)
        self.details.setMinimumWidth(270)
        self.views.setMinimumWidth(320)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE)
        column.addWidget(self.filter)
        column.addWidget(parts, 1)

    def _show_view(self, count: int) -> None:
        if count:
            view: QWidget = self.swatches if self._swatches_wanted else self.table
        else:
            view = self.nothing
        had_focus = self.views.currentWidget().hasFocus()
        self.views.setCurrentWidget(view)
        if had_focus:
            view.setFocus()

    def _take(self, answer: ShadesFound) -> None:
        ids = {one.reading.id for one in self.chosen_shades()}
        current = None if self.current is None else self.current.reading.id
        near = self.selection.currentIndex().row()
        if self._to_choose:
            ids, current = set(self._to_choose), self._to_choose[0]
            self._to_choose = ()
        self.filter.take_choices(answer.choices)
        self.model.show(answer.found)
        self.filter.count.setText(shades_counted(len(answer.found), answer.of))
        self.nothing.setText(
            self.tr("No shade is like that.")
            if answer.of
            else self.tr("No shade is kept yet. Measure a photo, and save it.")
        )
        self._show_view(len(answer.found))
        rows = [row for row, one in enumerate(self.model.shades) if one.reading.id in ids]
        row = -1 if current is None else self.model.row_of(current)
        if row < 0 and self.model.shades:
            # The one that was looked at is gone: its neighbour takes its place.
            row = min(max(near, 0), len(self.model.shades) - 1)
            rows = rows or [row]
        choose_rows(self.selection, rows, row)
        if row >= 0:
            view = self.swatches if self._swatches_wanted else self.table
            view.scrollTo(self.model.index(row, 0))
        self._tell_story()
        self.chosen.emit()

    @Slot(QModelIndex, QModelIndex)
    def _current_changed(self, index: QModelIndex, before: QModelIndex) -> None:
        self._tell_story()
        self.chosen.emit()

    @Slot(QItemSelection, QItemSelection)
    def _selection_changed(self, chosen: QItemSelection, before: QItemSelection) -> None:
        self.chosen.emit()

    @Slot(int)
    def _compare(self, since_id: int) -> None:
        if self.current is not None:
            self._since = (self.current.history.piece.id, since_id)
            self._tell_story()

    def _tell_story(self) -> None:
        current = self.current
        if current is None:
            self._story.forget()
            self.cut_outs.forget()
            self.details.show_nothing("")
            return
        # A story takes the library a while: nobody waits for one that nobody sees.
        self._untold = not self.isVisible()
        if self._untold:
            return
        reading_id, piece_id = current.reading.id, current.history.piece.id
        since = self._since[1] if self._since and self._since[0] == piece_id else None
        self._story.ask(lambda library: story_of(library, reading_id, since))

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Tell what was not worth telling before."""
        super().showEvent(event)
        if self._untold:
            self._tell_story()

    def _take_story(self, story: ShadeStory) -> None:
        if self.current is None or self.current.reading.id != story.found.reading.id:
            return
        self.details.show_story(story)
        if story.photo_file is None:
            self._picture = None
            words = self.tr("No photo") if story.photo is None else self.tr("The photo is gone")
            self.details.plate.show_picture(QPixmap(), words)
            return
        wanted = CutOut(str(story.photo_file), story.found.reading.outline_px)
        if wanted != self._picture:
            self.details.plate.show_picture(QPixmap(), self.tr("Reading the photo…"))
        self._picture = wanted
        self.cut_outs.ask(wanted)

    def _no_story(self, error: DyeshadeError) -> None:
        self.details.show_nothing(refusal_words(error))

    @Slot(object, object)
    def _take_picture(self, wanted: CutOut, told: QPixmap | DyeshadeError) -> None:
        if wanted != self._picture:
            return
        if isinstance(told, DyeshadeError):
            self.details.plate.show_picture(QPixmap(), refusal_words(told))
        else:
            self.details.plate.show_picture(told)
