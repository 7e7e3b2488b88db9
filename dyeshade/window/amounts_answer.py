"""What is weighed out for a bath, and what is to be known of it."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from dyeshade.bath.amounts import WATER
from dyeshade.errors import Notice
from dyeshade.window.field_answers import FieldAnswers
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import head, tell
from dyeshade.window.weigh_out import WeighOut
from dyeshade.window.wording import caution_words
from dyeshade.words import bath_room as words
from dyeshade.words.bath_table import enough
from dyeshade.work.plan_bath import OwnFigures, Planned


class AmountsAnswer(QWidget):
    """Amounts beside what was taken of them, pots, what to mind, cautions.

    Parameters
    ----------
    answers : FieldAnswers
        Of the page, for what is typed as taken.
    """

    def __init__(self, answers: FieldAnswers) -> None:
        super().__init__()
        self.weigh = WeighOut(answers)
        self.fibre, self.more, self.mind, self.cautions = (QLabel() for _ in range(4))
        self.empty = QLabel(
            self.tr(
                "Write down the fibre and its dry weight, after scouring. Everything else follows "
                "from it.\n\nWeights are typed as “240 g” or “1 lb 4 oz”, ratios as “2:1”, “two to "
                "one” or “8 %”."
            )
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.setSpacing(SPACE // 2)
        self.fibre.setProperty("head", True)
        self._cautions_head = head(self.tr("Cautions"))
        for label in (self.more, self.mind, self.cautions, self.empty):
            label.setWordWrap(True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.mind.setProperty("wrong", True)
        self.empty.setProperty("faint", True)
        column.addWidget(self.fibre)
        column.addWidget(self.empty)
        column.addWidget(self.weigh)
        column.addWidget(self.mind)
        column.addWidget(self.more)
        column.addSpacing(SPACE)
        column.addWidget(self._cautions_head)
        column.addWidget(self.cautions)
        column.addStretch(1)

    def show_plan(self, plan: Planned, own: OwnFigures, taken: Mapping[str, str]) -> None:
        """Show a bath as it is worked out.

        Parameters
        ----------
        plan : Planned
        own : OwnFigures
        taken : mapping of str to str
            What is typed as taken, by the line's key.
        """
        worked = plan.worked
        self.empty.setVisible(worked is None)
        self.fibre.setVisible(worked is not None)
        lines = () if worked is None else worked.plan.lines
        if plan.exhaust is not None:
            # What of the liquor wants filling up is said below.
            lines = tuple(line for line in lines if line.kind != WATER)
        self.weigh.show_lines(lines, own, dict(taken))
        more: list[str] = []
        mind: list[Notice] = []
        if worked is not None:
            self.fibre.setText(words.fibre_words(worked.plan, own.units))
            more += words.also_words(worked.plan, own.units)
            more += words.pot_words(worked, own.units)
            more += [enough(one, own.units) for one in worked.enough]
            mind += worked.plan.notices
            mind += [notice for one in worked.enough for notice in one.notices]
        if plan.exhaust is not None:
            more += words.exhaust_lines(plan.exhaust, own.units)
        tell(self.more, more)
        tell(self.mind, [caution_words(one) for one in mind])
        cautions = () if worked is None else worked.cautions
        tell(self.cautions, [caution_words(one) for one in cautions])
        self._cautions_head.setVisible(bool(cautions))
