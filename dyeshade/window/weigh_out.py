"""What is weighed and measured out for a bath: planned, in both systems, beside what was taken."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from dyeshade.bath.amounts import Line
from dyeshade.window.bath_rows import BathField
from dyeshade.window.field_answers import FieldAnswers
from dyeshade.window.look import SPACE
from dyeshade.window.typed_fields import Answers
from dyeshade.words.bath_room import line_name, spoon_words
from dyeshade.words.bath_table import actual, amount, share
from dyeshade.work.bath_typed import line_key
from dyeshade.work.plan_bath import OwnFigures

_NAME, _PLANNED, _FIELD = 92, 84, 80


class WeighOut(QWidget):
    """A line for each thing, with a field for what was truly taken.

    Signals
    -------
    edited()
        What was taken has changed.
    """

    edited = Signal()

    def __init__(self, answers: FieldAnswers) -> None:
        super().__init__()
        self._answers = answers
        self._keys: list[str] = []
        self.fields: dict[str, BathField] = {}
        self._shown: dict[str, list[QLabel]] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._body = QWidget()
        self._column.addWidget(self._body)

    def show_lines(self, lines: tuple[Line, ...], own: OwnFigures, taken: dict[str, str]) -> None:
        """Show what is needed; fields stay as long as the same things are."""
        keys = [line_key(one.kind, one.name, one.form, one.on) for one in lines]
        if keys != self._keys:
            self._build(keys, lines)
        for key, line in zip(keys, lines, strict=True):
            planned, of, spoons, off = self._shown[key]
            planned.setText(amount(line, own.units))
            of.setText(share(line))
            spoons.setText(spoon_words(line, own.units, own.at_hand))
            spoons.setVisible(bool(spoons.text()))
            off.setText(actual(line, own.units))
            off.setVisible(bool(off.text()))
            field = self.fields[key]
            field.blockSignals(True)
            field.put(taken.get(key, ""))
            field.blockSignals(False)

    def taken(self) -> dict[str, str]:
        """What is typed as taken, by the line's key."""
        return {key: field.text() for key, field in self.fields.items() if field.text().strip()}

    def _build(self, keys: list[str], lines: tuple[Line, ...]) -> None:
        self._answers.forget("taken.")
        self._column.removeWidget(self._body)
        self._body.hide()
        self._body.deleteLater()
        self._body = QWidget()
        self._column.addWidget(self._body)
        self._keys, self.fields, self._shown = keys, {}, {}
        grid = QGridLayout(self._body)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(SPACE)
        grid.setVerticalSpacing(SPACE // 3)
        grid.setColumnStretch(1, 1)
        heads = ("", self.tr("Planned"), self.tr("Of the fibre"), self.tr("Taken"))
        for column, words in enumerate(heads if keys else ()):
            head = QLabel(words)
            head.setProperty("faint", True)
            grid.addWidget(head, 0, column)
        row = 1
        for key, line in zip(keys, lines, strict=True):
            name = QLabel(line_name(line))
            name.setWordWrap(True)
            name.setMinimumWidth(_NAME)
            planned, of, spoons, off = (QLabel() for _ in range(4))
            planned.setProperty("head", True)
            # On a narrow screen the second system goes below the first.
            planned.setWordWrap(True)
            planned.setMinimumWidth(_PLANNED)
            planned.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            field = BathField(self.tr("Taken of {}").format(line.name))
            field.setFixedWidth(_FIELD)
            field.textChanged.connect(self.edited)
            grid.addWidget(name, row, 0)
            grid.addWidget(planned, row, 1)
            grid.addWidget(of, row, 2)
            grid.addWidget(field, row, 3)
            answers = Answers()
            for faint in (spoons, off):
                faint.setProperty("faint", True)
                faint.setWordWrap(True)
            grid.addWidget(spoons, row + 1, 1, 1, 2)
            grid.addWidget(off, row + 1, 3)
            grid.addWidget(answers, row + 2, 1, 1, 3)
            self._answers.watch(f"taken.{key}", field, answers)
            self.fields[key] = field
            self._shown[key] = [planned, of, spoons, off]
            row += 3
