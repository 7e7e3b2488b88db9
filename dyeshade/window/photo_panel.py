"""The photo with its tools above it, and what concerns the whole photo beneath."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from dyeshade.measure.calibrations import NO_CALIBRATIONS, Calibrations
from dyeshade.measure.result import Measurement
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import tell, told
from dyeshade.window.photo_page import SHEET_CHANGED, PhotoPage
from dyeshade.window.photo_view import PhotoView
from dyeshade.window.wording import caution_words, refusal_words
from dyeshade.words.learnt import fitting_words
from dyeshade.words.lights import LIGHTS
from dyeshade.work.look_at_photos import fitting


class PhotoPanel(QWidget):
    """Tools, photo, notes.

    Signals
    -------
    light_chosen(str or None)
    calibrated(bool)
        Calibrations are to be used, or left out.
    picture_wanted()
        The photo is wanted as taken, or as corrected.
    """

    light_chosen = Signal(object)
    calibrated = Signal(bool)
    picture_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = PhotoView()
        self.view.setAccessibleName(self.tr("Photo"))
        self.taken = self._tool(self.tr("As taken"), "Ctrl+T", checkable=True)
        self.corrected = self._tool(self.tr("As corrected"), "Ctrl+K", checkable=True)
        self.corrected.setToolTip(
            self.tr("The light that the greys tell is divided out, as in the numbers (Ctrl+K)")
        )
        self.sample = self._tool(self.tr("Draw a sample"), "Ctrl+D", checkable=True)
        self.grey = self._tool(self.tr("Draw a grey"), "Ctrl+G", checkable=True)
        self.remove = self._tool(self.tr("Remove"), "Del")
        self.light = QComboBox()
        self.light.setAccessibleName(self.tr("Light the photo was taken in"))
        self.light.addItem(self.tr("light not named"), None)
        for kind, words in LIGHTS.items():
            self.light.addItem(words, kind)
        self.learnt = QCheckBox()
        self.learnt.setToolTip(
            self.tr("Without the tick the photo is measured as if nothing had been calibrated")
        )
        self.changed = told(wrong=True)
        self.notes = QLabel()
        self.notes.setWordWrap(True)
        self.notes.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._build()
        self._connect()

    def _tool(self, words: str, key: str, checkable: bool = False) -> QPushButton:
        button = QPushButton(words)
        button.setCheckable(checkable)
        button.setShortcut(key)
        button.setToolTip(f"{words} ({key})")
        return button

    def _build(self) -> None:
        self.way = QButtonGroup(self)
        for button in (self.taken, self.corrected):
            self.way.addButton(button)
        self.taken.setChecked(True)
        tools = QHBoxLayout()
        tools.setSpacing(SPACE // 2)
        for group in ((self.taken, self.corrected), (self.sample, self.grey, self.remove)):
            for button in group:
                tools.addWidget(button)
            tools.addSpacing(SPACE)
        tools.addStretch(1)
        tools.addWidget(self.light)
        # Long notes scroll, so that the photo keeps its room.
        area = QScrollArea()
        area.setWidget(self.notes)
        area.setWidgetResizable(True)
        area.setMaximumHeight(96)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._area = area
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addLayout(tools)
        column.addWidget(self.view, 1)
        column.addWidget(self.learnt)
        column.addWidget(self.changed)
        column.addWidget(area)

    def _connect(self) -> None:
        self.view.given_up.connect(self.drawing_ended)
        self.way.buttonClicked.connect(lambda _button: self.picture_wanted.emit())
        self.light.activated.connect(lambda row: self.light_chosen.emit(self.light.itemData(row)))
        self.learnt.clicked.connect(self.calibrated)
        self.sample.clicked.connect(lambda on: self._draw("sample" if on else None, self.grey))
        self.grey.clicked.connect(lambda on: self._draw("grey" if on else None, self.sample))

    def _draw(self, kind: str | None, other: QPushButton) -> None:
        other.setChecked(False)
        self.view.begin_drawing(kind)
        if kind:
            self.view.setFocus()

    def drawing_ended(self) -> None:
        """Something was drawn, or that was given up."""
        self.view.begin_drawing(None)
        self.sample.setChecked(False)
        self.grey.setChecked(False)

    def show_state(self, page: PhotoPage | None, known: Calibrations = NO_CALIBRATIONS) -> None:
        """Say what concerns the whole photo, and allow what can be done with it.

        Parameters
        ----------
        page : PhotoPage or None
        known : Calibrations
            All that the library holds.
        """
        has_picture = page is not None and page.look is not None and bool(page.look.taken)
        measured = page is not None and page.measured is not None
        self.taken.setEnabled(has_picture)
        self.corrected.setEnabled(measured)
        if not measured and self.corrected.isChecked():
            self.taken.setChecked(True)
        self.sample.setEnabled(has_picture)
        self.grey.setEnabled(page is not None and page.can_draw_greys)
        self.light.setEnabled(page is not None)
        if page is not None:
            self.light.setCurrentIndex(self.light.findData(page.asked.light))
        self._show_learnt(page, known)
        lines = self._notes(page)
        self.notes.setText(lines)
        self._area.setVisible(bool(lines))

    def _show_learnt(self, page: PhotoPage | None, known: Calibrations) -> None:
        found = None if page is None else page.measurement
        own = NO_CALIBRATIONS if found is None else fitting(found, known)
        self.learnt.setVisible(bool(own.ids))
        if page is not None and found is not None and own.ids:
            self.learnt.setText(fitting_words(own, {notice.code for notice in found.notices}))
            self.learnt.setChecked(page.asked.calibrated)
        notices = () if found is None or page is None or page.refusal else found.notices
        tell(self.changed, [caution_words(one) for one in notices if one.code in SHEET_CHANGED])

    def _notes(self, page: PhotoPage | None) -> str:
        if page is None:
            return self.tr("Choose photos with Ctrl+O, drop them on this window, or paste them.")
        if page.refusal is not None:
            return self.tr("Not measured. {}").format(refusal_words(page.refusal))
        if page.measurement is None:
            return self.tr("Measuring {}…").format(page.name) if page.busy else ""
        lines = [_about(page.measurement, self)]
        said = page.measurement.notices
        lines += [caution_words(notice) for notice in said if notice.code not in SHEET_CHANGED]
        return "\n".join(lines)


def _about(measurement: Measurement, words: QWidget) -> str:
    """Sheet, time and camera in a line."""
    sheet = measurement.sheet
    if sheet is None:
        parts = [words.tr("Measured by greys drawn by hand")]
    elif sheet.serial is None:
        parts = [words.tr("Reference sheet, serial number not legible")]
    else:
        parts = [words.tr("Reference sheet {}").format(sheet.serial)]
    if measurement.taken is not None:
        parts.append(words.tr("taken {}").format(f"{measurement.taken:%Y-%m-%d %H:%M}"))
    if measurement.camera is not None:
        parts.append(measurement.camera)
    return ", ".join(parts) + "."
