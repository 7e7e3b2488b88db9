"""Reading a pH strip in a photo: its scale is marked once for its kind, its pad each time."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import Slot
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.measure.calibrations import Calibrations
from dyeshade.window.bathing import Bathing
from dyeshade.window.choosing_photos import choose_photo
from dyeshade.window.last_wish import LastWish
from dyeshade.window.look import SPACE, resize_on_screen
from dyeshade.window.page_parts import main_first, scrolled, tell
from dyeshade.window.return_key import Dialog
from dyeshade.window.strip_form import StripForm
from dyeshade.window.strip_view import PAD, SCALE, StripView
from dyeshade.window.wording import refusal_words
from dyeshade.work.calibrate import calibrations_in
from dyeshade.work.log_ph import log_strip
from dyeshade.work.read_strip import StripAsked, StripFound, StripLook, block_corners
from dyeshade.work.strip_kinds import StripKind, keep_kind, strip_kinds

Array = NDArray[np.float64]


class StripDialog(Dialog):
    """A photo, what is marked on it, the pH that it tells; the bath must be kept already.

    Parameters
    ----------
    bathing : Bathing
    reading : LastWish
        Reads strips.
    """

    def __init__(self, bathing: Bathing, reading: LastWish, parent: QWidget) -> None:
        super().__init__(parent)
        self._bathing, self._reading = bathing, reading
        self._path = ""
        self._marks: dict[str, Array] = {}
        self._asked: StripAsked | None = None
        self._keeping = False
        self._known: Calibrations | None = None
        self.found: StripFound | None = None
        self.setWindowTitle(
            self.tr("The pH of {} by a strip in a photo").format(bathing.typed.code)
        )
        self.view = StripView()
        self.view.setAccessibleName(self.tr("Photo of the strip"))
        self.view.hint = self.tr(
            "Lay the strip on the reference sheet with its printed scale beside it, and take a "
            "photo while the pad is fresh.\n\nChoose the photo, mark the whole scale and then the "
            "pad: the pH is told beside."
        )
        self.form = StripForm()
        self.keeps = QPushButton(self.tr("Keep this scale"))
        self.keeps.setToolTip(self.tr("To read further strips of this kind by it"))
        self.logs = QPushButton(self.tr("Log this p&H"))
        self.logs.setProperty("main", True)
        self._build()
        self._join()
        bathing.ask(
            lambda library: (strip_kinds(library), calibrations_in(library)),
            self._take_known,
            self._refuse,
        )
        self._show()

    def _build(self) -> None:
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        for button in (self.keeps, self.logs):
            buttons.addButton(button, QDialogButtonBox.ButtonRole.ActionRole)
            button.setAutoDefault(False)
        buttons.button(QDialogButtonBox.StandardButton.Close).setAutoDefault(False)
        buttons.rejected.connect(self.reject)
        for button in (self.form.choose, self.form.mark_scale, self.form.mark_pad, self.form.turn):
            button.setAutoDefault(False)
        row = QHBoxLayout()
        row.setSpacing(SPACE)
        row.addWidget(self.view, 1)
        side = scrolled(self.form)
        # Room for the bar beside what it scrolls.
        side.setFixedWidth(self.form.width() + 2 * SPACE)
        row.addWidget(side)
        column = QVBoxLayout(self)
        column.setSpacing(SPACE)
        column.addLayout(row, 1)
        column.addWidget(buttons)
        main_first(buttons, self.logs)
        resize_on_screen(self, 1080, 720)

    def _join(self) -> None:
        form, view = self.form, self.view
        form.choose.clicked.connect(self.choose_photo)
        form.edited.connect(self._ask)
        form.mark_scale.clicked.connect(lambda on: self._mark(SCALE, on))
        form.mark_pad.clicked.connect(lambda on: self._mark(PAD, on))
        form.turn.clicked.connect(self._turn)
        view.drawn.connect(self._drawn)
        view.reshaped.connect(lambda key, corners: self._drawn(key[0], corners))
        view.chosen.connect(view.choose)
        view.given_up.connect(lambda: self._mark("", False))
        self.keeps.clicked.connect(self._keep)
        self.logs.clicked.connect(self._log)
        self._reading.came.connect(self._take)

    def _take_known(self, known: tuple[tuple[StripKind, ...], Calibrations]) -> None:
        self._known = known[1]
        self.form.show_kinds(known[0])

    def _refuse(self, error: DyeshadeError) -> None:
        self._keeping = False
        tell(self.form.trouble, [refusal_words(error)])

    @Slot()
    def choose_photo(self) -> None:
        """Ask for a photo."""
        path = choose_photo(self, self.tr("Photo of the strip on the reference sheet"))
        if path:
            self.take_photo(path)

    def take_photo(self, path: str) -> None:
        """Show a photo; nothing is marked on it yet."""
        self._path, self._marks = path, {}
        self._ask()

    def _mark(self, kind: str, on: bool) -> None:
        self.form.mark_scale.setChecked(on and kind == SCALE)
        self.form.mark_pad.setChecked(on and kind == PAD)
        self.view.begin_drawing(kind if on else None)
        if on:
            self.view.setFocus()

    @Slot(str, object)
    def _drawn(self, kind: str, corners: Array) -> None:
        self._mark("", False)
        if len(corners) == 4:
            self._marks[kind] = corners
        self._ask()

    @Slot()
    def _turn(self) -> None:
        # The first block lies at the next corner; the marked place stays.
        self._marks[SCALE] = np.roll(self._marks[SCALE], 1, axis=0)
        self._ask()

    @Slot()
    def _ask(self) -> None:
        """Read the strip as it is marked now."""
        self.found = None
        self._asked = None
        if self._path:
            chosen, rows = self.form.chosen, self.form.rows
            self._asked = StripAsked(
                self._path,
                self.form.light.currentData() or None,
                rows or (),
                None if rows is None else self._marks.get(SCALE),
                None if rows is None else self._marks.get(PAD),
                None if chosen is None else chosen.colours,
                self._known,
            )
            self._reading.ask(self._asked)
        self._show()
        self.form.show_found(None, self._asked is not None and self._asked.whole)

    @Slot(object, object)
    def _take(self, asked: StripAsked, look: StripLook) -> None:
        if asked is not self._asked:
            return
        self._asked = None
        picture = QPixmap()
        picture.loadFromData(look.picture, "JPEG")
        self.view.show_picture(picture, look.size_px)
        self.found = look.found if isinstance(look.found, StripFound) else None
        self.form.show_found(look.found, False)
        self._show()

    def _show(self) -> None:
        form, rows = self.form, self.form.rows
        scale, pad = self._marks.get(SCALE), self._marks.get(PAD)
        has_photo = bool(self._path)
        form.photo.setText(Path(self._path).name if has_photo else self.tr(
            "Lay the strip on the reference sheet with its printed scale beside it, and take a "
            "photo while the pad is fresh."
        ))  # fmt: skip
        form.mark_scale.setEnabled(has_photo and rows is not None)
        form.mark_pad.setEnabled(has_photo)
        form.turn.setEnabled(scale is not None)
        blocks = []
        if scale is not None and rows is not None:
            blocks = [(f"{ph:g}", corners) for ph, corners in block_corners(scale, rows)]
        self.view.show_marks(scale, pad, blocks)
        form.show_missing(has_photo, scale is not None, pad is not None)
        self.keeps.setEnabled(self.found is not None and self.found.here)
        self.logs.setEnabled(self.found is not None and self.found.instrument is not None)

    def _kind(self) -> StripKind | None:
        """The kind with the scale of this photo, where it has a name."""
        rows, chosen = self.form.rows, self.form.chosen
        assert self.found is not None
        assert rows is not None
        name = self.form.name.text().strip() if chosen is None else chosen.name
        if not self.form.check_name():
            self.form.name.setFocus()
            return None
        if not name:
            self.form.ask_name()
            return None
        return StripKind(name, rows, self.found.colours)

    @Slot()
    def _keep(self) -> None:
        kind = self._kind()
        if kind is None:
            return

        def kept(_number: object) -> None:
            self._keeping = False
            tell(self.form.state, [self.tr("The scale of {} is kept.").format(kind.name)])
            self.keeps.setEnabled(False)

        self._keep_kind(kind, kept)

    def _keep_kind(self, kind: StripKind, then: Callable[[object], None]) -> None:
        self._keeping = True
        self._bathing.change_or_answer(
            self.tr("keep the scale of {}").format(kind.name),
            lambda library: keep_kind(library, kind),
            then,
            self._refuse,
        )

    @Slot()
    def _log(self) -> None:
        found, path, bath_id = self.found, self._path, self._bathing.key
        assert found is not None

        def log(_kept: object = None) -> None:
            self._bathing.change_or_answer(
                self.tr("log a pH"),
                lambda library: log_strip(library, bath_id, path, found),
                logged,
                refused,
            )

        def logged(_number: object) -> None:
            self._keeping = False
            self._bathing.told.emit(self.tr("Logged, with its photo."))
            self.accept()

        def refused(error: DyeshadeError) -> None:
            self._keeping = False
            self.logs.setEnabled(True)
            self._refuse(error)

        # A new kind that was given a name is kept along, so that it is marked once only.
        if self.form.chosen is None and self.keeps.isEnabled() and self.form.name.text().strip():
            kind = self._kind()
            if kind is None:
                return
            self._keep_kind(kind, log)
        else:
            self._keeping = True
            log()
        self.logs.setEnabled(False)

    def reject(self) -> None:
        """Close; not while the library is about to keep something."""
        if not self._keeping:
            super().reject()
