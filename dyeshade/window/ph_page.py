"""Reaching a pH: the liquor and what there is on the left; what to do next, the plot, the log."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.window.bathing import Bathing
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import head, order_tabs, scrolled, tell, told
from dyeshade.window.ph_form import PhForm
from dyeshade.window.ph_log import PhLogPanel
from dyeshade.window.ph_plot import PhPlot
from dyeshade.window.wording import caution_words, refusal_words
from dyeshade.words.bath_ph_lines import next_lines, ph_lines
from dyeshade.words.bath_room import amount_unit, log_lines
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.ph_typed import read_ph_typed
from dyeshade.work.reach_ph import Way, ph_cautions, way_to_ph

BRIEFLY = ("overshot", "foam", "quarter_teaspoon_jumps")
"""Cautions that belong to what is to be done now, and stand above all."""


class PhPage(QWidget):
    """The liquor, the target, what there is; proposal, plot and log."""

    def __init__(self, bathing: Bathing) -> None:
        super().__init__()
        self._bathing = bathing
        self._asked: object = None
        self._stale = True
        self.form = PhForm(bathing)
        self.answers = self.form.answers
        self.do = QLabel()
        self.do.setWordWrap(True)
        self.do.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        font = self.do.font()
        font.setPointSizeF(font.pointSizeF() * 1.25)
        self.do.setFont(font)
        self.briefly, self.mind, self.log_told = told(wrong=True), told(), told()
        self.cautions, self._cautions_head = told(), head(self.tr("Cautions"))
        self.plot = PhPlot()
        self.log = PhLogPanel(bathing)
        self._build()
        self._join()

    def _build(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(SPACE + SPACE // 2)
        row.addWidget(scrolled(self.form), 5)
        row.addWidget(scrolled(self._build_way()), 7)

    def _build_way(self) -> QWidget:
        side = QWidget()
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(self.do)
        column.addWidget(self.briefly)
        column.addWidget(self.log)
        column.addWidget(self.plot, 1)
        column.addWidget(self.log_told)
        column.addWidget(self.mind)
        column.addSpacing(SPACE)
        column.addWidget(self._cautions_head)
        column.addWidget(self.cautions)
        column.addStretch(1)
        return side

    def _join(self) -> None:
        self.form.edited.connect(self._edited)
        self.form.left.connect(self._look_ahead)
        self._bathing.shown.connect(self._show)
        self._bathing.planned.connect(self._show_read)
        self._bathing.room_changed.connect(self._room_changed)

    @Slot()
    def _edited(self) -> None:
        self._bathing.put(self.form.put_into(self._bathing.typed))

    @Slot()
    def _show(self) -> None:
        self.form.show_typed(self._bathing.typed)
        self._stale = True

    @Slot()
    def _show_read(self) -> None:
        typed = self._bathing.typed
        self.form.show_read(read_ph_typed(typed, self._bathing.own.at_hand), typed)
        self.log.show_have(typed)
        self._order_tabs()
        harm = ph_cautions(typed, self._bathing.plan)
        tell(self.cautions, [caution_words(one) for one in harm])
        self._cautions_head.setVisible(bool(harm))

    def _order_tabs(self) -> None:
        order_tabs(*self.form.stops, *self.log.stops)

    @Slot()
    def _room_changed(self) -> None:
        lines = log_lines(self._bathing.room)
        tell(self.log_told, lines, "\n")
        self._stale = True
        self._look_ahead()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Work it out when it is looked at."""
        super().showEvent(event)
        self._look_ahead()

    @Slot()
    def _look_ahead(self, _left: object = None) -> None:
        """Ask what to do next, where that is looked at and something has changed."""
        if not self.isVisible():
            return
        bathing = self._bathing
        typed, room, own, parent = (
            bathing.typed, bathing.room, bathing.own, bathing.parent_plan,
        )  # fmt: skip
        asked = (_of_ph(typed), room, own)
        if asked == self._asked and not self._stale:
            return
        self._asked, self._stale = asked, False

        def take(way: Way) -> None:
            if self._asked is asked:
                self._show_way(way, typed)

        def refused(error: DyeshadeError) -> None:
            if self._asked is asked:
                self.do.setText(refusal_words(error))
                tell(self.briefly, [])
                self.plot.show_plot(None)
                self.log.propose(None)

        bathing.ask(lambda _library: way_to_ph(typed, room, own, parent), take, refused)

    def _show_way(self, way: Way, _typed: TypedBath) -> None:
        if way.step is None:
            self.do.setText(
                self.tr("Read the liquor as it is, before anything is added: on a cooled drop.")
            )
            self.log.propose(None)
        else:
            assert way.ph is not None
            assert way.plot is not None
            lines = next_lines(way.step, way.plot.target)
            self.do.setText("\n".join(lines[1:]))
            self.log.propose(way.step.advice)
            self.log.show_now([lines[0], *ph_lines(way.ph)[1:]])
        measure = None if way.step is None else way.step.advice.measure
        unit = "" if measure is None else amount_unit(measure)
        self.plot.show_plot(way.plot, unit)
        now = [one for one in way.notices if one.code in BRIEFLY]
        # What the fibre bears stands beside its bounds.
        elsewhere = {*BRIEFLY, *(one.code for one in way.bears.notices)}
        later = [one for one in way.notices if one.code not in elsewhere]
        tell(self.briefly, [caution_words(one) for one in now])
        tell(self.mind, [caution_words(one) for one in later])


def _of_ph(typed: TypedBath) -> TypedBath:
    """What the way to a pH depends on."""
    return replace(typed, steps=(), note="", code="")
