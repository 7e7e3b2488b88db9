"""How a shade card is made up: title, maker, paper, swatches, fibre, sides."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from dyeshade.paper.shade_card import Card, Paper, SwatchSize
from dyeshade.window.look import SPACE


class CardSettings(QWidget):
    """Fields for all that a `Card` holds.

    Signals
    -------
    wished(Card, str, str)
        Another card, what was changed in words for the menu, and a key under which steps are one.
    """

    wished = Signal(object, str, str)

    def __init__(self, card: Card, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._card = card
        self._typed = 0
        self.title, self.maker = QLineEdit(), QLineEdit()
        self.papers: dict[Paper, QRadioButton] = {
            "A4": QRadioButton(self.tr("A&4")),
            "Letter": QRadioButton(self.tr("Lette&r")),
        }
        self.swatches: dict[SwatchSize, QRadioButton] = {
            "small": QRadioButton(self.tr("4 side &by side")),
            "middle": QRadioButton(self.tr("&3 side by side")),
            "large": QRadioButton(self.tr("&2 side by side")),
        }
        self.fibre_place = QCheckBox(self.tr("Room to tie or &glue fibre"))
        self.two_sided = QCheckBox(self.tr("Baths on the bac&k"))
        self._build()
        self.show_card(card)

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        for words, field in ((self.tr("&Title"), self.title), (self.tr("Made b&y"), self.maker)):
            label = QLabel(words)
            label.setProperty("head", True)
            label.setBuddy(field)
            field.setAccessibleName(words.replace("&", ""))
            field.setMaxLength(200)
            field.textEdited.connect(self._type)
            field.editingFinished.connect(self._end_typing)
            column.addWidget(label)
            column.addWidget(field)
        self.title.setPlaceholderText(self.tr("as: Weld from acid to alkaline"))
        self.maker.setPlaceholderText(self.tr("your name or workshop"))
        self._add_group(column, self.tr("Paper"), list(self.papers.values()), True)
        self._add_group(column, self.tr("Swatches"), list(self.swatches.values()), False)
        column.addSpacing(SPACE)
        self.fibre_place.setToolTip(
            self.tr("Under each swatch, with a mark for a hole; and marks for cutting and folding")
        )
        self.two_sided.setToolTip(
            self.tr("For printing on both sides, turned over the long edge of the paper")
        )
        for box in (self.fibre_place, self.two_sided):
            box.clicked.connect(self._choose)
            column.addWidget(box)

    def _add_group(
        self, column: QVBoxLayout, words: str, buttons: list[QRadioButton], beside: bool
    ) -> None:
        head = QLabel(words)
        head.setProperty("head", True)
        column.addSpacing(SPACE // 2)
        column.addWidget(head)
        group = QButtonGroup(self)
        room = QHBoxLayout() if beside else QVBoxLayout()
        room.setSpacing(SPACE if beside else SPACE // 3)
        for button in buttons:
            button.setAccessibleName(f"{words}: {button.text().replace('&', '')}")
            group.addButton(button)
            room.addWidget(button)
            button.clicked.connect(self._choose)
        if beside:
            room.addStretch(1)
        column.addLayout(room)

    def show_card(self, card: Card) -> None:
        """Show how a card is made up."""
        self._card = card
        for field, words in ((self.title, card.title), (self.maker, card.maker)):
            # Setting it moves the cursor, which must stay where someone is typing.
            if field.text() != words:
                field.setText(words)
        self.papers[card.paper].setChecked(True)
        self.swatches[card.swatch].setChecked(True)
        self.fibre_place.setChecked(card.fibre_place)
        self.two_sided.setChecked(card.two_sided)

    def _type(self) -> None:
        card = replace(self._card, title=self.title.text(), maker=self.maker.text())
        if card.title != self._card.title:
            self.wished.emit(card, self.tr("title the card"), f"title {self._typed}")
        elif card.maker != self._card.maker:
            self.wished.emit(card, self.tr("name the maker"), f"maker {self._typed}")

    def _end_typing(self) -> None:
        self._typed += 1

    def _choose(self) -> None:
        card = replace(
            self._card,
            paper=next(paper for paper, button in self.papers.items() if button.isChecked()),
            swatch=next(size for size, button in self.swatches.items() if button.isChecked()),
            fibre_place=self.fibre_place.isChecked(),
            two_sided=self.two_sided.isChecked(),
        )
        if card != self._card:
            self.wished.emit(card, self.tr("make up the card"), "")
