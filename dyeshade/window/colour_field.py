"""A wanted colour: typed, or picked from a photo, from a piece, or from the screen."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QColorDialog, QHBoxLayout, QMenu, QPushButton, QWidget

from dyeshade.window.look import SPACE
from dyeshade.window.typed_fields import WordsField
from dyeshade.words.wanted_words import how_sure_words, picked_words
from dyeshade.work.compare_choices import CompareChoices
from dyeshade.work.pick_shade import PickedShade
from dyeshade.work.wanted_colour import Wanted


class ColourField(QWidget):
    """A line to type into, and a button that picks.

    Attributes
    ----------
    field : WordsField
    pick : QPushButton
    from_photo, from_piece, from_screen : QAction
        Of the button's menu.

    Signals
    -------
    chosen()
        Another colour is meant now.
    photo_wanted(ColourField), piece_wanted(ColourField)
        It is to be picked there.
    """

    chosen = Signal()
    photo_wanted = Signal(object)
    piece_wanted = Signal(object)

    def __init__(self, name: str) -> None:
        super().__init__()
        self.field = WordsField(name)
        self.field.setPlaceholderText(self.tr("60,20,30 or #d6c84a or W-014"))
        self.field.setMinimumWidth(140)
        self.pick = QPushButton(self.tr("Pick it"))
        self.pick.setAccessibleName(self.tr("Pick the colour from a photo, a piece or the screen"))
        menu = QMenu(self.pick)
        self.from_photo = menu.addAction(self.tr("From a &photo…"))
        self.from_piece = menu.addAction(self.tr("From a p&iece…"))
        self.from_screen = menu.addAction(self.tr("From the &screen…"))
        self.pick.setMenu(menu)
        self.setFocusProxy(self.field)
        self.setAccessibleName(name)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(SPACE // 2)
        row.addWidget(self.field, 1)
        row.addWidget(self.pick)
        self._last: Wanted = ""
        self._picked: PickedShade | None = None
        self.field.editingFinished.connect(self._edited)
        self.from_photo.triggered.connect(lambda: self.photo_wanted.emit(self))
        self.from_piece.triggered.connect(lambda: self.piece_wanted.emit(self))
        self.from_screen.triggered.connect(self.open_dialog)

    @property
    def words(self) -> str:
        """What stands there; "" for nothing."""
        return self.field.read()

    @property
    def wanted(self) -> Wanted:
        """What was picked from a photo, while its words stand there; else the words."""
        if self._picked is not None and self.words == picked_words(self._picked):
            return self._picked
        return self.words

    def choose(self, wanted: Wanted) -> None:
        """Mean another colour."""
        if isinstance(wanted, PickedShade):
            self._picked = wanted
            self.field.setText(picked_words(wanted))
            self.field.setToolTip(how_sure_words(wanted))
        else:
            self._picked = None
            self.field.setText(wanted)
            self.field.setToolTip("")
        self.field.setCursorPosition(0)
        self._edited()

    def show_pieces(self, choices: CompareChoices) -> None:
        """Offer the codes of pieces."""
        self.field.complete_from(one.code for one in choices.pieces)

    def open_dialog(self) -> None:
        """Let a colour be picked from the screen, or mixed."""
        dialog = QColorDialog(QColor(self.words if self.words.startswith("#") else "#808080"), self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.colorSelected.connect(lambda colour: self.choose(colour.name()))
        dialog.open()

    def _edited(self) -> None:
        if self.wanted != self._last:
            self._last = self.wanted
            self.chosen.emit()
