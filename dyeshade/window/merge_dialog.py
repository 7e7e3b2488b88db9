"""Two pieces that are one."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from dyeshade.window.form_dialog import FormDialog, Keep
from dyeshade.window.look import SPACE
from dyeshade.window.typed_fields import TypedField, WordsField
from dyeshade.work.known import Known, KnownPiece


class MergeDialog(FormDialog):
    """Asks which other piece is the same as this one.

    Parameters
    ----------
    code : str
        The piece that stays.
    known : Known
    keep : callable, optional
        As `dyeshade.window.form_dialog.Keep`; told the other one's code.
    """

    def __init__(
        self, code: str, known: Known, parent: QWidget | None = None, *, keep: Keep | None = None
    ) -> None:
        super().__init__(MergeDialog.tr("Two pieces that are one"), keep, parent)
        self._pieces = {one.code.casefold(): one for one in known.pieces}
        self._code = code
        words = QLabel(
            self.tr(
                "Readings and treatments of the other piece go to {0}, and the other goes. What "
                "{0} does not say of fibre, mordant, weight and name is taken from the other."
            ).format(code)
        )
        words.setWordWrap(True)
        self.other = WordsField(
            self.tr("The other piece"),
            needed=True,
            known=[one.code for one in known.pieces if one.code != code],
        )
        self.seen = QLabel()
        self.seen.setProperty("faint", True)
        self.other.textChanged.connect(self._look)
        fields = self.new_form()
        self.add(fields, self.tr("&The other piece"), self.other)
        column = QVBoxLayout(self.body)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.setSpacing(SPACE)
        column.addWidget(words)
        column.addLayout(fields)
        column.addWidget(self.seen)
        column.addStretch(1)
        self.keeps.setText(self.tr("&Make them one"))
        self.resize(520, 260)

    def check(self) -> list[TypedField]:
        """Fields that cannot be read; they are answered."""
        mistaken = super().check()
        code = self.other.text().strip()
        answer = ""
        if code and code.casefold() not in self._pieces:
            answer = self.tr("There is no piece {} in this library.").format(code)
        elif code.casefold() == self._code.casefold():
            answer = self.tr("That is this piece itself.")
        if answer:
            self.answer(self.other, answer)
            mistaken.append(self.other)
        return mistaken

    def read(self) -> str:
        """Code of the other piece; called after `check`."""
        return self._pieces[self.other.read().casefold()].code

    def _look(self, code: str) -> None:
        piece = self._pieces.get(code.strip().casefold())
        self.seen.setText("" if piece is None else _told(piece, self.tr))


def _told(piece: KnownPiece, tr: Callable[[str], str]) -> str:
    mordant = tr("with {}").format(piece.mordant) if piece.mordant else ""
    return ", ".join(filter(None, (piece.code, piece.name, piece.fibre, mordant)))
