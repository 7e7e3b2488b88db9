"""All pieces, or all baths, of the library: those too that no shade shows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from PySide6.QtCore import (
    QAbstractTableModel,
    QCoreApplication,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
)

from dyeshade.words.dye_words import exhaust_words, ph_words
from dyeshade.words.typed import moment_typed, number_typed
from dyeshade.work.edit_bath import ListedBath
from dyeshade.work.edit_piece import ListedPiece

Index = QModelIndex | QPersistentModelIndex
T = TypeVar("T")


@dataclass(frozen=True)
class Field(Generic[T]):
    """One column: its words above, its width at first, and what stands in it."""

    head: str
    width: int
    words: Callable[[T], str]


def _number(value: float | None) -> str:
    return number_typed(value)


def _dyes(listed: ListedBath) -> str:
    return " + ".join(lot.name for lot, _ in listed.whole.dyestuffs)


def _ph(which: str) -> Callable[[ListedBath], str]:
    def words(listed: ListedBath) -> str:
        ph = listed.whole.ph(which)
        return "" if ph is None else ph_words(ph)

    return words


def _which_bath(listed: ListedBath) -> str:
    words = exhaust_words(listed.whole.bath.exhaust_number)
    return f"{words} of {listed.exhausts}" if listed.exhausts else words


BATHS: tuple[Field[ListedBath], ...] = (
    Field("Bath", 100, lambda one: one.whole.bath.code),
    Field("Dyestuff", 160, _dyes),
    Field("Which", 178, _which_bath),
    Field("pH, start", 74, _ph("bath_start")),
    Field("pH, end", 74, _ph("bath_end")),
    Field("Begun", 130, lambda one: moment_typed(one.whole.bath.started)),
    Field("Water", 120, lambda one: one.whole.bath.water),
    Field("Vessel", 120, lambda one: one.whole.bath.vessel),
    Field("°C", 54, lambda one: _number(one.whole.bath.temperature_c)),
    Field("Minutes", 70, lambda one: _number(one.whole.bath.minutes)),
    Field("Pieces", 62, lambda one: str(one.pieces)),
)


def _fibre(listed: ListedPiece) -> str:
    fibre = listed.history.fibre
    return ", ".join(filter(None, (fibre.name, fibre.make))) if fibre else ""


def _mordant(listed: ListedPiece) -> str:
    mordant = listed.history.mordant
    if mordant is None or mordant.percent_wof is None:
        return mordant.name if mordant else ""
    return f"{mordant.name} {mordant.percent_wof:.4g} %"


def _last_step(listed: ListedPiece) -> str:
    steps = listed.history.steps
    return steps[-1].treatment.kind if steps else ""


def _baths(listed: ListedPiece) -> str:
    return ", ".join(step.bath.bath.code for step in listed.history.steps if step.bath)


PIECES: tuple[Field[ListedPiece], ...] = (
    Field("Piece", 90, lambda one: one.history.piece.code),
    Field("Name", 160, lambda one: one.history.piece.name),
    Field("Fibre", 160, _fibre),
    Field("Mordant", 120, _mordant),
    Field("g", 60, lambda one: _number(one.history.piece.weight_g)),
    Field("Baths", 160, _baths),
    Field("Last treatment", 120, _last_step),
    Field("Readings", 76, lambda one: str(one.readings)),
    Field("Note", 150, lambda one: one.history.piece.note),
)


class RecordsModel(QAbstractTableModel):
    """A table of records.

    Parameters
    ----------
    fields : sequence of Field
    """

    def __init__(self, fields: Sequence[Field[Any]], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.fields = tuple(fields)
        self.records: tuple[Any, ...] = ()

    def show(self, records: Sequence[Any]) -> None:
        """Show other records."""
        self.beginResetModel()
        self.records = tuple(records)
        self.endResetModel()

    def show_fields(self, fields: Sequence[Field[Any]]) -> None:
        """Show other columns, and no records yet."""
        self.beginResetModel()
        self.fields = tuple(fields)
        self.records = ()
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """How many records there are."""
        return 0 if parent.isValid() else len(self.records)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """How many columns there are."""
        return 0 if parent.isValid() else len(self.fields)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Words."""
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return self.fields[index.column()].words(self.records[index.row()])
        return None

    def headerData(  # noqa: N802
        self,
        section: int,
        orientation: Qt.Orientation,
        role: int = Qt.ItemDataRole.DisplayRole,
    ) -> object:
        """Words above the columns."""
        across = orientation == Qt.Orientation.Horizontal
        if across and 0 <= section < len(self.fields):
            if role == Qt.ItemDataRole.DisplayRole:
                return QCoreApplication.translate("RecordsModel", self.fields[section].head)
            if role == Qt.ItemDataRole.TextAlignmentRole:
                return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        return None
