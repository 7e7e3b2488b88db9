"""What questions are put together from: a piece, dyestuff, fibre and mordant."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QCompleter,
    QSizePolicy,
)

from dyeshade.library.find import ShadeQuery
from dyeshade.window.question_page import QuestionPage, fill_box
from dyeshade.work.compare_choices import CompareChoices


class PieceBox(QComboBox):
    """Pieces that were read, to choose or to type.

    Signals
    -------
    chosen()
        Another piece is meant now.
    """

    chosen = Signal()

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setEditable(True)
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.setMinimumContentsLength(18)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self._last = ""
        completer = self.completer()
        assert completer is not None
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
        field = self.lineEdit()
        assert field is not None
        field.setAccessibleName(name)
        field.setPlaceholderText(self.tr("a piece's id"))
        field.editingFinished.connect(self._edited)
        self.activated.connect(lambda _row: self._edited())

    @property
    def code(self) -> str:
        """The code of the piece that is meant, "" for none."""
        row = self.findText(self.currentText(), Qt.MatchFlag.MatchFixedString)
        return str(self.itemData(row)) if row >= 0 else self.currentText().strip()

    def choose(self, code: str) -> None:
        """Mean another piece."""
        row = self.findData(code)
        if row >= 0:
            self.setCurrentIndex(row)
        else:
            self.setEditText(code)
        self._edited()

    def show_pieces(self, choices: CompareChoices, otherwise: str = "") -> None:
        """Offer pieces; the one that is meant stays, or becomes `otherwise` where none is."""
        code = self.code or otherwise
        blocked = self.blockSignals(True)
        self.clear()
        for one in choices.pieces:
            self.addItem(f"{one.code}, {one.name}" if one.name else one.code, one.code)
        self.setCurrentIndex(self.findData(code))
        if self.currentIndex() < 0:
            self.setEditText(code)
        self.blockSignals(blocked)
        self._last = self.code
        self._from_the_start()

    def _edited(self) -> None:
        if self.code != self._last:
            self._last = self.code
            self.chosen.emit()
        self._from_the_start()

    def _from_the_start(self) -> None:
        """Show the code of a piece of long name, not the name's end."""
        field = self.lineEdit()
        assert field is not None
        if not field.hasFocus():
            field.setCursorPosition(0)


class MadeWith:
    """Dyestuff, fibre and mordant boxes among a page's controls.

    Parameters
    ----------
    page : QuestionPage
    place : int
        Of the first among the page's controls.
    """

    def __init__(self, page: QuestionPage, place: int, row: int = 0) -> None:
        self.dyestuff, self.fibre, self.mordant = QComboBox(), QComboBox(), QComboBox()
        self._any = page.tr("any")
        self._none = page.tr("none written down")
        for k, (words, box) in enumerate(
            (
                (page.tr("&Dyestuff"), self.dyestuff),
                (page.tr("F&ibre"), self.fibre),
                (page.tr("&Mordant"), self.mordant),
            )
        ):
            plain_box(box)
            page.add_control(place + k, words, box, row)
            box.activated.connect(lambda _row: page.refresh())

    def show_choices(self, choices: CompareChoices, needs_dyestuff: bool = False) -> None:
        """Offer what the library knows."""
        names, any_one = choices.names, (self._any, None)
        dyes = [(name, name) for name in names.dyestuffs]
        first = dyes[0][1] if dyes and needs_dyestuff else None
        fill_box(self.dyestuff, dyes if needs_dyestuff else [any_one, *dyes], first)
        for box, listed in ((self.fibre, names.fibres), (self.mordant, names.mordants)):
            fill_box(box, [any_one, *((n, n) for n in listed), (self._none, "")], None)

    def query(self) -> ShadeQuery:
        """What is asked for."""
        return ShadeQuery(
            dyestuff=self.dyestuff.currentData(),
            fibre=self.fibre.currentData(),
            mordant=self.mordant.currentData(),
        )


def plain_box(box: QComboBox, letters: int = 9) -> QComboBox:
    """A box that is no wider than it must be."""
    box.setMinimumContentsLength(letters)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    return box
