"""A bath as a dyer describes it."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from dyeshade.window.form_dialog import FormDialog, Keep
from dyeshade.window.look import SPACE
from dyeshade.window.rows_editor import Row, RowsEditor
from dyeshade.window.typed_fields import MomentField, NumberField, RatioField, WordsField
from dyeshade.words.dye_words import FORMS, WHICH_PH
from dyeshade.words.typed import MistypedError
from dyeshade.work.known import Known
from dyeshade.work.said import SaidAddition, SaidBath, SaidDye

_PART, _FORM, _RATIO = 110, 110, 74
_AMOUNT, _UNIT, _PH = 74, 74, 64


class _DyeRow(Row):
    """A dyestuff with its part, form, ratio and origin."""

    def __init__(self, known: Known) -> None:
        self.name = WordsField(_DyeRow.tr("Dyestuff"), needed=True, known=known.dyestuffs)
        self.part = WordsField(_DyeRow.tr("Part"))
        self.part.setPlaceholderText(_DyeRow.tr("root, leaf …"))
        self.form = QComboBox()
        self.form.setAccessibleName(_DyeRow.tr("Form"))
        for form, words in FORMS.items():
            self.form.addItem(words, form)
        self.form.setCurrentIndex(self.form.findData("dried"))
        self.ratio = RatioField(
            _DyeRow.tr("Per cent of the weight of fibre"), _DyeRow.tr("The ratio")
        )
        self.origin = WordsField(_DyeRow.tr("Origin"))
        super().__init__(
            [
                (self.name, 0),
                (self.part, _PART),
                (self.form, _FORM),
                (self.ratio, _RATIO),
                (self.origin, _PART),
            ]
        )

    def show_value(self, value: object) -> None:
        """Show a kept dyestuff."""
        assert isinstance(value, SaidDye)
        self.name.show_value(value.name)
        self.part.show_value(value.part)
        self.form.setCurrentIndex(self.form.findData(value.form or "dried"))
        self.ratio.show_value(value.ratio)
        self.origin.show_value(value.origin)

    def read(self) -> SaidDye:
        """The dyestuff."""
        return SaidDye(
            self.name.read(),
            self.part.read(),
            self.form.currentData(),
            self.ratio.read(),
            self.origin.read(),
        )


class _AmountField(NumberField):
    """An amount that has to be there."""

    def read(self) -> float:
        """The amount. Raises as `TypedField.read`."""
        value = super().read()
        if value is None:
            raise MistypedError(self.tr("{} is needed.").format(self.what))
        return value


class _AdditionRow(Row):
    """What was added, how much, and the pH read after it."""

    def __init__(self, known: Known) -> None:
        self.substance = WordsField(
            _AdditionRow.tr("Substance"), needed=True, known=known.substances
        )
        self.amount = _AmountField(_AdditionRow.tr("Amount"), _AdditionRow.tr("The amount"), 0)
        self.unit = WordsField(
            _AdditionRow.tr("Unit"), _AdditionRow.tr("The unit, as g or ml,"), needed=True
        )
        self.unit.complete_from(("g", "ml", "g/l", "ml/l", "% wof"))
        self.ph = NumberField(_AdditionRow.tr("pH after it"), _AdditionRow.tr("The pH"), 0, 14)
        super().__init__(
            [
                (self.substance, 0),
                (self.amount, _AMOUNT),
                (self.unit, _UNIT),
                (self.ph, _PH),
            ]
        )

    def show_value(self, value: object) -> None:
        """Show a kept addition."""
        assert isinstance(value, SaidAddition)
        self.substance.show_value(value.substance)
        self.amount.show_value(value.amount)
        self.unit.show_value(value.unit)
        self.ph.show_value(value.ph_after)

    def read(self) -> SaidAddition:
        """The addition."""
        return SaidAddition(
            self.substance.read(), self.amount.read(), self.unit.read(), self.ph.read()
        )


class BathEditor(FormDialog):
    """Describe a bath, or put a kept one right.

    Parameters
    ----------
    said : SaidBath
        What is shown at first.
    known : Known
    new : bool
        Whether the bath's code must be one that no kept bath has.
    keep : callable, optional
        As `dyeshade.window.form_dialog.Keep`.
    """

    def __init__(
        self,
        said: SaidBath,
        known: Known,
        parent: QWidget | None = None,
        *,
        new: bool = True,
        keep: Keep | None = None,
    ) -> None:
        title = BathEditor.tr("A new bath") if new else BathEditor.tr("The bath {}")
        super().__init__(title.format(said.code), keep, parent)
        self._first = said
        taken = {code.casefold() for code in known.baths}
        # A kept bath may keep its own code.
        self._taken = taken if new else taken - {said.code.casefold()}
        self._known_baths = {code.casefold() for code in known.baths}
        self.code = WordsField(self.tr("Id"), self.tr("The id"), needed=True)
        self.exhaust_of = WordsField(
            self.tr("Exhausts the bath"),
            known=[code for code in known.baths if code != said.code],
        )
        self.exhaust_of.setPlaceholderText(self.tr("fresh liquor"))
        self.started = MomentField(self.tr("Begun"), self.tr("The beginning"))
        self.water = WordsField(self.tr("Water"))
        self.vessel = WordsField(self.tr("Vessel"))
        self.liquor = NumberField(
            self.tr("Liquor ratio, water to fibre"), self.tr("The liquor ratio"), above=0
        )
        self.liquor.setPlaceholderText(self.tr("30 for 30 : 1"))
        self.temperature = NumberField(
            self.tr("Temperature in °C"), self.tr("The temperature"), -20, 200, unit="°C"
        )
        self.minutes = NumberField(self.tr("Minutes"), self.tr("The time"), 0, unit="min")
        self.note = WordsField(self.tr("Note"))
        self.phs = {
            which: NumberField(self.tr("pH {}").format(words), self.tr("The pH"), 0, 14)
            for which, words in list(WHICH_PH.items())[:3]
        }
        self.dyes = RowsEditor(
            [
                (self.tr("Dyestuff"), 0),
                (self.tr("Part"), _PART),
                (self.tr("Form"), _FORM),
                (self.tr("% wof"), _RATIO),
                (self.tr("Origin"), _PART),
            ],
            lambda: _DyeRow(known),
            self.tr("Add a &dyestuff"),
        )
        self.additions = RowsEditor(
            [
                (self.tr("Added"), 0),
                (self.tr("Amount"), _AMOUNT),
                (self.tr("Unit"), _UNIT),
                (self.tr("pH after"), _PH),
            ],
            lambda: _AdditionRow(known),
            self.tr("Add an &addition"),
        )
        self._build()
        self._show(said)
        self.resize(1060, 580)

    def said(self) -> SaidBath:
        """The bath as described; asked once the dialog was accepted."""
        assert isinstance(self._said, SaidBath)
        return self._said

    def check(self) -> list[WordsField | NumberField]:  # type: ignore[override]
        """Fields that cannot be read; they are answered."""
        mistaken = super().check()
        for field, sentence in (
            (self.code, self._answer_code()),
            (self.exhaust_of, self._answer_exhaust()),
        ):
            if sentence and field not in mistaken:
                self.answer(field, sentence)
                mistaken.append(field)
        return mistaken + self.dyes.check() + self.additions.check()

    def read(self) -> SaidBath:
        """The bath; called after `check`."""
        return SaidBath(
            self.code.read(),
            tuple(self.dyes.read()),
            self.exhaust_of.read(),
            self.started.read(),
            self.water.read(),
            self.vessel.read(),
            self.liquor.read(),
            self.temperature.read(),
            self.minutes.read(),
            tuple(self.additions.read()),
            tuple(
                (which, ph)
                for which, ph in ((which, field.read()) for which, field in self.phs.items())
                if ph is not None
            ),
            self.note.read(),
        )

    def _answer_code(self) -> str:
        code = self.code.text().strip()
        if code.casefold() not in self._taken:
            return ""
        return self.tr("Another bath is called {} already. Choose another id.").format(code)

    def _answer_exhaust(self) -> str:
        code = self.exhaust_of.text().strip()
        if not code:
            return ""
        own = {self.code.text().strip().casefold(), self._first.code.casefold()}
        if code.casefold() in own:
            return self.tr("A bath does not exhaust itself.")
        if code.casefold() not in self._known_baths | {self._first.exhaust_of.casefold()}:
            return self.tr("There is no bath {} in this library.").format(code)
        return ""

    def _show(self, said: SaidBath) -> None:
        for field, value in (
            (self.code, said.code),
            (self.exhaust_of, said.exhaust_of),
            (self.started, said.started),
            (self.water, said.water),
            (self.vessel, said.vessel),
            (self.liquor, said.liquor_ratio),
            (self.temperature, said.temperature_c),
            (self.minutes, said.minutes),
            (self.note, said.note),
        ):
            field.show_value(value)
        ph = dict(said.phs)
        for which, field in self.phs.items():
            field.show_value(ph.get(which))
        self.dyes.show_values(said.dyes or (() if said.exhaust_of else (SaidDye(""),)))
        self.additions.show_values(said.additions)

    def _build(self) -> None:
        left = self.new_form()
        for words, field in (
            (self.tr("&Id"), self.code),
            (self.tr("E&xhausts"), self.exhaust_of),
            (self.tr("&Begun"), self.started),
            (self.tr("&Water"), self.water),
            (self.tr("&Vessel"), self.vessel),
            (self.tr("&Liquor ratio"), self.liquor),
            (self.tr("Temperat&ure, °C"), self.temperature),
            (self.tr("&Minutes"), self.minutes),
            (self.tr("&Note"), self.note),
        ):
            self.add(left, words, field)
        ph = self.new_form()
        for which, field in self.phs.items():
            field.setMaximumWidth(110)
            self.add(ph, self.tr("pH {}").format(WHICH_PH[which]), field)
        right = QVBoxLayout()
        right.setSpacing(SPACE // 2)
        for words, rows in (
            (self.tr("Dyestuffs, with their weight to that of the dry fibre"), self.dyes),
            (self.tr("Additions, in their order"), self.additions),
        ):
            head = QLabel(words)
            head.setProperty("head", True)
            right.addWidget(head)
            right.addWidget(rows)
            right.addSpacing(SPACE)
        head = QLabel(self.tr("What was read; each pH is kept apart"))
        head.setProperty("head", True)
        right.addWidget(head)
        right.addLayout(ph)
        right.addStretch(1)
        row = QHBoxLayout(self.body)
        row.setContentsMargins(0, 0, SPACE, 0)
        row.setSpacing(2 * SPACE)
        side = QVBoxLayout()
        side.addLayout(left)
        side.addStretch(1)
        row.addLayout(side, 2)
        row.addLayout(right, 5)
