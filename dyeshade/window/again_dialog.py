"""Make a bath again for another weight of fibre."""

from __future__ import annotations

from PySide6.QtWidgets import QDialogButtonBox, QLabel, QVBoxLayout, QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.window.bath_rows import BathField
from dyeshade.window.look import SPACE
from dyeshade.window.return_key import Dialog
from dyeshade.window.typed_fields import Answers
from dyeshade.window.wording import refusal_words
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.plan_bath import OwnFigures, make_again


class AgainDialog(Dialog):
    """Asks for the weight; what cannot be meant is answered beside it."""

    def __init__(self, typed: TypedBath, own: OwnFigures, parent: QWidget) -> None:
        super().__init__(parent)
        self._typed, self._own = typed, own
        self._made = typed
        self.setWindowTitle(self.tr("Make {} again").format(typed.code))
        self.weight = BathField(self.tr("Dry weight of fibre"), self.tr("350 g"))
        self.answers = Answers()
        label = QLabel(self.tr("For how much &fibre, dry?"))
        label.setBuddy(self.weight)
        says = QLabel(
            self.tr("Where something else was taken than planned, what was taken counts.")
        )
        says.setWordWrap(True)
        says.setProperty("faint", True)
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        self.setMinimumWidth(400)
        column = QVBoxLayout(self)
        column.setSizeConstraint(QVBoxLayout.SizeConstraint.SetMinimumSize)
        column.setSpacing(SPACE // 2)
        for widget in (label, self.weight, self.answers, says, buttons):
            column.addWidget(widget)

    def made(self) -> TypedBath:
        """The bath for that weight; asked once the dialog was accepted."""
        return self._made

    def accept(self) -> None:
        """Take the weight, where it is one."""
        try:
            self._made = make_again(self._typed, self.weight.text(), "", self._own)
        except DyeshadeError as error:
            self.answers.answer(self.weight, refusal_words(error))
            self.adjustSize()
            self.weight.setFocus()
            return
        super().accept()
