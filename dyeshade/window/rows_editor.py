"""Lines of fields that can be added, moved and removed: dyestuffs, additions, treatments."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from dyeshade.window.look import SPACE
from dyeshade.window.typed_fields import Answers, TypedField

_GAP = SPACE // 3
_BUTTON = 26


class Row(QWidget):
    """One line; its fields stand in columns of fixed width.

    Parameters
    ----------
    columns : sequence of (QWidget, int)
        Each field with its width in pixels; 0 takes what is left.
    """

    def __init__(self, columns: Sequence[tuple[QWidget, int]]) -> None:
        super().__init__()
        self.fields = [field for field, _ in columns if isinstance(field, TypedField)]
        self.answers = Answers(*self.fields)
        self.up = _button("↑", self.tr("Move up"))
        self.away = _button("×", self.tr("Remove this line"))
        line = QHBoxLayout()
        line.setSpacing(_GAP)
        for field, width in columns:
            if width:
                field.setFixedWidth(width)
            line.addWidget(field, 0 if width else 1)
        line.addWidget(self.up)
        line.addWidget(self.away)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(_GAP)
        column.addLayout(line)
        column.addWidget(self.answers)
        self.first: QWidget = columns[0][0]
        self.stops = [one for one, _ in columns if not isinstance(one, QLabel)]
        self.stops += [self.up, self.away]

    @property
    def blank(self) -> bool:
        """Whether nothing was typed, so that the line counts for nothing."""
        return all(not field.text().strip() for field in self.fields)

    def check(self) -> list[TypedField]:
        """Fields that cannot be read; they are answered."""
        return [field for field in self.fields if not self.answers.check(field)]

    def show_value(self, value: object) -> None:
        """Show a kept value."""
        raise NotImplementedError

    def read(self) -> object:
        """The value; called after `check`."""
        raise NotImplementedError


class RowsEditor(QWidget):
    """Any number of lines below their heads.

    Parameters
    ----------
    heads : sequence of (str, int)
        Words above each column, and its width.
    make : callable
        Makes an empty line.
    add : str
        Words of the button that adds one.
    """

    def __init__(self, heads: Sequence[tuple[str, int]], make: Callable[[], Row], add: str) -> None:
        super().__init__()
        self.rows: list[Row] = []
        self._make = make
        self._heads = QWidget()
        line = QHBoxLayout(self._heads)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(_GAP)
        for words, width in heads:
            head = QLabel(words)
            head.setProperty("faint", True)
            if width:
                head.setFixedWidth(width)
            line.addWidget(head, 0 if width else 1)
        line.addSpacing(2 * _BUTTON + _GAP)
        self.add = QPushButton(add)
        self.add.setAutoDefault(False)
        self.add.clicked.connect(self.add_row)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(_GAP)
        self._column.addWidget(self._heads)
        self._column.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        self._show_heads()

    def show_values(self, values: Sequence[object]) -> None:
        """Show kept values in place of all lines."""
        for row in list(self.rows):
            self._drop(row)
        for value in values:
            self._append().show_value(value)
        self._show_heads()

    def check(self) -> list[TypedField]:
        """Fields that cannot be read, from the top; they are answered."""
        return [field for row in self.rows if not row.blank for field in row.check()]

    def read(self) -> list[object]:
        """The values of all lines in which something stands; called after `check`."""
        return [row.read() for row in self.rows if not row.blank]

    def add_row(self) -> None:
        """Add an empty line, and go there."""
        row = self._append()
        self._show_heads()
        row.first.setFocus()

    def remove_row(self, row: Row) -> None:
        """Remove a line; the next one, or the button, takes the focus."""
        place = self.rows.index(row)
        self._drop(row)
        self._show_heads()
        left = self.rows[place : place + 1] or self.rows[-1:]
        (left[0].first if left else self.add).setFocus()

    def move_up(self, row: Row) -> None:
        """Move a line before the one above it."""
        place = self.rows.index(row)
        if place:
            self.rows.insert(place - 1, self.rows.pop(place))
            self._column.removeWidget(row)
            self._column.insertWidget(place, row)
            self._order_tabs()
            row.up.setFocus()

    def _append(self) -> Row:
        row = self._make()
        row.up.clicked.connect(lambda: self.move_up(row))
        row.away.clicked.connect(lambda: self.remove_row(row))
        self.rows.append(row)
        self._column.insertWidget(len(self.rows), row)
        self._order_tabs()
        return row

    def _drop(self, row: Row) -> None:
        self.rows.remove(row)
        self._column.removeWidget(row)
        row.hide()
        row.deleteLater()

    def _order_tabs(self) -> None:
        """Lines are left in the order in which they stand, and the button comes last."""
        # From the button's place on: a line that comes late would else be the last of the form.
        chain: list[QWidget] = [self.add]
        for row in self.rows:
            chain += row.stops
        chain.append(self.add)
        for one, other in pairwise(chain):
            QWidget.setTabOrder(one, other)

    def _show_heads(self) -> None:
        self._heads.setVisible(bool(self.rows))


def _button(sign: str, words: str) -> QToolButton:
    button = QToolButton()
    button.setText(sign)
    button.setToolTip(words)
    button.setAccessibleName(words)
    button.setFixedWidth(_BUTTON)
    # The look's padding is made for words.
    button.setStyleSheet("padding: 5px 0px;")
    button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    return button
