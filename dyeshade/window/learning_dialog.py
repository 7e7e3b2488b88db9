"""What the dialogs have in common in which a camera or a print is learnt from a photo."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QColor, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.measure.calibrations import CameraCalibration, SheetCalibration
from dyeshade.window.chart_choice import ChartChoice
from dyeshade.window.choosing_photos import choose_photo
from dyeshade.window.errands import Errand, Errands, Progress
from dyeshade.window.learn_view import LearnView
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE, resize_on_screen
from dyeshade.window.page_parts import head, main_first, scrolled, tell, told
from dyeshade.window.return_key import Dialog
from dyeshade.window.wording import caution_words, refusal_words
from dyeshade.words.lights import LIGHTS
from dyeshade.work.calibrate import keep_calibration
from dyeshade.work.chart_compared import corner_colours, first_guess
from dyeshade.work.learn_from_photo import LearnLook, ToLearn, learn_from_photo
from dyeshade.work.side_by_side import Warm

Learnt = CameraCalibration | SheetCalibration

_STEPS_WIDE = 400
_OF_CHART = ("chart_clipped", "chart_hidden", "calibration_unsure", "chart_beside_sheet")


class LearningDialog(Dialog):
    """A photo to the left; to the right what is asked, what was found, and a button that keeps it.

    Parameters
    ----------
    title, hint : str
        What the window is called, and what its empty photo says.
    desk : LibraryDesk
    """

    def __init__(self, title: str, hint: str, desk: LibraryDesk, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setAcceptDrops(True)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.desk = desk
        self.errands = Errands("learning", 1, self)
        self.errands.failed.connect(desk.failed)
        desk.failed.connect(self._release)
        self._warm = Warm()
        self.look: LearnLook | None = None
        self._path = ""
        self._corners: np.ndarray | None = None
        self._asked: ToLearn | None = None
        self._late: LearnLook | None = None
        self._keeping = False
        self.view = LearnView(hint)
        self.view.setAccessibleName(self.tr("Photo"))
        self.photo = QPushButton(self.tr("Choose the &photo…"))
        self.photo_name = QLabel(self.tr("or drop it on this window"))
        self.photo_name.setProperty("faint", True)
        self.chart = ChartChoice()
        self.light = QComboBox()
        self.light.setAccessibleName(self.tr("Light the photo was taken in"))
        for kind, words in LIGHTS.items():
            self.light.addItem(words, kind)
        self.state = told()
        self.find = QPushButton(self.tr("&Look for it again"))
        self.find.hide()
        self.trouble = told(wrong=True)
        self.said = told()
        self.notes = told(faint=True)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.keeps = self.buttons.addButton(
            self.tr("&Keep"), QDialogButtonBox.ButtonRole.AcceptRole
        )
        self.keeps.setProperty("main", True)
        self.keeps.setEnabled(False)
        self.column = QVBoxLayout()
        self.column.setContentsMargins(0, 0, SPACE // 2, 0)
        self.column.setSpacing(SPACE // 2)

    def put_together(self) -> None:
        """Lay all out, once the steps are in `column`."""
        self.column.addStretch(1)
        inner = QWidget()
        inner.setLayout(self.column)
        area = scrolled(inner)
        area.setFixedWidth(_STEPS_WIDE)
        self.parts = QHBoxLayout()
        self.parts.setSpacing(SPACE)
        self.parts.addWidget(self.view, 1)
        self.parts.addWidget(area)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        whole.setSpacing(SPACE)
        whole.addLayout(self.parts, 1)
        whole.addWidget(self.buttons)
        main_first(self.buttons, self.keeps)
        resize_on_screen(self, 1080, 740)
        self.buttons.accepted.connect(self.keep)
        self.buttons.rejected.connect(self.reject)
        # Enter in a field must not leave.
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).setAutoDefault(False)
        for button in (self.photo, self.find, self.chart.file):
            button.setAutoDefault(False)
        self.photo.clicked.connect(self.choose_photo)
        self.find.clicked.connect(self.find_again)
        self.chart.chosen.connect(self._chart_chosen)
        self.light.activated.connect(self.try_it)
        # Queued: an outline must not be taken away while its own mouse event is being handled.
        self.view.reshaped.connect(self._moved, Qt.ConnectionType.QueuedConnection)
        self.view.released.connect(self._released, Qt.ConnectionType.QueuedConnection)

    def add_step(self, words: str, *widgets: QWidget) -> QWidget:
        """A step: what is to be done, and with what."""
        step = QWidget()
        column = QVBoxLayout(step)
        column.setContentsMargins(0, 0, 0, SPACE // 2)
        column.setSpacing(SPACE // 2)
        label = head(words)
        label.setWordWrap(True)
        for widget in (label, *widgets):
            column.addWidget(widget)
        self.column.addWidget(step)
        return step

    def choose_photo(self) -> None:
        """Ask for the photo."""
        path = choose_photo(self, self.windowTitle())
        if path:
            self.take_photo(path)

    def take_photo(self, path: str) -> None:
        """Take a photo, and learn from it as far as all is said."""
        self._path, self._corners = path, None
        self.photo_name.setText(Path(path).name)
        self.try_it()

    @Slot()
    def find_again(self) -> None:
        """Give up the corners that were placed by hand."""
        self._corners = None
        self.try_it()

    def wish(self, path: str) -> ToLearn | None:
        """What is asked for as the fields stand; None where something is missing."""
        raise NotImplementedError

    def show_found(self, look: LearnLook | None) -> None:
        """Show what was learnt, or nothing where nothing was."""
        raise NotImplementedError

    def made(self) -> Learnt | None:
        """What is to be kept."""
        found = None if self.look is None else self.look.found
        if found is None or isinstance(found, DyeshadeError):
            return None
        return found.calibration

    @Slot()
    def try_it(self) -> None:
        """Learn as the fields stand."""
        asked = self.wish(self._path) if self._path else None
        if asked is not None and asked.chart is not None:
            asked = replace(asked, corners_px=self._corners)
        self._asked = asked
        self.look = None
        self.keeps.setEnabled(False)
        tell(self.trouble, [])
        tell(self.notes, [])
        self.show_found(None)
        tell(self.said, [])
        if asked is None:
            self.view.forget_marks()
            tell(self.state, [])
            return
        tell(self.state, [self.tr("Looking at the photo…")])

        def work(_progress: Progress) -> Iterator[LearnLook]:
            # What another wish has overtaken meanwhile is not worth the time.
            if self._asked is asked:
                yield learn_from_photo(asked, self._warm)

        self.errands.start(work, Errand(self._take))

    def keep(self) -> None:
        """Have the library keep what was learnt."""
        value = self.made()
        if value is None:
            return
        self.keep_by(value.name, lambda: value)

    def keep_by(self, name: str, make: Callable[[], Learnt]) -> None:
        """Keep what `make` gives in the library's thread."""
        self._keeping = True
        self.keeps.setEnabled(False)
        words = self.tr("get to know {}").format(name)

        def kept(_number: int) -> None:
            # The window may have been closed meanwhile, and this dialog with it.
            if self._keeping:
                self._keeping = False
                self.accept()

        def refused(error: DyeshadeError) -> None:
            if not self._keeping:
                return
            self._keeping = False
            self.keeps.setEnabled(True)
            tell(self.trouble, [refusal_words(error)])

        self.desk.change(words, lambda library: keep_calibration(library, make()), kept, refused)

    def reject(self) -> None:
        """Leave all as it was; not while the library is about to keep it."""
        if not self._keeping:
            super().reject()

    def leave(self) -> None:
        """Close in any case, as the window does."""
        super().reject()

    def done(self, result: int) -> None:
        """Let the photo in hand go, then close."""
        self._asked = None
        self._keeping = False
        self.hide()
        self.errands.close()
        self._warm.close()
        super().done(result)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802
        """Take a file that is dragged over the window."""
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802
        """Take the photo that was dropped."""
        paths = [url.toLocalFile() for url in event.mimeData().urls() if url.isLocalFile()]
        if paths:
            self.take_photo(paths[0])
        event.acceptProposedAction()

    def _chart_chosen(self) -> None:
        # Corners of another chart are elsewhere.
        self.find_again()

    def _take(self, look: LearnLook) -> None:
        if look.asked is not self._asked:
            return
        if self.view.holds:
            # What the mouse holds must not be taken away: shown when it lets go.
            self._late = look
            return
        self.look = look
        self.view.show_look(look)
        chart = look.asked.chart
        error = look.found if isinstance(look.found, DyeshadeError) else None
        lost = error is not None and error.code == "chart_not_found"
        if chart is not None and look.taken:
            corners = look.corners_px if len(look.corners_px) else first_guess(look.size_px)
            colours = [QColor(*rgb) for rgb in corner_colours(chart)]
            self.view.show_chart(corners, look.patches_px, self.tr("first patch"), colours)
        placed = look.asked.corners_px is not None
        self.find.setVisible(chart is not None and placed)
        found_it = chart is not None and len(look.corners_px) > 0 and not placed
        sentence = self.tr(
            "The chart was found by itself. Where the small squares do not lie inside its patches, "
            "drag the corners."
        )
        tell(self.state, [sentence] if found_it else [])
        wrong = [] if error is None else [refusal_words(error)]
        self.show_found(look)
        if not isinstance(look.found, DyeshadeError):
            notices = look.found.notices
            # Beside the chart, where it is mended, and not below all that was learnt.
            wrong = [caution_words(one) for one in notices if one.code in _OF_CHART]
            told_below = [caution_words(one) for one in notices if one.code not in _OF_CHART]
            tell(self.notes, told_below)
        tell(self.trouble, wrong)
        self.keeps.setEnabled(error is None and self.desk.can_write)
        if error is None and not self.desk.can_write:
            tell(self.trouble, [self.tr("This library is open for reading only.")])
        if lost:
            self.view.setFocus()

    @Slot(object)
    def _release(self, _fault: object) -> None:
        """Let people leave: a fault of ours came in between, and nothing more will come."""
        self._keeping = False
        tell(self.state, [])

    @Slot()
    def _released(self) -> None:
        look, self._late = self._late, None
        if look is not None:
            self._take(look)

    @Slot(object, object)
    def _moved(self, _key: object, corners: np.ndarray) -> None:
        self._corners = corners
        self.try_it()
