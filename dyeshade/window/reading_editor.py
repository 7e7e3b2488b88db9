"""A kept reading, put right: whose it is, when, and in which state; its colour is measured."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QComboBox, QVBoxLayout, QWidget

from dyeshade.library.history import Step
from dyeshade.window.form_dialog import FormDialog, Keep
from dyeshade.window.look import SPACE
from dyeshade.window.typed_fields import MomentField, TypedField, WordsField
from dyeshade.words.dye_words import STATES
from dyeshade.words.shade_lines import step_words
from dyeshade.work.edit_piece import ReadingForm
from dyeshade.work.known import Known


class ReadingEditor(FormDialog):
    """What can be said of a reading.

    Parameters
    ----------
    form : ReadingForm
        What is shown at first.
    steps : sequence of Step
        What the piece went through, in order.
    known : Known
    keep : callable, optional
        As `dyeshade.window.form_dialog.Keep`.
    """

    def __init__(
        self,
        form: ReadingForm,
        steps: Sequence[Step],
        known: Known,
        parent: QWidget | None = None,
        *,
        keep: Keep | None = None,
    ) -> None:
        super().__init__(ReadingEditor.tr("A reading of {}").format(form.piece), keep, parent)
        self._pieces = {one.code.casefold() for one in known.pieces}
        self.piece = WordsField(
            self.tr("Piece"),
            self.tr("The piece"),
            needed=True,
            known=[one.code for one in known.pieces],
        )
        self.state = QComboBox()
        self.state.setAccessibleName(self.tr("State"))
        for state, words in STATES.items():
            self.state.addItem(words, state)
        self.read_at = MomentField(self.tr("Read"), self.tr("The day of the reading"), needed=True)
        self.after = QComboBox()
        self.after.setAccessibleName(self.tr("Last treatment before it"))
        self.after.addItem(self.tr("as the dates tell"), None)
        for place, step in enumerate(steps, 1):
            self.after.addItem(f"{place}. {step_words(step)}", step.treatment.id)
        self.after.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.note = WordsField(self.tr("Note"))
        fields = self.new_form()
        for words, field in (
            (self.tr("&Piece"), self.piece),
            (self.tr("&State"), self.state),
            (self.tr("&Read"), self.read_at),
            (self.tr("&After"), self.after),
            (self.tr("&Note"), self.note),
        ):
            self.add(fields, words, field)
        column = QVBoxLayout(self.body)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.addLayout(fields)
        column.addStretch(1)
        self.piece.show_value(form.piece)
        self.state.setCurrentIndex(self.state.findData(form.state))
        self.read_at.show_value(form.read)
        self.after.setCurrentIndex(max(0, self.after.findData(form.after)))
        self.note.show_value(form.note)
        self.resize(560, 340)

    def form(self) -> ReadingForm:
        """The reading as it was said; asked once the dialog was accepted."""
        assert isinstance(self._said, ReadingForm)
        return self._said

    def check(self) -> list[TypedField]:
        """Fields that cannot be read; they are answered."""
        mistaken = super().check()
        code = self.piece.text().strip()
        if code and code.casefold() not in self._pieces:
            words = self.tr("There is no piece {} in this library.")
            self.answer(self.piece, words.format(code))
            mistaken.append(self.piece)
        return mistaken

    def read(self) -> ReadingForm:
        """The reading; called after `check`."""
        read_at = self.read_at.read()
        assert read_at is not None
        return ReadingForm(
            self.piece.read(),
            self.state.currentData(),
            read_at,
            self.after.currentData(),
            self.note.read(),
        )
