"""New pieces by the dozen, said once for all of them."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QPlainTextEdit, QVBoxLayout, QWidget

from dyeshade.window.form_dialog import FormDialog, Keep
from dyeshade.window.look import SPACE
from dyeshade.window.typed_fields import NumberField, TypedField, WordsField
from dyeshade.work.make_pieces import MOST_AT_ONCE
from dyeshade.work.said import Said

NewPieces = tuple[int, Said, tuple[str, ...]]
"""How many, what holds for all of them, and names for the first of them."""


class NewPiecesDialog(FormDialog):
    """How many pieces, their fibre and mordant, and names where they have some."""

    def __init__(self, keep: Keep, parent: QWidget | None = None) -> None:
        super().__init__(NewPiecesDialog.tr("New pieces"), keep, parent)
        self.keeps.setText(self.tr("&Make them"))
        self.count = NumberField(self.tr("How many"), self.tr("The number"), 1, MOST_AT_ONCE)
        self.fibre = WordsField(self.tr("Fibre"))
        self.mordant = WordsField(self.tr("Mordant"))
        self.percent = NumberField(
            self.tr("Mordant in % of the weight of fibre"), self.tr("The mordant"), 0, unit="%"
        )
        self.weight = NumberField(
            self.tr("Weight of each in g, dry, after scouring"),
            self.tr("The weight"),
            above=0,
            unit="g",
        )
        self.names = QPlainTextEdit()
        self.names.setTabChangesFocus(True)
        self.names.setPlaceholderText(self.tr("one a line, as of students; may be left out"))
        self.names.setAccessibleName(self.tr("Names, one a line"))
        form = self.new_form()
        for words, field in (
            (self.tr("&How many"), self.count),
            (self.tr("&Fibre"), self.fibre),
            (self.tr("M&ordant"), self.mordant),
            (self.tr("% &wof"), self.percent),
            (self.tr("Wei&ght of each, g"), self.weight),
            (self.tr("&Names"), self.names),
        ):
            self.add(form, words, field)
        help_ = QLabel(self.tr("Each gets the next free id. Undo takes all of them back."))
        help_.setProperty("faint", True)
        help_.setWordWrap(True)
        column = QVBoxLayout(self.body)
        column.setSpacing(SPACE)
        column.addLayout(form)
        column.addWidget(help_)
        self.count.show_value(12)
        self.resize(440, 460)

    def check(self) -> list[TypedField]:
        """Fields that cannot be read; they are answered."""
        mistaken = super().check()
        if self.count not in mistaken:
            count = self.count.read()
            if count is None or count != int(count):
                self.answer(self.count, self.tr("Say how many pieces, as a whole number."))
                mistaken.append(self.count)
            elif len(self._names()) > count:
                self.answer(self.count, self.tr("There are more names than pieces."))
                mistaken.append(self.count)
        if self.percent.text().strip() and not self.mordant.text().strip():
            self.answer(self.mordant, self.tr("Say which mordant it is."))
            mistaken.append(self.mordant)
        return mistaken

    def read(self) -> NewPieces:
        """What was said; called after `check`."""
        count = self.count.read()
        assert count is not None
        said = Said(
            fibre=self.fibre.read(),
            mordant=self.mordant.read(),
            mordant_percent_wof=self.percent.read(),
            weight_g=self.weight.read(),
        )
        return int(count), said, self._names()

    def _names(self) -> tuple[str, ...]:
        lines = (line.strip() for line in self.names.toPlainText().splitlines())
        return tuple(line for line in lines if line)
