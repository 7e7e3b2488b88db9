"""The shades that are shown, a line for each reading, in the order that was chosen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QCoreApplication,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
)

from dyeshade.library.find import FoundShade
from dyeshade.words.dye_words import STATES, WHICH_PH_SHORT, exhaust_words, ph_words
from dyeshade.words.shade_lines import dyestuff_names, mordant_words, ratio_words
from dyeshade.words.shades import sure_to

Index = QModelIndex | QPersistentModelIndex
FOUND = Qt.ItemDataRole.UserRole
_LAST = "\uffff"


@dataclass(frozen=True)
class Column:
    """One column.

    Attributes
    ----------
    key : str
    head : str
        Its words, to be translated.
    width : int
        In pixels, at first.
    words : callable
        What stands in it.
    order : callable
        What it is sorted by.
    number : bool
        Whether it stands to the right.
    """

    key: str
    head: str
    width: int
    words: Callable[[FoundShade], str]
    order: Callable[[FoundShade], Any]
    number: bool = False


def _exhaust(found: FoundShade) -> int | None:
    last = found.conditions.last_bath
    return None if last is None else last.exhaust_number


def _ratio(found: FoundShade) -> float:
    last = found.conditions.last_bath
    ratios = [dye.ratio for dye in last.dyes if dye.ratio is not None] if last else []
    return ratios[0] if ratios else float("inf")


def _ph(found: FoundShade) -> str:
    ph, acted = found.conditions.ph(), found.conditions.acted
    return "" if ph is None or acted is None else f"{ph_words(ph)}  {WHICH_PH_SHORT[acted]}"


def _plain(words: str) -> str:
    """Without upper case; what was not written down comes last."""
    return words.casefold() or _LAST


def _lab(place: int, key: str, head: str) -> Column:
    return Column(
        key,
        head,
        48,
        lambda one: f"{one.reading.lab[place]:.1f}",
        lambda one: one.reading.lab[place],
        True,
    )


COLUMNS: tuple[Column, ...] = (
    Column(
        "piece",
        "Piece",
        152,
        lambda one: one.history.piece.code,
        lambda one: _plain(one.history.piece.code),
    ),
    Column(
        "dyestuff",
        "Dyestuff",
        104,
        lambda one: dyestuff_names(one.conditions),
        lambda one: _plain(dyestuff_names(one.conditions)),
    ),
    Column(
        "fibre", "Fibre", 60, lambda o: o.conditions.fibre, lambda o: _plain(o.conditions.fibre)
    ),
    Column(
        "mordant",
        "Mordant",
        86,
        lambda one: mordant_words(one.conditions),
        lambda one: (_plain(one.conditions.mordant), one.conditions.mordant_percent_wof or 0),
    ),
    Column("ratio", "Ratio", 88, lambda one: ratio_words(one.conditions), _ratio),
    Column(
        "ph",
        "pH that acted",
        104,
        _ph,
        lambda one: 99.0 if one.conditions.ph() is None else one.conditions.ph(),
    ),
    Column(
        "exhaust",
        "Bath",
        100,
        lambda one: "" if _exhaust(one) is None else exhaust_words(_exhaust(one) or 0),
        lambda one: 99 if _exhaust(one) is None else _exhaust(one),
    ),
    _lab(0, "l", "L*"),
    _lab(1, "a", "a*"),
    _lab(2, "b", "b*"),
    Column(
        "sure",
        "Sure to",
        72,
        lambda one: sure_to(one.reading.u95).partition(":")[0],
        lambda one: one.reading.u95,
    ),
    Column("state", "State", 128, lambda o: STATES[o.reading.state], lambda o: o.reading.state),
    Column("read", "Read", 96, lambda o: f"{o.reading.read:%Y-%m-%d}", lambda o: o.reading.read),
)
PLACE = {column.key: place for place, column in enumerate(COLUMNS)}


class ShadesModel(QAbstractTableModel):
    """A table of shades."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.shades: list[FoundShade] = []
        self._order = (PLACE["read"], Qt.SortOrder.DescendingOrder)

    def show(self, shades: Sequence[FoundShade]) -> None:
        """Show other shades, in the order chosen before."""
        self.beginResetModel()
        self.shades = self._sorted(shades)
        self.endResetModel()

    def row_of(self, reading_id: int) -> int:
        """Line of a reading, -1 where it is not shown."""
        return next((i for i, one in enumerate(self.shades) if one.reading.id == reading_id), -1)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """How many shades are shown."""
        return 0 if parent.isValid() else len(self.shades)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """How many columns there are."""
        return 0 if parent.isValid() else len(COLUMNS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Words, what the swatch is painted from, and all of it for who listens."""
        found, column = self.shades[index.row()], COLUMNS[index.column()]
        if role == Qt.ItemDataRole.DisplayRole:
            return column.words(found)
        if role == FOUND:
            return found
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if column.number else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.ToolTipRole:
            return found.history.piece.name if column.key == "piece" else column.words(found)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{self.headerData(index.column(), Qt.Orientation.Horizontal)} " + (
                column.words(found) or self.tr("not written down")
            )
        return None

    def headerData(  # noqa: N802
        self,
        section: int,
        orientation: Qt.Orientation,
        role: int = Qt.ItemDataRole.DisplayRole,
    ) -> object:
        """Words above the columns."""
        if orientation == Qt.Orientation.Horizontal and 0 <= section < len(COLUMNS):
            column = COLUMNS[section]
            if role == Qt.ItemDataRole.DisplayRole:
                return QCoreApplication.translate("ShadesModel", column.head)
            if role == Qt.ItemDataRole.TextAlignmentRole:
                side = Qt.AlignmentFlag.AlignRight if column.number else Qt.AlignmentFlag.AlignLeft
                return side | Qt.AlignmentFlag.AlignVCenter
        return None

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Put the shades into another order; what is chosen stays chosen."""
        if not 0 <= column < len(COLUMNS):
            return
        self._order = (column, order)
        self.layoutAboutToBeChanged.emit()
        before = self.persistentIndexList()
        kept = [(self.shades[index.row()].reading.id, index.column()) for index in before]
        self.shades = self._sorted(self.shades)
        rows = {one.reading.id: row for row, one in enumerate(self.shades)}
        after = [self.index(rows[reading_id], place) for reading_id, place in kept]
        self.changePersistentIndexList(before, after)
        self.layoutChanged.emit()

    def _sorted(self, shades: Sequence[FoundShade]) -> list[FoundShade]:
        place, order = self._order
        # Equals stand in the order of their reading, whatever was sorted by before.
        first = sorted(shades, key=lambda one: (one.reading.read, one.reading.id))
        down = order == Qt.SortOrder.DescendingOrder
        return sorted(first, key=COLUMNS[place].order, reverse=down)
