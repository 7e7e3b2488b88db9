"""Pieces of the library to tick, for whatever is printed of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from dyeshade.library.library import Library
from dyeshade.window.look import SPACE


@dataclass(frozen=True)
class ListedPiece:
    """A piece as it stands in the list; its fibre is "" and its weight None where not known.

    `dyed` says whether it was read after it was in a bath.
    """

    code: str
    name: str
    fibre: str
    weight_g: float | None
    dyed: bool

    @property
    def words(self) -> str:
        """Its code, and what tells it from others."""
        return "  ".join(word for word in (self.code, self.name, self.fibre) if word)


def listed_pieces(library: Library) -> list[ListedPiece]:
    """All pieces of a library, the newest first."""
    rows = library.rows(
        "SELECT piece.code, piece.name, fibre_lot.name, weight_g, "
        "EXISTS (SELECT 1 FROM reading WHERE piece_id = piece.id) AND "
        "EXISTS (SELECT 1 FROM treatment WHERE piece_id = piece.id AND bath_id IS NOT NULL) "
        "FROM piece LEFT JOIN fibre_lot ON fibre_lot.id = fibre_lot_id ORDER BY piece.id DESC"
    )
    return [
        ListedPiece(str(row[0]), str(row[1] or ""), str(row[2] or ""), row[3], bool(row[4]))
        for row in rows
    ]


class PieceTicks(QWidget):
    """A list of pieces with boxes to tick.

    Attributes
    ----------
    pieces : sequence of ListedPiece

    Signals
    -------
    ticked()
        Others are chosen.
    """

    ticked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.pieces: Sequence[ListedPiece] = ()
        self._tagged: frozenset[str] = frozenset()
        self.count = QLabel()
        self.count.setProperty("head", True)
        self.find = QLineEdit()
        self.find.setPlaceholderText(self.tr("Find by id, name or fibre"))
        self.find.setAccessibleName(self.tr("Find pieces"))
        self.find.setClearButtonEnabled(True)
        self.list = QListWidget()
        self.list.setAccessibleName(self.tr("Pieces; Space ticks"))
        self.list.setUniformItemSizes(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # As the boxes elsewhere in the window: in the dark the style's own are hardly seen.
        self.list.setStyleSheet(
            "QListView::indicator { width: 11px; height: 11px; padding: 2px; border-radius: 3px;"
            " border: 1px solid palette(placeholder-text); background-clip: content; }"
            "QListView::indicator:checked { background: palette(highlight);"
            " background-clip: content; }"
        )
        self.all = QPushButton(self.tr("&All shown"))
        self.none = QPushButton(self.tr("&None"))
        self.untagged = QPushButton(self.tr("Wi&thout tags"))
        self.untagged.setToolTip(self.tr("Pieces that no tags were saved for on this computer"))
        row = QHBoxLayout()
        row.setSpacing(SPACE // 2)
        for button in (self.all, self.untagged, self.none):
            row.addWidget(button)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(self.count)
        column.addWidget(self.find)
        column.addWidget(self.list, 1)
        column.addLayout(row)
        self.find.textChanged.connect(self._hide_others)
        self.list.itemChanged.connect(lambda _item: self._tell())
        self.all.clicked.connect(lambda: self.tick(self._shown(), keep=True))
        self.none.clicked.connect(lambda: self.tick(()))
        self.untagged.clicked.connect(self.tick_untagged)
        self._count()

    @property
    def codes(self) -> tuple[str, ...]:
        """Ticked pieces, the oldest first, as tags are printed."""
        rows = reversed(range(self.list.count()))
        ticked = (row for row in rows if self._is_ticked(self.list.item(row)))
        return tuple(self.pieces[row].code for row in ticked)

    @property
    def chosen(self) -> tuple[ListedPiece, ...]:
        """The same, with what is known of them."""
        codes = set(self.codes)
        return tuple(one for one in reversed(self.pieces) if one.code in codes)

    def show_pieces(self, pieces: Sequence[ListedPiece], ticked: Iterable[str]) -> None:
        """Show a library's pieces, some of them ticked."""
        wanted = {code.casefold() for code in ticked}
        row = self.list.currentRow()
        self.pieces = pieces
        self.list.blockSignals(True)
        self.list.clear()
        for piece in pieces:
            item = QListWidgetItem(piece.words)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(_state(piece.code.casefold() in wanted))
            self.list.addItem(item)
        self.list.blockSignals(False)
        self.list.setCurrentRow(min(max(row, 0), len(pieces) - 1))
        self._hide_others(self.find.text())
        self._tell()

    def show_tagged(self, codes: Iterable[str]) -> None:
        """Take these as pieces that have tags."""
        self._tagged = frozenset(code.casefold() for code in codes)
        self._count()

    def tick(self, codes: Iterable[str], keep: bool = False) -> None:
        """Tick pieces, and only those, or further ones."""
        wanted = {code.casefold() for code in codes}
        self.list.blockSignals(True)
        for row, piece in enumerate(self.pieces):
            item = self.list.item(row)
            is_wanted = piece.code.casefold() in wanted or (keep and self._is_ticked(item))
            item.setCheckState(_state(is_wanted))
        self.list.blockSignals(False)
        self._tell()

    def tick_untagged(self) -> None:
        """Tick all pieces that have no tags yet."""
        self.tick(self._untagged())

    def _untagged(self) -> list[str]:
        return [one.code for one in self.pieces if one.code.casefold() not in self._tagged]

    def _shown(self) -> list[str]:
        rows = range(self.list.count())
        return [self.pieces[row].code for row in rows if not self.list.item(row).isHidden()]

    def _hide_others(self, text: str) -> None:
        words = text.casefold().split()
        for row, piece in enumerate(self.pieces):
            there = piece.words.casefold()
            self.list.item(row).setHidden(not all(word in there for word in words))

    def _is_ticked(self, item: QListWidgetItem) -> bool:
        return item.checkState() == Qt.CheckState.Checked

    def _tell(self) -> None:
        self._count()
        self.ticked.emit()

    def _count(self) -> None:
        count = len(self.codes)
        pieces = self.tr("1 piece") if count == 1 else self.tr("{} pieces").format(count)
        self.count.setText(self.tr("{} chosen").format(pieces if count else self.tr("No pieces")))
        self.untagged.setEnabled(bool(self._untagged()))
        self.none.setEnabled(count > 0)
        self.all.setEnabled(bool(self.pieces))


def _state(ticked: bool) -> Qt.CheckState:
    return Qt.CheckState.Checked if ticked else Qt.CheckState.Unchecked
