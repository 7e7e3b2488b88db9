"""The shades on a card, in the order in which they are shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractListModel,
    QMimeData,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
)

from dyeshade.paper.card_order import ordered_shades
from dyeshade.paper.shade_card import CardDye, CardOrder, CardShade
from dyeshade.words.dye_words import WHICH_PH_SHORT, exhaust_words, percent_words, ph_words
from dyeshade.words.shades import lab_words, sure_to

Index = QModelIndex | QPersistentModelIndex
ENTRY = Qt.ItemDataRole.UserRole
_DRAGGED = "application/x-dyeshade-card-shades"


@dataclass(frozen=True)
class CardEntry:
    """A shade on the card, and the reading that it is."""

    reading_id: int
    shade: CardShade


def ordered_entries(entries: Sequence[CardEntry], order: CardOrder) -> list[CardEntry]:
    """Entries in the order that the card has."""
    # Two pieces may have equal shades: which is which, only the object itself tells.
    known = {id(entry.shade): entry for entry in entries}
    shades = ordered_shades([entry.shade for entry in entries], order)
    return [known[id(shade)] for shade in shades]


def bath_words(shade: CardShade) -> str:
    """The dyestuffs of a shade's bath on one line."""
    parts = [" + ".join(_dye(dye) for dye in shade.dyes)]
    if shade.exhaust_number:
        parts.append(exhaust_words(shade.exhaust_number))
    return " · ".join(part for part in parts if part)


def piece_words(shade: CardShade) -> str:
    """Fibre, mordant and the pH that acted last, on one line."""
    parts = [", ".join(part for part in (shade.fibre, shade.mordant) if part)]
    if shade.ph is not None and shade.ph_which is not None:
        parts.append(f"pH {ph_words(shade.ph)} ({WHICH_PH_SHORT[shade.ph_which]})")
    return " · ".join(part for part in parts if part)


def code_beside(shade: CardShade) -> str:
    """The piece's code where a name stands in its place, else ""."""
    return shade.piece if shade.name else ""


def _dye(dye: CardDye) -> str:
    return dye.name if dye.ratio is None else f"{dye.name} {percent_words(dye.ratio)}"


class CardModel(QAbstractListModel):
    """The shades of a card. Whoever shows them moves them: a dropped shade is not moved here."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.entries: list[CardEntry] = []

    @property
    def ids(self) -> tuple[int, ...]:
        """Readings, in the order in which they are shown."""
        return tuple(entry.reading_id for entry in self.entries)

    def show(self, entries: Sequence[CardEntry]) -> None:
        """Show other shades, or the same in another order; what is chosen stays chosen."""
        if {entry.reading_id for entry in entries} != set(self.ids):
            self.beginResetModel()
            self.entries = list(entries)
            self.endResetModel()
            return
        self.layoutAboutToBeChanged.emit()
        before = self.persistentIndexList()
        known = self.ids
        self.entries = list(entries)
        places = {entry.reading_id: row for row, entry in enumerate(entries)}
        after = [self.index(places[known[index.row()]]) for index in before]
        self.changePersistentIndexList(before, after)
        self.layoutChanged.emit()
        if self.entries:
            self.dataChanged.emit(self.index(0), self.index(len(self.entries) - 1))

    def lines(self, entry: CardEntry) -> tuple[str, str, str]:
        """What stands beside the swatch: name, bath, piece; its code stands by itself."""
        shade = entry.shade
        bath = bath_words(shade) or self.tr("no dyestuff written down")
        return shade.name or shade.piece, bath, piece_words(shade)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: N802, B008
        """How many shades there are."""
        return 0 if parent.isValid() else len(self.entries)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """A line in words, and the entry itself for whoever paints it."""
        entry = self.entries[index.row()]
        shade = entry.shade
        told = (
            *self.lines(entry),
            lab_words(shade.lab),
            self.tr("Sure to {}").format(sure_to(shade.u95)),
        )
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return ". ".join(part for part in (told[0], code_beside(shade), *told[1:]) if part)
        if role == Qt.ItemDataRole.ToolTipRole:
            return "\n".join(part for part in told[1:] if part)
        return entry if role == ENTRY else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Shades are dragged; they are dropped between others, never onto one."""
        if index.isValid():
            return super().flags(index) | Qt.ItemFlag.ItemIsDragEnabled
        return Qt.ItemFlag.ItemIsDropEnabled

    def supportedDropActions(self) -> Qt.DropAction:  # noqa: N802
        """Shades are moved."""
        return Qt.DropAction.MoveAction

    def mimeTypes(self) -> list[str]:  # noqa: N802
        """Only shades of a card are dropped here."""
        return [_DRAGGED]

    def mimeData(self, indexes: Sequence[QModelIndex]) -> QMimeData:  # noqa: N802
        """The readings that are dragged."""
        data = QMimeData()
        ids = (str(self.entries[index.row()].reading_id) for index in indexes)
        data.setData(_DRAGGED, " ".join(ids).encode())
        return data
