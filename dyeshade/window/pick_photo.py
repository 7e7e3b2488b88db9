"""A shade picked from a photo: one that is open where photos are measured, or another file."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QDialogButtonBox,
    QGridLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.measure.result import Measurement
from dyeshade.window.choosing_photos import choose_photo
from dyeshade.window.compare_fields import plain_box
from dyeshade.window.look import SPACE, resize_on_screen
from dyeshade.window.measuring import Measuring
from dyeshade.window.page_parts import main_first
from dyeshade.window.photo_picker import PhotoPicker
from dyeshade.window.pick_view import PickView
from dyeshade.window.return_key import Dialog
from dyeshade.window.swatch import swatch_icon
from dyeshade.window.wording import caution_words, refusal_words
from dyeshade.words.lights import LIGHTS
from dyeshade.words.shades import lab_words, sure_to
from dyeshade.words.wanted_words import how_sure_words, picked_words
from dyeshade.work.look_at_photos import Asked, PhotoLook
from dyeshade.work.pick_shade import PickedShade, as_measured, picked

SWATCH = QSize(34, 34)
_WIDTHS_MM = (4.0, 8.0, 16.0, 30.0)
_USUAL_MM = 8.0


class PickPhoto(Dialog):
    """A photo, its samples, and the shade of what is chosen or clicked.

    Parameters
    ----------
    measuring : Measuring
        Its photos are offered, and its threads and calibrations used.

    Attributes
    ----------
    photos, light, across : QComboBox
    view : PickView
    samples : QListWidget
    told : QLabel
    takes : QPushButton
    busy : bool
        Whether a photo or a spot is being measured.

    Signals
    -------
    taken(PickedShade)
        The shade that was picked.
    """

    taken = Signal(object)

    def __init__(self, measuring: Measuring, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(self.tr("Pick a shade from a photo"))
        self.picker = PhotoPicker(measuring, self)
        self._looks: dict[Asked, PhotoLook] = {}
        self._asked: list[Asked] = []
        self._shade: PickedShade | None = None
        self.photos, self.light, self.across = QComboBox(), QComboBox(), QComboBox()
        self.another = QPushButton(self.tr("Choose a pho&to…"))
        self.view = PickView()
        self.samples = QListWidget()
        self.told = QLabel()
        self.swatch = QLabel()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.takes = self.buttons.addButton(
            self.tr("Ta&ke this shade"), QDialogButtonBox.ButtonRole.AcceptRole
        )
        self._build()
        self._connect()
        for look in self.picker.open_looks():
            self._add(look)
        self._show(0 if self._asked else -1)
        resize_on_screen(self, 980, 700)

    @property
    def busy(self) -> bool:
        """Whether a photo or a spot is being measured."""
        return self.picker.busy

    @property
    def look(self) -> PhotoLook | None:
        """The photo that is shown, as it was measured."""
        row = self.photos.currentIndex()
        return self._looks.get(self._asked[row]) if row >= 0 else None

    def open_file(self) -> None:
        """Ask for a photo."""
        path = choose_photo(self, self.tr("Pick a shade from a photo"))
        if path:
            self.open_photo(path)

    def open_photo(self, path: str) -> None:
        """Measure a photo of the sheet, and show it."""
        self._measure(Asked(path, self.light.currentData()))

    def spot(self, x: float, y: float) -> None:
        """Measure the spot about a place in the photo."""
        look = self.look
        if look is None or not isinstance(look.found, Measurement):
            return
        self.samples.clearSelection()
        width = float(self.across.currentData())
        try:
            outline = self.picker.measure_spot(look, (x, y), width, self._take_spot)
        except DyeshadeError as error:
            self._refuse(error)
        else:
            self.view.show_spot(outline)
            self._say(self.tr("Measuring the spot…"))

    def _take_spot(self, found: PickedShade | DyeshadeError) -> None:
        if isinstance(found, DyeshadeError):
            self._refuse(found)
        else:
            self._show_shade(found)

    def accept(self) -> None:
        """Take the shade that is shown."""
        if self._shade is not None:
            self.taken.emit(self._shade)
            super().accept()

    def done(self, result: int) -> None:
        """Measure nothing more."""
        self.picker.stop()
        super().done(result)

    def _measure(self, asked: Asked) -> None:
        def take(look: PhotoLook) -> None:
            self._add(look)
            self._show(len(self._asked) - 1)

        self.picker.measure(asked, take)
        self._say(self.tr("Measuring {}…").format(Path(asked.path).name))

    def _add(self, look: PhotoLook) -> None:
        for row, asked in enumerate(self._asked):
            if asked.path == look.asked.path and asked.light == look.asked.light:
                del self._asked[row], self._looks[asked]
                self.photos.removeItem(row)
                break
        self._asked.append(look.asked)
        self._looks[look.asked] = look
        name = Path(look.asked.path).name
        light = "" if look.asked.light is None else f", {LIGHTS[look.asked.light]}"
        self.photos.addItem(f"{name}{light}")

    def _show(self, row: int) -> None:
        self.photos.setCurrentIndex(row)
        self._show_photo()

    def _show_photo(self) -> None:
        self.picker.stop()
        look = self.look
        self._shade = None
        self.samples.clear()
        self.view.show_look(look)
        self.takes.setEnabled(False)
        if look is None:
            self._say(
                self.tr(
                    "Choose a photo with a reference sheet in it: the sheet tells what the "
                    "light does to it. Photos that are open at Measuring are offered here."
                )
            )
            return
        self.light.setCurrentIndex(self.light.findData(look.asked.light))
        if isinstance(look.found, DyeshadeError):
            self._refuse(look.found)
            return
        for sample in look.found.samples:
            words = "\n".join(
                (
                    sample.name,
                    lab_words(tuple(sample.shade.lab)),
                    self.tr("sure to {}").format(sure_to(sample.shade.u95).partition(":")[0]),
                )
            )
            self.samples.addItem(QListWidgetItem(swatch_icon(sample.srgb, SWATCH), words))
        self._say(self.tr("Choose a sample, or click a spot in the photo."))
        if look.found.samples:
            self.samples.setCurrentRow(0)

    def _choose(self) -> None:
        look, rows = self.look, self.samples.selectedIndexes()
        if look is None or not isinstance(look.found, Measurement) or not rows:
            return
        self.picker.stop()
        self.view.show_spot(None)
        name = look.found.samples[rows[0].row()].name
        self._show_shade(picked(look.found, name, look.asked.path))

    def _show_shade(self, shade: PickedShade) -> None:
        self._shade = shade
        taken = as_measured(shade).reading
        told = [f"{picked_words(shade)}: {lab_words(taken.lab)}. {how_sure_words(shade)}"]
        look = self.look
        notices = look.found.notices if look and isinstance(look.found, Measurement) else ()
        told += [caution_words(one) for one in (*shade.notices, *notices)]
        self._say("\n".join(told), taken.srgb)

    def _refuse(self, error: DyeshadeError) -> None:
        self._shade = None
        self._say(refusal_words(error))

    def _say(self, words: str, srgb: str = "") -> None:
        if not srgb:
            self._shade = None
        self.told.setText(words)
        self.swatch.setVisible(bool(srgb))
        if srgb:
            self.swatch.setPixmap(swatch_icon(srgb, SWATCH * 2).pixmap(SWATCH * 2))
        self.takes.setEnabled(self._shade is not None)

    def _light_chosen(self) -> None:
        look = self.look
        if look is not None:
            self._measure(replace(look.asked, light=self.light.currentData()))

    def _build(self) -> None:
        self.view.hint = self.tr(
            "Choose a photo of the reference sheet with what is coloured on it.\n\nThen choose one "
            "of its samples, or click a spot: its shade is what is wanted."
        )
        self.view.setAccessibleName(self.tr("Photo: click a spot, or move a cross with the arrows"))
        self.samples.setAccessibleName(self.tr("Samples in the photo"))
        self.samples.setIconSize(SWATCH)
        self.samples.setMinimumWidth(220)
        self.told.setWordWrap(True)
        self.told.setAccessibleName(self.tr("The shade"))
        self.told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.told.setMinimumHeight(4 * self.fontMetrics().lineSpacing())
        self.told.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.takes.setProperty("main", True)
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).setAutoDefault(False)
        self.another.setAutoDefault(False)
        for box in (self.photos, self.light):
            plain_box(box, 16)
        self.light.addItem(self.tr("light not named"), None)
        for kind, words in LIGHTS.items():
            self.light.addItem(words, kind)
        for width in _WIDTHS_MM:
            self.across.addItem(self.tr("{} mm").format(f"{width:g}"), width)
        self.across.setCurrentIndex(_WIDTHS_MM.index(_USUAL_MM))
        grid = QGridLayout()
        grid.setHorizontalSpacing(SPACE)
        grid.setVerticalSpacing(SPACE // 3)
        for place, (words, widget) in enumerate(
            (
                (self.tr("&Photo"), self.photos),
                (self.tr("&Light it was taken in"), self.light),
                (self.tr("A spot is &wide"), self.across),
            )
        ):
            label = QLabel(words)
            label.setBuddy(widget)
            widget.setAccessibleName(words.replace("&", ""))
            grid.addWidget(label, 0, place)
            grid.addWidget(widget, 1, place)
        grid.addWidget(self.another, 1, 3)
        grid.setColumnStretch(0, 2)
        grid.setColumnStretch(1, 1)
        middle = QGridLayout()
        middle.setSpacing(SPACE)
        middle.addWidget(self.view, 0, 0)
        middle.addWidget(self.samples, 0, 1)
        middle.setColumnStretch(0, 1)
        foot = QGridLayout()
        foot.setHorizontalSpacing(SPACE)
        foot.addWidget(self.swatch, 0, 0, Qt.AlignmentFlag.AlignTop)
        foot.addWidget(self.told, 0, 1)
        foot.setColumnStretch(1, 1)
        column = QVBoxLayout(self)
        column.setSpacing(SPACE)
        column.addLayout(grid)
        column.addLayout(middle, 1)
        column.addLayout(foot)
        column.addWidget(self.buttons)
        main_first(self.buttons, self.takes)

    def _connect(self) -> None:
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        self.photos.activated.connect(lambda _row: self._show_photo())
        self.light.activated.connect(lambda _row: self._light_chosen())
        self.another.clicked.connect(self.open_file)
        self.samples.itemSelectionChanged.connect(self._choose)
        self.samples.itemActivated.connect(lambda _item: self.accept())
        self.view.spotted.connect(self.spot)
