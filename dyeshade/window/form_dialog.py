"""A dialog that keeps what was typed until the library has taken it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QFormLayout,
    QFrame,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.window import page_parts
from dyeshade.window.look import SPACE
from dyeshade.window.return_key import Dialog
from dyeshade.window.typed_fields import Answers, TypedField
from dyeshade.window.wording import refusal_words

Keep = Callable[[Any, Callable[[object], None], Callable[[DyeshadeError], None]], None]
"""Called with what was said, and with whom to tell that it is done or refused."""


class FormDialog(Dialog):
    """Fields with their answers, and one button that keeps all.

    Parameters
    ----------
    title : str
    keep : callable or None
        `Keep`; where None, the dialog just closes and whoever opened it asks it.
    """

    def __init__(self, title: str, keep: Keep | None, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self._keep = keep
        self._said: Any = None
        self._answers: list[tuple[TypedField, Answers]] = []
        self.trouble = QLabel()
        self.trouble.setWordWrap(True)
        self.trouble.setProperty("wrong", True)
        self.trouble.hide()
        self.body = QWidget()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.keeps = self.buttons.addButton(
            self.tr("&Keep"), QDialogButtonBox.ButtonRole.AcceptRole
        )
        self.keeps.setProperty("main", True)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(self.body)
        column = QVBoxLayout(self)
        column.setSpacing(SPACE)
        column.addWidget(area, 1)
        column.addWidget(self.trouble)
        column.addWidget(self.buttons)
        # Only a button that is in the dialog already becomes what Enter presses.
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).setAutoDefault(False)
        self.keeps.setDefault(True)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Begin in the first field: on the button a space would keep what nobody has said."""
        if self.focusWidget() is None:
            one = self.body.nextInFocusChain()
            while one is not self.body and not (self.body.isAncestorOf(one) and _can_begin(one)):
                one = one.nextInFocusChain()
            one.setFocus()
        # Now that all fields stand in the dialog, whose order of Tab came about with each of them.
        page_parts.main_first(self.buttons, self.keeps)
        super().showEvent(event)

    def new_form(self) -> QFormLayout:
        """A column of named fields."""
        return page_parts.form()

    def add(self, form: QFormLayout, words: str, field: QWidget) -> None:
        """Add a field with its name, and room for an answer below it."""
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(field)
        if isinstance(field, TypedField):
            answers = Answers(field)
            column.addWidget(answers)
            self._answers.append((field, answers))
        page_parts.add(form, words, field, holder)

    def answer(self, field: TypedField, sentence: str) -> None:
        """Say something beside a field."""
        next(answers for one, answers in self._answers if one is field).answer(field, sentence)

    def check(self) -> list[TypedField]:
        """Fields that cannot be read; they are answered."""
        return [field for field, answers in self._answers if not answers.check(field)]

    def read(self) -> Any:
        """What was said; called after `check`."""
        raise NotImplementedError

    def accept(self) -> None:
        """Keep what was said, where all of it can be read."""
        mistaken = self.check()
        if mistaken:
            mistaken[0].setFocus()
            mistaken[0].selectAll()
            # A field that is left is read again by itself, which takes away what else was said.
            self.check()
            return
        self._said = self.read()
        if self._keep is None:
            super().accept()
            return
        self.keeps.setEnabled(False)
        self._keep(self._said, self._done, self._refused)

    def reject(self) -> None:
        """Leave all as it was; not while the library is about to keep it."""
        if self.keeps.isEnabled():
            super().reject()

    def _done(self, _told: object) -> None:
        super().accept()

    @Slot(object)
    def release(self, _fault: object = None) -> None:
        """Let people try again or leave: nothing was kept, and nobody will say so."""
        self.keeps.setEnabled(True)

    def _refused(self, error: DyeshadeError) -> None:
        self.release()
        self.trouble.setText(refusal_words(error))
        self.trouble.show()


def _can_begin(widget: QWidget) -> bool:
    tabbed = widget.focusPolicy() & Qt.FocusPolicy.TabFocus
    return bool(tabbed) and widget.isEnabled() and not widget.isHidden()
