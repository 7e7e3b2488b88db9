"""Dialogs of the measuring place: a bath described, treatments listed."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QDialogButtonBox, QLabel, QVBoxLayout, QWidget

from dyeshade.library.baths import find_bath
from dyeshade.library.dye_records import IN_A_BATH
from dyeshade.window.assign_panel import AssignPanel
from dyeshade.window.assigning import Assigning
from dyeshade.window.bath_editor import BathEditor
from dyeshade.window.home_test_recording import HomeTestRecording
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.library_jobs import LibraryJobs
from dyeshade.window.look import SPACE
from dyeshade.window.return_key import Dialog
from dyeshade.window.treatments_editor import TreatmentsEditor
from dyeshade.words.typed import MistypedError
from dyeshade.work.known import Known, said_of_piece
from dyeshade.work.said import Said, SaidBath, SaidTreatment


class TreatmentsDialog(Dialog):
    """What the pieces of the chosen samples went through before this photo."""

    def __init__(
        self, treatments: tuple[SaidTreatment, ...], known: Known, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(self.tr("Treatments before this photo"))
        self.resize(760, 420)
        self.treatments: tuple[SaidTreatment, ...] = treatments
        words = QLabel(
            self.tr("In their order: all of them, or those since the last reading. What is in the "
                    "library already is kept once.")
        )  # fmt: skip
        words.setWordWrap(True)
        words.setProperty("faint", True)
        in_a_bath = any(one.kind in IN_A_BATH for one in treatments)
        self.editor = TreatmentsEditor(known, usual="rinse" if in_a_bath else "bath")
        self.editor.show_treatments(treatments)
        self.told = QLabel()
        self.told.setWordWrap(True)
        self.told.setProperty("wrong", True)
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        column.setSpacing(SPACE)
        for widget in (words, self.editor, self.told):
            column.addWidget(widget)
        column.addStretch(1)
        column.addWidget(buttons)

    def accept(self) -> None:
        """Take what was typed, where all of it can be understood."""
        try:
            self.treatments = self.editor.read()
        except MistypedError as error:
            self.told.setText(error.sentence)
            return
        if any(one.kind in IN_A_BATH and not one.bath for one in self.treatments):
            self.told.setText(self.tr("Which bath was it in? Write the bath's id."))
            return
        super().accept()


class AssignDialogs(QObject):
    """Opens the dialogs of the strip beneath the photo, and takes what comes of them."""

    def __init__(
        self,
        panel: AssignPanel,
        assigning: Assigning,
        desk: LibraryDesk,
        above: QWidget,
    ) -> None:
        super().__init__(above)
        self._panel, self._assigning, self._desk, self._above = panel, assigning, desk, above
        self.home_test = HomeTestRecording(panel, assigning, desk, above)
        self._put_right = LibraryJobs(desk, above).edit_bath
        panel.bath_wanted.connect(self.describe_bath)
        panel.like_last_wanted.connect(self.describe_like_last)
        panel.treatments_wanted.connect(self.list_treatments)

    def _known(self, but: str = "") -> Known:
        """What the library knows, with the baths that were described in this sitting."""
        known = self._assigning.known
        baths = dict.fromkeys([*self._assigning.baths, *known.baths])
        return replace(known, baths=tuple(code for code in baths if code != but))

    @Slot(str)
    def describe_bath(self, code: str) -> None:
        """Describe a bath, a new one or one that is known."""
        self._assigning.find_bath(code, self._show_bath)

    @Slot()
    def describe_like_last(self) -> None:
        """Describe a new bath that begins as the last one did."""
        self._assigning.bath_like_the_last(self._show_bath)

    def _show_bath(self, bath: SaidBath, new: bool) -> None:
        if not new:
            self._desk.ask(lambda library: find_bath(library, bath.code).id, self._put_right)
            return
        known = self._known(but=bath.code)
        editor = BathEditor(bath, known, self._above)

        def take() -> None:
            said = editor.said()
            self._assigning.describe_bath(said)
            self._panel.say_bath(said.code)

        editor.accepted.connect(take)
        editor.finished.connect(editor.deleteLater)
        editor.open()

    @Slot()
    def list_treatments(self) -> None:
        """List what the pieces of the chosen samples went through."""
        page, names = self._panel.chosen
        if page is None or not names:
            return
        said = page.said.get(names[0], Said())

        def show(kept: Said | None) -> None:
            before = said.treatments or (() if kept is None else kept.treatments)
            dialog = TreatmentsDialog(before, self._known(), self._above)
            dialog.accepted.connect(lambda: self._panel.say_treatments(dialog.treatments))
            dialog.finished.connect(dialog.deleteLater)
            dialog.open()

        # What the piece went through before is there to be gone on with, where it is one piece.
        code = said.piece if len(names) == 1 else ""
        self._desk.ask(lambda library: said_of_piece(library, code) if code else None, show)
