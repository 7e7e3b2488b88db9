"""What an instrument measured on a printed sheet, typed."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QVBoxLayout, QWidget

from dyeshade.sheet.layout import Layout, build_layout
from dyeshade.sheet.serial import check_serial
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import add, form, tell, told
from dyeshade.window.sheet_place import SheetPreview
from dyeshade.window.typed_fields import NumberField
from dyeshade.words.typed import MistypedError
from dyeshade.work.chart_compared import grey_numbers

_DARK_ON = 3
"""Greys up to this number are light: dark digits are read on them."""

Typed = tuple[str, str, str, dict[str, float]]


class NumberedSheet(SheetPreview):
    """A sheet with the numbers of its greys, as the fields call them."""

    def paint_over(self, painter: QPainter, layout: Layout) -> None:
        """A number in the middle of each grey."""
        font = painter.font()
        font.setPixelSize(5)
        painter.setFont(font)
        for (x, y), number in grey_numbers(layout):
            painter.setPen(Qt.GlobalColor.black if number <= _DARK_ON else Qt.GlobalColor.white)
            room = QRectF(x - 5, y - 5, 10, 10)
            painter.drawText(room, Qt.AlignmentFlag.AlignCenter, str(number))


class SheetValues(QWidget):
    """Number, paper and cells of a sheet, and what its greys reflect in per cent.

    Signals
    -------
    typed()
        Something else was typed.
    """

    typed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.serial = QLineEdit()
        self.serial.setPlaceholderText("K7QF-3M9G")
        self.paper, self.cells = QComboBox(), QComboBox()
        for words, what in ((self.tr("A4"), "A4"), (self.tr("Letter"), "Letter")):
            self.paper.addItem(words, what)
        for words, what in ((self.tr("six cells"), "six"), (self.tr("one cell"), "one")):
            self.cells.addItem(words, what)
        self.preview = NumberedSheet(self._layout())
        self.preview.setAccessibleName(self.tr("The sheet with the numbers of its greys"))
        self.serial.setAccessibleName(self.tr("Number on the sheet"))
        self.paper.setAccessibleName(self.tr("Paper"))
        self.cells.setAccessibleName(self.tr("Cells"))
        greys = len({patch.reflectance for patch in build_layout("A4", "six", False).patches})
        self.fields: dict[str, NumberField] = {}
        fields = form()
        add(fields, self.tr("&Number on the sheet"), self.serial)
        add(fields, self.tr("Pa&per"), self.paper)
        add(fields, self.tr("C&ells"), self.cells)
        for name in ("paper", *(str(number) for number in range(1, greys + 1))):
            words = self._words(name, greys)
            field = NumberField(
                self.tr("Reflectance of {}, in per cent").format(words),
                self.tr("The reflectance of {}").format(words),
                most=100,
                above=0,
                unit="%",
            )
            self.fields[name] = field
            add(fields, self.tr("{}, %").format(words), field)
            field.textEdited.connect(self._edited)
        help_ = QLabel(
            self.tr(
                "Luminance factors (Y of CIE XYZ) with the specular part left out. Those that you "
                "leave blank are taken as of a plain print, moved as their neighbours are."
            )
        )
        help_.setWordWrap(True)
        help_.setProperty("faint", True)
        self.told = told(wrong=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addLayout(fields)
        column.addWidget(help_)
        column.addWidget(self.told)
        self.serial.textEdited.connect(self._edited)
        for box in (self.paper, self.cells):
            box.activated.connect(lambda _row: self.preview.show_sheet(self._layout()))

    def read(self) -> Typed | None:
        """Number, paper, cells and luminance factors (0..1); None where something is amiss."""
        values: dict[str, float] = {}
        serial = self.serial.text().strip().upper()
        if not serial:
            return self._refuse(self.tr("Which sheet is it? Type its number."), self.serial)
        if not check_serial(serial):
            wrong = self.tr("That is no sheet's number: a character of it is mistyped.")
            return self._refuse(wrong, self.serial)
        for name, field in self.fields.items():
            try:
                percent = field.read()
            except MistypedError as error:
                return self._refuse(error.sentence, field)
            if percent is not None:
                values[name] = percent / 100
        if not values:
            first = self.fields["paper"]
            return self._refuse(self.tr("Type what at least one of them reflects."), first)
        return serial, str(self.paper.currentData()), str(self.cells.currentData()), values

    def _layout(self) -> Layout:
        return build_layout(str(self.paper.currentData()), str(self.cells.currentData()), False)

    def _words(self, name: str, greys: int) -> str:
        if name == "paper":
            return self.tr("bare paper")
        if name == "1":
            return self.tr("grey 1, the lightest")
        if name == str(greys):
            return self.tr("grey {}, full ink").format(name)
        return self.tr("grey {}").format(name)

    def _refuse(self, sentence: str, field: QWidget) -> None:
        tell(self.told, [sentence])
        field.setFocus()

    def _edited(self) -> None:
        tell(self.told, [])
        self.typed.emit()
