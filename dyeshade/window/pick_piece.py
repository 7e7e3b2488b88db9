"""A piece picked by its swatch, to stand for a wanted shade."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import main_first
from dyeshade.window.return_key import Dialog
from dyeshade.window.swatch import swatch_icon
from dyeshade.window.typed_fields import WordsField
from dyeshade.words.shades import lab_words
from dyeshade.work.compare_choices import PieceShade

_SWATCH = QSize(34, 34)
_CODE = Qt.ItemDataRole.UserRole


class PickPiece(Dialog):
    """The pieces with their latest dry shades.

    Parameters
    ----------
    pieces : sequence of PieceShade

    Attributes
    ----------
    words : WordsField
        What they are sought by.
    listed : QListWidget

    Signals
    -------
    taken(str)
        The code of the piece that was picked.
    """

    taken = Signal(str)

    def __init__(self, pieces: Sequence[PieceShade], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(self.tr("Pick a piece"))
        self.words = WordsField(self.tr("Id or name"))
        self.words.setPlaceholderText(self.tr("id or name"))
        self.listed = QListWidget()
        self.listed.setAccessibleName(self.tr("Pieces with their latest dry shades"))
        self.listed.setIconSize(_SWATCH)
        for one in pieces:
            name = f", {one.name}" if one.name else ""
            item = QListWidgetItem(
                swatch_icon(one.srgb, _SWATCH), f"{one.code}{name}\n{lab_words(one.lab)}"
            )
            item.setData(_CODE, one.code)
            self.listed.addItem(item)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.takes = buttons.addButton(
            self.tr("&Take its shade"), QDialogButtonBox.ButtonRole.AcceptRole
        )
        self.takes.setProperty("main", True)
        label = QLabel(self.tr("&Look for"))
        label.setBuddy(self.words)
        column = QVBoxLayout(self)
        column.setSpacing(SPACE // 2)
        for widget in (label, self.words, self.listed, buttons):
            column.addWidget(widget)
        buttons.button(QDialogButtonBox.StandardButton.Cancel).setAutoDefault(False)
        self.takes.setDefault(True)
        main_first(buttons, self.takes)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        self.words.textChanged.connect(self._look_for)
        self.listed.itemSelectionChanged.connect(self._allow)
        self.listed.itemActivated.connect(lambda _item: self.accept())
        if pieces:
            self.listed.setCurrentRow(0)
        self._allow()
        self.resize(460, 560)

    def accept(self) -> None:
        """Take the chosen piece."""
        chosen = self.listed.selectedItems()
        if chosen and not chosen[0].isHidden():
            self.taken.emit(str(chosen[0].data(_CODE)))
            super().accept()

    def _look_for(self, text: str) -> None:
        sought = text.strip().casefold()
        items = [self.listed.item(row) for row in range(self.listed.count())]
        for item in items:
            item.setHidden(sought not in item.text().casefold())
        left = [item for item in items if not item.isHidden()]
        if left and (not self.listed.selectedItems() or self.listed.selectedItems()[0].isHidden()):
            self.listed.setCurrentItem(left[0])
        self._allow()

    def _allow(self) -> None:
        chosen = self.listed.selectedItems()
        self.takes.setEnabled(bool(chosen) and not chosen[0].isHidden())
