"""The place where photos are measured: photos and samples to the left, the photo beside them."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QItemSelectionModel, QModelIndex, QSize, Qt, Slot
from PySide6.QtGui import QGuiApplication, QPixmap
from PySide6.QtWidgets import (
    QInputDialog,
    QLabel,
    QListView,
    QProgressBar,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from dyeshade.window import drawing
from dyeshade.window.assign_dialogs import AssignDialogs
from dyeshade.window.assign_panel import AssignPanel
from dyeshade.window.assigning import Assigning
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.measuring import Measuring
from dyeshade.window.photo_page import PhotoPage
from dyeshade.window.photo_panel import PhotoPanel
from dyeshade.window.sample_delegate import SampleDelegate
from dyeshade.window.samples_model import SamplesModel
from dyeshade.words.lights import LIGHTS
from dyeshade.work.keep_readings import Kept
from dyeshade.work.look_at_photos import Asked


class MeasuringPlace(QWidget):
    """Photos, their samples, and the photo with what was found drawn over it.

    Parameters
    ----------
    measuring : Measuring
    assigning : Assigning
    desk : LibraryDesk
    """

    def __init__(
        self,
        measuring: Measuring,
        assigning: Assigning,
        desk: LibraryDesk,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._measuring = measuring
        self._assigning = assigning
        self.page: PhotoPage | None = None
        self._behind = False
        self._shown: tuple[object, bytes] | None = None
        self.samples = SamplesModel(self)
        self.panel = PhotoPanel()
        self.assign = AssignPanel(assigning)
        self.dialogs = AssignDialogs(self.assign, assigning, desk, self)
        self._build()
        self._connect()
        self.refresh()

    def _build(self) -> None:
        self.photo_list = QListView()
        self.photo_list.setModel(self._measuring.photos)
        self.photo_list.setAccessibleName(self.tr("Photos"))
        self.photo_list.setMaximumHeight(150)
        self.sample_list = QListView()
        self.sample_list.setModel(self.samples)
        self.sample_list.setItemDelegate(SampleDelegate(self.sample_list))
        self.sample_list.setAccessibleName(self.tr("Samples"))
        self.sample_list.setSelectionMode(QListView.SelectionMode.ExtendedSelection)
        self.sample_list.setResizeMode(QListView.ResizeMode.Adjust)
        self.sample_list.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.sample_list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.progress = QProgressBar()
        self.progress.setFormat(self.tr("%v of %m photos"))
        self.progress.setAccessibleName(self.tr("Photos measured"))
        self.stop = QPushButton(self.tr("Stop measuring"))
        side = QWidget()
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        for words, widget, share in (
            (self.tr("Photos"), self.photo_list, 1),
            (self.tr("Samples"), self.sample_list, 3),
        ):
            head = QLabel(words)
            head.setProperty("head", True)
            column.addWidget(head)
            column.addWidget(widget, share)
        column.addWidget(self.progress)
        column.addWidget(self.stop)
        parts = QSplitter(Qt.Orientation.Horizontal)
        parts.addWidget(side)
        parts.addWidget(self.panel)
        parts.setStretchFactor(1, 1)
        parts.setSizes([390, 800])
        parts.setChildrenCollapsible(False)
        parts.setHandleWidth(SPACE)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        whole.setSpacing(SPACE)
        whole.addWidget(parts, 1)
        whole.addWidget(self.assign)

    def _connect(self) -> None:
        # Queued: an outline must not be taken away while its own mouse event is being handled.
        later = Qt.ConnectionType.QueuedConnection
        measuring, view = self._measuring, self.panel.view
        measuring.page_changed.connect(self._page_changed)
        measuring.photos.rowsInserted.connect(self._photos_came)
        measuring.progressed.connect(self._progressed)
        measuring.stopped.connect(self._stopped)
        self.photo_list.selectionModel().currentChanged.connect(self._photo_chosen)
        self.sample_list.selectionModel().currentChanged.connect(self._sample_chosen)
        self.sample_list.selectionModel().selectionChanged.connect(self._show_said)
        self._assigning.changed.connect(self._said_changed)
        self._assigning.kept.connect(self._kept)
        measuring.photos.rowsRemoved.connect(lambda *_where: self.assign.tell_state())
        self.samples.rename_wanted.connect(self._rename, later)
        self.stop.clicked.connect(measuring.cancel)
        view.reshaped.connect(self._reshape, later)
        view.drawn.connect(self._drawn, later)
        view.chosen.connect(self._outline_chosen)
        view.released.connect(self._catch_up, later)
        self.panel.light_chosen.connect(self._light_chosen)
        self.panel.calibrated.connect(self._calibrated)
        self.panel.picture_wanted.connect(self._show_picture)
        self.panel.remove.clicked.connect(self.remove_chosen)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for the list and a photo."""
        return QSize(1180, 720)

    def refresh(self) -> None:
        """Show the state of the photo that is looked at."""
        key = self._chosen_key()
        chosen = self._chosen_names()
        self.samples.show(self.page)
        self._choose_names(chosen)
        self._show_picture()
        self._behind = not self.panel.view.show_outlines(self.page)
        self.panel.show_state(self.page, self._measuring.known)
        self._choose(key)
        self._show_said()
        self.progress.setVisible(self._measuring.busy)
        self.stop.setVisible(self._measuring.busy)

    def copy_values(self) -> None:
        """Put the samples on the clipboard, for a spreadsheet."""
        QGuiApplication.clipboard().setText(self.samples.as_text())

    def remove_chosen(self) -> None:
        """Remove the chosen sample or drawn grey."""
        key = self._chosen_key()
        if self.page is None or key is None:
            return
        kind, what = key
        asked = self.page.asked
        if kind == "grey":
            assert isinstance(what, int)
            self._ask(drawing.without_grey(asked, what), self.tr("remove a grey"))
            return
        row = self.samples.row_of(str(what))
        is_cell = row >= 0 and not self.samples.entries[row].drawn
        self._ask(
            drawing.without_sample(asked, str(what), is_cell), self.tr("remove {}").format(what)
        )

    def rename_chosen(self) -> None:
        """Edit the name of the chosen sample, where it was drawn by hand."""
        index = self.sample_list.currentIndex()
        if index.isValid() and index.flags() & Qt.ItemFlag.ItemIsEditable:
            self.sample_list.edit(index)

    def put_away(self) -> None:
        """Take the photo that is looked at off the list."""
        if self.page is not None:
            words = self.tr("put {} away").format(self.page.name)
            self._measuring.put_away(self.page, words)

    def measure_again(self) -> None:
        """Read the photo that is looked at anew, as where its file has changed."""
        if self.page is not None:
            self._measuring.measure([self.page])

    def _ask(self, wish: Asked, words: str, key: object = None) -> None:
        assert self.page is not None
        self._measuring.ask(self.page, wish, words, key)

    @Slot(object)
    def _page_changed(self, page: PhotoPage) -> None:
        if page is self.page:
            self.refresh()

    @Slot(QModelIndex, int, int)
    def _photos_came(self, parent: QModelIndex, first: int, last: int) -> None:
        self.photo_list.setCurrentIndex(self._measuring.photos.index(first, 0))

    @Slot(QModelIndex, QModelIndex)
    def _photo_chosen(self, index: QModelIndex, before: QModelIndex) -> None:
        self.page = self._measuring.photos.pages[index.row()] if index.isValid() else None
        self.panel.view.begin_drawing(None)
        self.refresh()

    @Slot(QModelIndex, QModelIndex)
    def _sample_chosen(self, index: QModelIndex, before: QModelIndex) -> None:
        if index.isValid():
            self._mark(("sample", self.samples.entries[index.row()].name))

    @Slot(object)
    def _outline_chosen(self, key: tuple[str, object]) -> None:
        if key[0] == "sample":
            row = self.samples.row_of(str(key[1]))
            self.sample_list.setCurrentIndex(self.samples.index(row, 0))
        else:
            self.sample_list.setCurrentIndex(QModelIndex())
        self._mark(key)

    def _mark(self, key: tuple[str, object] | None) -> None:
        view = self.panel.view
        view.choose(key)
        for one, outline in view.outlines.items():
            outline.setSelected(one == key)
        self.panel.remove.setEnabled(key is not None)

    def _choose(self, key: tuple[str, object] | None) -> None:
        if key is not None and key in self.panel.view.outlines:
            self._outline_chosen(key)
        else:
            self._mark(None)

    def _chosen_names(self) -> list[str]:
        rows = sorted(index.row() for index in self.sample_list.selectedIndexes())
        return [self.samples.entries[row].name for row in rows]

    def _choose_names(self, names: list[str]) -> None:
        rows = [row for row in map(self.samples.row_of, names) if row >= 0]
        if not rows and self.samples.entries:
            rows = [0]
        model = self.sample_list.selectionModel()
        flag = QItemSelectionModel.SelectionFlag.Select
        for row in rows:
            model.select(self.samples.index(row, 0), flag)

    @Slot()
    def _show_said(self) -> None:
        self.assign.show_samples(self.page, self._chosen_names())

    @Slot(object)
    def _said_changed(self, page: PhotoPage) -> None:
        if page is self.page:
            self.samples.said_changed()
            self._show_said()
        else:
            self.assign.tell_state()

    @Slot(object)
    def _kept(self, kept: Kept) -> None:
        count = len(kept.reading_ids)
        words = (
            self.tr("1 reading is in the library: {}.") if count == 1
            else self.tr("{count} readings are in the library: {}.")
        )  # fmt: skip
        pieces = ", ".join(dict.fromkeys(kept.pieces))
        self.assign.tell_kept(words.format(pieces, count=count), kept.reading_ids)

    def _chosen_key(self) -> tuple[str, object] | None:
        outlines = self.panel.view.outlines
        return next((key for key, one in outlines.items() if one.isSelected()), None)

    @Slot()
    def _catch_up(self) -> None:
        """Draw what came while an outline was held."""
        if self._behind:
            self.refresh()

    @Slot(object, object)
    def _reshape(self, key: tuple[str, object], corners: np.ndarray) -> None:
        if self.page is None:
            return
        kind, what = key
        if kind == "grey":
            assert isinstance(what, int)
            wish = drawing.with_grey_at(self.page.asked, what, corners)
            self._ask(wish, self.tr("move a grey"), key)
            return
        row = self.samples.row_of(str(what))
        is_cell = row >= 0 and not self.samples.entries[row].drawn
        wish = drawing.with_sample(self.page.asked, str(what), corners, is_cell)
        self._ask(wish, self.tr("reshape {}").format(what), key)

    @Slot(str, object)
    def _drawn(self, kind: str, corners: np.ndarray) -> None:
        self.panel.drawing_ended()
        if self.page is None:
            return
        if kind == "sample":
            taken = {entry.name for entry in self.page.entries()} | self.page.asked.without
            name = drawing.new_name(taken)
            wish = drawing.with_sample(self.page.asked, name, corners)
            self._ask(wish, self.tr("draw {}").format(name))
            self._choose(("sample", name))
            return
        percent, given = QInputDialog.getDouble(
            self,
            self.tr("A grey drawn by hand"),
            self.tr("How much of the light it reflects, in per cent, as its maker states\n"
                    "(18 for most grey cards):"),
            18.0, 1.0, 100.0, 1,
        )  # fmt: skip
        if given:
            wish = drawing.with_grey(self.page.asked, corners, percent / 100)
            self._ask(wish, self.tr("draw a grey"))

    @Slot(str, str)
    def _rename(self, name: str, new: str) -> None:
        if self.page is not None:
            wish = drawing.renamed(self.page.asked, name, new)
            words = self.tr("rename {}").format(name)
            self._assigning.rename(self.page, name, new, words, lambda: self._ask(wish, words))
            self._choose(("sample", new))

    @Slot(object)
    def _light_chosen(self, light: str | None) -> None:
        if self.page is not None and light != self.page.asked.light:
            words = self.tr("no light named") if light is None else LIGHTS[light]
            self._ask(drawing.in_light(self.page.asked, light), words)

    @Slot(bool)
    def _calibrated(self, use: bool) -> None:
        if self.page is not None and use != self.page.asked.calibrated:
            words = self.tr("use calibrations") if use else self.tr("leave calibrations out")
            self._ask(drawing.calibrated(self.page.asked, use), words)

    @Slot()
    def _show_picture(self) -> None:
        page = self.page
        look = None if page is None else page.look
        data = b"" if look is None else look.taken
        if page is not None and page.measured is not None and self.panel.corrected.isChecked():
            data = page.measured.corrected
        if self._shown is not None and self._shown[0] is page and self._shown[1] is data:
            return
        self._shown = (page, data)
        picture = QPixmap()
        if data:
            picture.loadFromData(data, "JPEG")
        self.panel.view.show_picture(picture, (0, 0) if look is None else look.size_px)

    @Slot(int, int)
    def _progressed(self, done: int, of: int) -> None:
        self.progress.setRange(0, of)
        self.progress.setValue(done)

    @Slot()
    def _stopped(self) -> None:
        self.refresh()
