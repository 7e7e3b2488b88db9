"""A line above all places while the library cannot take what is not saved yet."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QLabel, QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.window import look
from dyeshade.window.sitting_drafts import SittingDrafts
from dyeshade.window.wording import refusal_words


class NotHeldLine(QLabel):
    """Tells why drafts cannot be written, until they can; it interrupts nobody who types.

    Parameters
    ----------
    drafts : iterable of SittingDrafts
    """

    def __init__(self, drafts: Iterable[SittingDrafts], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._errors: dict[SittingDrafts, DyeshadeError] = {}
        self.setProperty("wrong", True)
        self.setWordWrap(True)
        self.setContentsMargins(look.SPACE, look.SPACE // 2, look.SPACE, 0)
        self.setAccessibleName(self.tr("Not held"))
        self.hide()
        for one in drafts:
            one.held.connect(lambda error, one=one: self._take(one, error))

    def _take(self, drafts: SittingDrafts, error: DyeshadeError | None) -> None:
        if error is None:
            self._errors.pop(drafts, None)
        else:
            self._errors[drafts] = error
        errors = list(self._errors.values())
        if errors:
            self.setText(
                self.tr("What is not saved would not be there with the next start. {}").format(
                    refusal_words(errors[0])
                )
            )
        self.setVisible(bool(errors))
