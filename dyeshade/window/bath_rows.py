"""Lines of the bath room: pieces, dyestuffs, mordants; texts as they are."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any

from PySide6.QtCore import QCoreApplication, Signal
from PySide6.QtWidgets import QComboBox, QLabel, QWidget

from dyeshade.bath.fibres import FIBRE_KINDS, GROUPS
from dyeshade.bath.substances import SUBSTANCES
from dyeshade.window.rows_editor import Row, RowsEditor
from dyeshade.window.typed_fields import TypedField
from dyeshade.words.dye_words import FORMS
from dyeshade.work.bath_typed import TypedDye, TypedPiece, TypedSubstance

FIBRES = tuple(kind.name for kind in FIBRE_KINDS)
CODE, FORM, SHARE, WEIGHT, OTHER = 72, 84, 88, 88, 64
PER_CENT = 64


class BathField(TypedField):
    """A line of text that is read elsewhere, together with the others of the bath."""

    def __init__(self, name: str, placeholder: str = "", known: Iterable[str] = ()) -> None:
        super().__init__(name, name)
        self.setPlaceholderText(placeholder)
        self.completes(known)

    def completes(self, names: Iterable[str]) -> None:
        """Offer names, the same ones only once."""
        found = tuple(dict.fromkeys(names))
        if found:
            self.complete_from(found)

    def read(self) -> str:
        """The text; what is wrong with it is answered by whoever reads the bath."""
        return self.text()

    def put(self, text: str) -> None:
        """Show a text where it is another one, so that the cursor stays where it is."""
        if text != self.text():
            self.setText(text)
            self.setCursorPosition(0)


class BathRow(Row):
    """A line whose fields are known by the names that they have in what is typed."""

    named: dict[str, BathField]

    def value(self) -> Any:
        """The texts of the line."""
        raise NotImplementedError

    def choices(self) -> list[QComboBox]:
        """The choices of the line."""
        return [one for one in self.stops if isinstance(one, QComboBox)]


class BathRows(RowsEditor):
    """Lines of a bath; every change of them is told.

    Signals
    -------
    edited()
    left(BathField)
        A field was left, so that what is wrong with it may be said.
    """

    edited = Signal()
    left = Signal(object)

    def __init__(
        self, heads: Sequence[tuple[str, int]], make: Callable[[], BathRow], add: str
    ) -> None:
        super().__init__(heads, make, add)

    def values(self) -> tuple[Any, ...]:
        """The texts of all lines, blank ones too."""
        return tuple(row.value() for row in self.rows if isinstance(row, BathRow))

    @property
    def stops(self) -> list[QWidget]:
        """Where Tab stops, in its order."""
        return [*(stop for row in self.rows for stop in row.stops), self.add]

    def show_values(self, values: Sequence[object]) -> None:
        """Show texts; lines that show them already are left alone."""
        if self.values() == tuple(values):
            return
        self.blockSignals(True)
        if len(values) == len(self.rows):
            for row, value in zip(self.rows, values, strict=True):
                row.show_value(value)
        else:
            super().show_values(values)
        self.blockSignals(False)

    def add_row(self) -> None:
        """Add a line."""
        super().add_row()
        self.edited.emit()

    def remove_row(self, row: Row) -> None:
        """Remove a line."""
        super().remove_row(row)
        self.edited.emit()

    def move_up(self, row: Row) -> None:
        """Move a line before the one above it."""
        super().move_up(row)
        self.edited.emit()

    def _append(self) -> Row:
        row = super()._append()
        for field in row.fields:
            field.textChanged.connect(self.edited)
            field.editingFinished.connect(lambda field=field: self.left.emit(field))
        assert isinstance(row, BathRow)
        for box in row.choices():
            box.currentIndexChanged.connect(self.edited)
        return row


def beside() -> QLabel:
    """What is typed beside it, in other units."""
    label = QLabel()
    label.setProperty("faint", True)
    return label


def choice(name: str, words: dict[str, str]) -> QComboBox:
    """A choice among a few words."""
    box = QComboBox()
    box.setAccessibleName(name)
    for value, said in words.items():
        box.addItem(said, value)
    # What is too long for the line can still be read.
    box.currentTextChanged.connect(box.setToolTip)
    box.setToolTip(box.currentText())
    return box


def choose(box: QComboBox, value: str) -> None:
    """Show one of the words of a choice."""
    box.setCurrentIndex(max(box.findData(value), 0))


class PieceRow(BathRow):
    """Fibre in the pot; beside a weight stands what it is in the other system."""

    def __init__(self, codes: Iterable[str]) -> None:
        self.code = BathField(_say("Piece, its id"), _say("new"), codes)
        self.fibre = BathField(_say("Fibre"), _say("wool, silk …"), FIBRES)
        self.weight = BathField(_say("Dry weight"), _say("1 lb 4 oz"))
        self.other = beside()
        self.named = {"code": self.code, "fibre": self.fibre, "weight": self.weight}
        super().__init__(
            [(self.code, CODE), (self.fibre, 0), (self.weight, WEIGHT), (self.other, OTHER)]
        )
        self.first = self.fibre

    def show_value(self, value: object) -> None:
        """Show texts."""
        assert isinstance(value, TypedPiece)
        self.code.put(value.code)
        self.fibre.put(value.fibre)
        self.weight.put(value.weight)

    def value(self) -> TypedPiece:
        """The texts."""
        return TypedPiece(self.code.text(), self.fibre.text(), self.weight.text())


class DyeRow(BathRow):
    """A dyestuff in its form, at its ratio to the fibre."""

    def __init__(self, known: Iterable[str]) -> None:
        self.name = BathField(_say("Dyestuff"), _say("weld, madder …"), known)
        self.form = choice(_say("Form"), dict(FORMS))
        choose(self.form, "dried")
        self.ratio = BathField(_say("Ratio to the fibre"), _say("2:1 or 8 %"))
        self.other = beside()
        self.named = {"name": self.name, "ratio": self.ratio}
        super().__init__(
            [(self.name, 0), (self.form, FORM), (self.ratio, SHARE), (self.other, OTHER)]
        )

    def show_value(self, value: object) -> None:
        """Show texts."""
        assert isinstance(value, TypedDye)
        self.name.put(value.name)
        choose(self.form, value.form)
        self.ratio.put(value.ratio)

    def value(self) -> TypedDye:
        """The texts."""
        return TypedDye(self.name.text(), self.form.currentData(), self.ratio.text())


class SubstanceRow(BathRow):
    """A mordant or assistant in per cent of the fibre that it is for."""

    def __init__(self, known: Iterable[str]) -> None:
        names = (*(one.name for one in SUBSTANCES), *known)
        self.name = BathField(_say("Mordant or assistant"), _say("alum …"), names)
        self.share = BathField(_say("Per cent of the fibre"), _say("15 %"))
        self.on = BathField(_say("On which fibre"), _say("all"), (*GROUPS, *FIBRES))
        self.other = beside()
        self.named = {"name": self.name, "share": self.share, "on": self.on}
        super().__init__(
            [(self.name, 0), (self.share, PER_CENT), (self.other, OTHER), (self.on, FORM)]
        )

    def show_value(self, value: object) -> None:
        """Show texts."""
        assert isinstance(value, TypedSubstance)
        self.name.put(value.name)
        self.share.put(value.share)
        self.on.put(value.on)

    def value(self) -> TypedSubstance:
        """The texts."""
        return TypedSubstance(self.name.text(), self.share.text(), self.on.text().strip())


def with_known_piece(piece: TypedPiece, fibre: str, weight: str) -> TypedPiece:
    """A line completed with what the library knows of the piece; what is typed stays."""
    return replace(piece, fibre=piece.fibre or fibre, weight=piece.weight or weight)


def _say(words: str) -> str:
    return QCoreApplication.translate("BathRows", words)
