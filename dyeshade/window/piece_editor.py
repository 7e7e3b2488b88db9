"""A kept piece, put right."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from dyeshade.window.form_dialog import FormDialog, Keep
from dyeshade.window.look import SPACE
from dyeshade.window.treatments_editor import TreatmentsEditor
from dyeshade.window.typed_fields import NumberField, TypedField, WordsField
from dyeshade.work.edit_piece import PieceForm
from dyeshade.work.known import Known


class PieceEditor(FormDialog):
    """What a piece is and what it went through.

    Parameters
    ----------
    form : PieceForm
        What is shown at first.
    known : Known
    keep : callable, optional
        As `dyeshade.window.form_dialog.Keep`.
    """

    def __init__(
        self,
        form: PieceForm,
        known: Known,
        parent: QWidget | None = None,
        *,
        keep: Keep | None = None,
    ) -> None:
        super().__init__(PieceEditor.tr("The piece {}").format(form.code), keep, parent)
        own = form.code.casefold()
        self._taken = {one.code.casefold() for one in known.pieces} - {own}
        self.code = WordsField(self.tr("Id"), self.tr("The id"), needed=True)
        self.name = WordsField(self.tr("Name"))
        self.fibre = WordsField(self.tr("Fibre"), known=known.fibres)
        self.fibre_make = WordsField(self.tr("Make of the fibre"))
        self.fibre_make.setPlaceholderText(self.tr("yarn or cloth, how fine"))
        self.mordant = WordsField(self.tr("Mordant"), known=known.mordants)
        self.percent = NumberField(
            self.tr("Mordant in % of the weight of fibre"), self.tr("The mordant"), 0, unit="%"
        )
        self.weight = NumberField(
            self.tr("Weight in g, dry, after scouring"), self.tr("The weight"), above=0, unit="g"
        )
        self.note = WordsField(self.tr("Note"))
        self.treatments = TreatmentsEditor(known)
        self._build()
        for field, value in (
            (self.code, form.code),
            (self.name, form.name),
            (self.fibre, form.fibre),
            (self.fibre_make, form.fibre_make),
            (self.mordant, form.mordant),
            (self.percent, form.mordant_percent_wof),
            (self.weight, form.weight_g),
            (self.note, form.note),
        ):
            field.show_value(value)
        self.treatments.show_numbered(form.treatments)
        self.resize(1120, 560)

    def form(self) -> PieceForm:
        """The piece as it was said; asked once the dialog was accepted."""
        assert isinstance(self._said, PieceForm)
        return self._said

    def check(self) -> list[TypedField]:
        """Fields that cannot be read; they are answered."""
        mistaken = super().check()
        code = self.code.text().strip()
        if code.casefold() in self._taken:
            words = self.tr("Another piece is called {} already. Choose another id.")
            self.answer(self.code, words.format(code))
            mistaken.append(self.code)
        for name, more, words in (
            (self.fibre, self.fibre_make, self.tr("Say which fibre it is.")),
            (self.mordant, self.percent, self.tr("Say which mordant it is.")),
        ):
            if more.text().strip() and not name.text().strip():
                self.answer(name, words)
                mistaken.append(name)
        return mistaken + self.treatments.check()

    def read(self) -> PieceForm:
        """The piece; called after `check`."""
        return PieceForm(
            self.code.read(),
            self.name.read(),
            self.fibre.read(),
            self.fibre_make.read(),
            self.mordant.read(),
            self.percent.read(),
            self.weight.read(),
            self.note.read(),
            self.treatments.read_numbered(),
        )

    def _build(self) -> None:
        left, right = self.new_form(), self.new_form()
        for form, words, field in (
            (left, self.tr("&Id"), self.code),
            (left, self.tr("&Name"), self.name),
            (left, self.tr("Wei&ght, g"), self.weight),
            (left, self.tr("N&ote"), self.note),
            (right, self.tr("&Fibre"), self.fibre),
            (right, self.tr("Mak&e"), self.fibre_make),
            (right, self.tr("&Mordant"), self.mordant),
            (right, self.tr("% &wof"), self.percent),
        ):
            self.add(form, words, field)
        upper = QHBoxLayout()
        upper.setSpacing(2 * SPACE)
        upper.addLayout(left, 1)
        upper.addLayout(right, 1)
        head = QLabel(self.tr("What it went through, in order"))
        head.setProperty("head", True)
        column = QVBoxLayout(self.body)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.setSpacing(SPACE // 2)
        column.addLayout(upper)
        column.addSpacing(SPACE)
        column.addWidget(head)
        column.addWidget(self.treatments)
        column.addStretch(1)
