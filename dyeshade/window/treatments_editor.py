"""What a piece went through, line by line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtWidgets import QComboBox, QVBoxLayout, QWidget

from dyeshade.library.dye_records import IN_A_BATH
from dyeshade.window.rows_editor import Row, RowsEditor
from dyeshade.window.typed_fields import MomentField, NumberField, TypedField, WordsField
from dyeshade.words.dye_words import TREATMENTS
from dyeshade.words.typed import MistypedError
from dyeshade.work.edit_piece import WITH_PH
from dyeshade.work.known import Known
from dyeshade.work.said import SaidTreatment

_KIND, _AMOUNT, _UNIT, _PH, _DAY, _SMALL, _NOTE = 126, 62, 70, 56, 136, 56, 130
Numbered = tuple[int, SaidTreatment]


class _BathField(WordsField):
    """A bath's code, or a substance, as the treatment has it."""

    def __init__(self, known: Known) -> None:
        super().__init__(_BathField.tr("Bath or substance"))
        self._known = known
        self.of_bath = False

    def take(self, of_bath: bool) -> None:
        """Complete baths, or substances."""
        self.of_bath = of_bath
        self.complete_from(self._known.baths if of_bath else self._known.substances)
        self.setPlaceholderText(self.tr("which bath") if of_bath else self.tr("what with"))

    def read(self) -> str:
        """The code or the substance. Raises as `TypedField.read`."""
        words = super().read()
        known = {code.casefold() for code in self._known.baths}
        if self.of_bath and words and words.casefold() not in known:
            raise MistypedError(self.tr("There is no bath {} in this library.").format(words))
        return words


class _TreatmentRow(Row):
    """One treatment; a kept one goes on being that one."""

    def __init__(self, known: Known, usual: str) -> None:
        self._kept: Numbered = (0, SaidTreatment(usual))
        self.kind = QComboBox()
        self.kind.setAccessibleName(_TreatmentRow.tr("Treatment"))
        for kind, words in TREATMENTS.items():
            self.kind.addItem(words, kind)
        self.what = _BathField(known)
        self.amount = NumberField(_TreatmentRow.tr("Amount"), _TreatmentRow.tr("The amount"), 0)
        self.unit = WordsField(_TreatmentRow.tr("Unit"), known=("g/l", "ml/l", "% wof", "g", "ml"))
        self.ph = NumberField(_TreatmentRow.tr("pH"), _TreatmentRow.tr("The pH"), 0, 14)
        self.started = MomentField(_TreatmentRow.tr("Begun"), _TreatmentRow.tr("The beginning"))
        self.minutes = NumberField(
            _TreatmentRow.tr("Minutes"), _TreatmentRow.tr("The time"), 0, unit="min"
        )
        self.temperature = NumberField(
            _TreatmentRow.tr("Temperature in °C"),
            _TreatmentRow.tr("The temperature"),
            -20,
            200,
            unit="°C",
        )
        self.note = WordsField(_TreatmentRow.tr("Note"))
        super().__init__(
            [
                (self.kind, _KIND),
                (self.what, 0),
                (self.amount, _AMOUNT),
                (self.unit, _UNIT),
                (self.ph, _PH),
                (self.started, _DAY),
                (self.minutes, _SMALL),
                (self.temperature, _SMALL),
                (self.note, _NOTE),
            ]
        )
        self.kind.currentIndexChanged.connect(self._kind_chosen)
        self.kind.setCurrentIndex(self.kind.findData(usual))
        self._kind_chosen()

    @property
    def blank(self) -> bool:
        """Never: its kind alone says something."""
        return False

    def show_value(self, value: object) -> None:
        """Show a kept treatment."""
        assert isinstance(value, tuple)
        self._kept = value
        said = value[1]
        self.kind.setCurrentIndex(self.kind.findData(said.kind))
        self.what.show_value(said.bath if said.kind in IN_A_BATH else said.substance)
        self.amount.show_value(said.amount)
        self.unit.show_value(said.unit)
        self.ph.show_value(said.ph)
        self.started.show_value(said.started)
        self.minutes.show_value(said.minutes)
        self.temperature.show_value(said.temperature_c)
        self.note.show_value(said.note)

    def read(self) -> Numbered:
        """The treatment with the number that it is kept under."""
        number, kept = self._kept
        kind = self.kind.currentData()
        of_bath = kind in IN_A_BATH
        said = replace(
            kept,
            kind=kind,
            bath=self.what.read() if of_bath else "",
            # A bath that was kept with a substance keeps it: there is no field for both.
            substance=(kept.substance if kept.kind in IN_A_BATH else "")
            if of_bath
            else self.what.read(),
            amount=self.amount.read(),
            unit=self.unit.read(),
            ph=self.ph.read() if kind in WITH_PH else None,
            started=self.started.read(),
            minutes=self.minutes.read(),
            temperature_c=self.temperature.read(),
            note=self.note.read(),
        )
        return number, said

    def _kind_chosen(self) -> None:
        kind = self.kind.currentData()
        self.ph.setEnabled(kind in WITH_PH)
        if self.what.of_bath != (kind in IN_A_BATH) or self.what.completer() is None:
            self.what.take(kind in IN_A_BATH)
            if self.what.text():
                self.answers.check(self.what)


class TreatmentsEditor(QWidget):
    """Treatments in their order, to be added, changed, moved and removed.

    Parameters
    ----------
    known : Known
    usual : str
        The kind that a new line begins with, one of `dyeshade.library.dye_records.TREATMENTS`.
    """

    def __init__(self, known: Known, parent: QWidget | None = None, *, usual: str = "bath") -> None:
        super().__init__(parent)
        self.lines = RowsEditor(
            [
                (self.tr("Treatment"), _KIND),
                (self.tr("Bath or substance"), 0),
                (self.tr("Amount"), _AMOUNT),
                (self.tr("Unit"), _UNIT),
                (self.tr("pH"), _PH),
                (self.tr("Begun"), _DAY),
                (self.tr("Minutes"), _SMALL),
                (self.tr("°C"), _SMALL),
                (self.tr("Note"), _NOTE),
            ],
            lambda: _TreatmentRow(known, usual),
            self.tr("Add a &treatment"),
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.lines)

    def show_numbered(self, treatments: Sequence[Numbered]) -> None:
        """Show kept treatments with the numbers that they are kept under."""
        self.lines.show_values(treatments)

    def show_treatments(self, treatments: Sequence[SaidTreatment]) -> None:
        """Show treatments that are not kept yet."""
        self.lines.show_values([(0, one) for one in treatments])

    def check(self) -> list[TypedField]:
        """Fields that cannot be read; they are answered."""
        return self.lines.check()

    def read_numbered(self) -> tuple[Numbered, ...]:
        """The treatments with the numbers that they are kept under; called after `check`."""
        return tuple(self.lines.read())

    def read(self) -> tuple[SaidTreatment, ...]:
        """The treatments.

        Raises
        ------
        MistypedError
            Where a field cannot be read; `check` answers beside it.
        """
        return tuple(said for _, said in self.read_numbered())
