"""What would hold a bath at its target, told when somebody asks."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.window.bathing import Bathing
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import tell, told
from dyeshade.window.wording import caution_words, refusal_words
from dyeshade.words.bath_ph_lines import hold_lines
from dyeshade.work.hold_ph import Held, hold_typed


class HoldPanel(QWidget):
    """A button, and below it soda and hydrogen carbonate with how firmly they hold."""

    def __init__(self, bathing: Bathing) -> None:
        super().__init__()
        self._bathing = bathing
        self.ask = QPushButton(self.tr("What would h&old it?"))
        self.held = told()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(self.ask, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.held)
        self.ask.clicked.connect(self._ask)
        # What was told is of what was typed then.
        bathing.planned.connect(lambda: tell(self.held, []))

    @Slot()
    def _ask(self) -> None:
        bathing = self._bathing
        typed, own, parent = bathing.typed, bathing.own, bathing.parent_plan

        def take(found: Held) -> None:
            lines = hold_lines(found.buffer, found.litres)
            cautions = [caution_words(one) for one in found.buffer.notices]
            plain = self.tr("In your water, without the liquor’s own acids:")
            tell(self.held, ["\n".join([plain, *lines]), *cautions])

        def refused(error: DyeshadeError) -> None:
            tell(self.held, [refusal_words(error)])

        bathing.ask(lambda _library: hold_typed(typed, own, parent), take, refused)
