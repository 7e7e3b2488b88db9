"""Changes of the shade library that people ask for: a form or a key, one step of undo, a line."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.library.find import FoundShade
from dyeshade.library.history import Step, histories
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.window.bath_editor import BathEditor
from dyeshade.window.form_dialog import FormDialog, Keep
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.merge_dialog import MergeDialog
from dyeshade.window.piece_editor import PieceEditor
from dyeshade.window.reading_editor import ReadingEditor
from dyeshade.work.edit_bath import add_bath_said, bath_form, put_bath_right, remove_kept_bath
from dyeshade.work.edit_piece import (
    PieceForm,
    ReadingForm,
    merge_two_pieces,
    piece_form,
    put_piece_right,
    put_reading_right,
    remove_kept_piece,
    remove_readings,
)
from dyeshade.work.known import Known, exhaust_after, known_to
from dyeshade.work.said import SaidBath


class LibraryJobs(QObject):
    """Opens the forms, and hands what they say to the library.

    Parameters
    ----------
    desk : LibraryDesk
    above : QWidget
        What the forms stand above.

    Signals
    -------
    told(str)
        What was done, and how it is taken back.
    opened(FormDialog)
        A form stands open.
    """

    told = Signal(str)
    opened = Signal(object)

    def __init__(self, desk: LibraryDesk, above: QWidget) -> None:
        super().__init__(above)
        self._desk = desk
        self._above = above

    def edit_piece(self, piece_id: int) -> None:
        """Put a piece right."""

        def ask(library: Library) -> tuple[PieceForm, Known]:
            return piece_form(library, piece_id), known_to(library)

        def show(answer: tuple[PieceForm, Known]) -> None:
            form, known = answer
            keep = self._keep(
                self.tr("change the piece {}").format(form.code),
                lambda library, said: put_piece_right(library, piece_id, said),
                self.tr("The piece {} was changed.").format(form.code),
            )
            self._open(PieceEditor(form, known, self._above, keep=keep))

        self._desk.ask(ask, show)

    def edit_reading(self, reading_id: int) -> None:
        """Put a reading right: whose it is, when and in which state."""

        def ask(library: Library) -> tuple[ReadingForm, Sequence[Step], Known]:
            reading = library.the(Reading, reading_id)
            history = histories(library, [reading.piece_id])[reading.piece_id]
            form = ReadingForm(
                history.piece.code,
                reading.state,
                reading.read,
                reading.after_treatment_id,
                reading.note,
            )
            return form, history.steps, known_to(library)

        def show(answer: tuple[ReadingForm, Sequence[Step], Known]) -> None:
            form, steps, known = answer
            keep = self._keep(
                self.tr("change a reading of {}").format(form.piece),
                lambda library, said: put_reading_right(library, reading_id, said),
                self.tr("A reading of {} was changed.").format(form.piece),
            )
            self._open(ReadingEditor(form, steps, known, self._above, keep=keep))

        self._desk.ask(ask, show)

    def edit_bath(self, bath_id: int) -> None:
        """Put a bath right."""

        def ask(library: Library) -> tuple[SaidBath, Known]:
            return bath_form(library, bath_id), known_to(library)

        def show(answer: tuple[SaidBath, Known]) -> None:
            said, known = answer
            keep = self._keep(
                self.tr("change the bath {}").format(said.code),
                lambda library, wanted: put_bath_right(library, bath_id, wanted),
                self.tr("The bath {} was changed.").format(said.code),
            )
            self._open(BathEditor(said, known, self._above, new=False, keep=keep))

        self._desk.ask(ask, show)

    def new_bath(self, exhausts: str = "") -> None:
        """Describe a bath that is not kept yet: a fresh one, or an exhaust bath of another."""

        def ask(library: Library) -> tuple[SaidBath, Known]:
            known = known_to(library)
            said = exhaust_after(library, exhausts) if exhausts else SaidBath(known.next_bath)
            return said, known

        def show(answer: tuple[SaidBath, Known]) -> None:
            said, known = answer
            keep = self._keep(
                self.tr("add a bath"), add_bath_said, self.tr("The new bath was kept.")
            )
            self._open(BathEditor(said, known, self._above, keep=keep))

        self._desk.ask(ask, show)

    def merge(self, piece_id: int, code: str) -> None:
        """Make one piece of two that are one."""

        def show(known: Known) -> None:
            keep = self._keep(
                self.tr("merge {} with another piece").format(code),
                lambda library, other: merge_two_pieces(library, piece_id, other),
                self.tr("Two pieces were made one, {}.").format(code),
            )
            self._open(MergeDialog(code, known, self._above, keep=keep))

        self._desk.ask(known_to, show)

    def remove_readings(self, found: Sequence[FoundShade]) -> None:
        """Remove readings; their pieces and photos stay."""
        ids = [one.reading.id for one in found]
        if len(found) == 1:
            what = self.tr("a reading of {}").format(found[0].history.piece.code)
            told = self.tr("Removed a reading of {}; piece and photo are still kept.")
            told = told.format(found[0].history.piece.code)
        else:
            what = self.tr("{} readings").format(len(found))
            told = self.tr("Removed {} readings; pieces and photos are still kept.")
            told = told.format(len(found))
        self._change(
            self.tr("remove {}").format(what), lambda library: remove_readings(library, ids), told
        )

    def remove_piece(self, piece_id: int, code: str) -> None:
        """Remove a piece with its readings and treatments."""
        self._change(
            self.tr("remove the piece {}").format(code),
            lambda library: remove_kept_piece(library, piece_id),
            self.tr("Removed the piece {} with its readings and treatments.").format(code),
        )

    def remove_bath(self, bath_id: int, code: str) -> None:
        """Remove a bath that no piece was in."""
        self._change(
            self.tr("remove the bath {}").format(code),
            lambda library: remove_kept_bath(library, bath_id),
            self.tr("Removed the bath {}.").format(code),
        )

    def _change(self, words: str, job: Callable[[Library], bool], told: str) -> None:
        self._desk.change(words, job, lambda changed: self._tell(told, changed))

    def _keep(self, words: str, job: Callable[[Library, object], bool], told: str) -> Keep:
        def keep(
            said: object,
            done: Callable[[object], None],
            refused: Callable[[DyeshadeError], None],
        ) -> None:
            def then(changed: bool) -> None:
                done(changed)
                self._tell(told, changed)

            self._desk.change(words, lambda library: job(library, said), then, refused)

        return keep

    def _tell(self, told: str, changed: bool) -> None:
        if changed:
            key = QKeySequence(QKeySequence.StandardKey.Undo).toString(
                QKeySequence.SequenceFormat.NativeText
            )
            self.told.emit(self.tr("{0} {1} takes that back.").format(told, key))
        else:
            self.told.emit(self.tr("Nothing was changed."))

    def _open(self, dialog: FormDialog) -> None:
        self._desk.failed.connect(dialog.release)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        self.opened.emit(dialog)
