"""Reaching a pH: the liquor and what there is on the left; what to do next, the plot, the log."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.window.bath_rows import (
    BY,
    PERCENT,
    STEP,
    BathField,
    BathRows,
    HaveRow,
    choice,
    choose,
)
from dyeshade.window.bathing import Bathing
from dyeshade.window.field_answers import FieldAnswers
from dyeshade.window.hold_panel import HoldPanel
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import add, form, head, order_tabs, scrolled, tell, told
from dyeshade.window.ph_log import PhLogPanel
from dyeshade.window.ph_plot import PhPlot
from dyeshade.window.wording import caution_words, refusal_words
from dyeshade.words.bath_ph import WHICH_SODA
from dyeshade.words.bath_ph_lines import next_lines, ph_lines
from dyeshade.words.bath_room import amount_unit, bears_words, log_lines
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.ph_typed import read_ph_typed
from dyeshade.work.reach_ph import Way, ph_cautions, range_typed, way_to_ph

BRIEFLY = ("overshot", "foam", "quarter_teaspoon_jumps")
"""Cautions that belong to what is to be done now, and stand above all."""


class PhPage(QWidget):
    """The liquor, the target, what there is; proposal, plot and log."""

    def __init__(self, bathing: Bathing) -> None:
        super().__init__()
        self._bathing = bathing
        self._showing = False
        self._asked: object = None
        self._stale = True
        self.have = BathRows(
            [
                (self.tr("What"), 0),
                (self.tr("%"), PERCENT),
                (self.tr("Measured by"), BY),
                (self.tr("At least"), STEP),
            ],
            HaveRow,
            self.tr("Add &something that moves the pH"),
        )
        self.answers = FieldAnswers({"have": self.have}, self)
        self.target = BathField(self.tr("pH that it shall have"), self.tr("8"))
        self.temperature = BathField(
            self.tr("Temperature of the bath with the fibre in it"), self.tr("38 °C or 100 °F")
        )
        self.alkalinity = BathField(self.tr("Alkalinity of the water"), self.tr("120"))
        self.degrees = choice(
            self.tr("In what the alkalinity is given"),
            {
                "mg_l": self.tr("mg/L CaCO₃"),
                "german": self.tr("° German"),
                "french": self.tr("° French"),
                "english": self.tr("° English"),
            },
        )
        self.water_ph = BathField(self.tr("pH of the water"), "7.5")
        self.ceiling = BathField(self.tr("Your own ceiling"))
        self.floor = BathField(self.tr("Your own floor"))
        self.raised = QCheckBox(self.tr("I mean this bound: I have tried it on a scrap"))
        self.hold = HoldPanel(bathing)
        self.bears, self.soda = told(), told(faint=True)
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
        row.setSpacing(2 * SPACE)
        row.addWidget(scrolled(self._build_form()), 5)
        row.addWidget(scrolled(self._build_way()), 7)

    def _build_form(self) -> QWidget:
        side = QWidget()
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(head(self.tr("Where it shall go")))
        wanted = form()
        hold = self.answers.holder
        add(wanted, self.tr("&Target pH"), self.target, hold("target", self.target))
        add(wanted, self.tr("Temperat&ure"), self.temperature,
            hold("temperature", self.temperature))  # fmt: skip
        column.addLayout(wanted)
        column.addWidget(self.hold)
        column.addWidget(self.bears)
        bounds = form()
        add(bounds, self.tr("Own &ceiling"), self.ceiling, hold("ceiling", self.ceiling))
        add(bounds, self.tr("Own &floor"), self.floor, hold("floor", self.floor))
        column.addLayout(bounds)
        column.addWidget(self.raised)
        column.addSpacing(SPACE // 2)
        column.addWidget(head(self.tr("The water, as the water works report it")))
        water = form()
        alkalinity = QWidget()
        line = QHBoxLayout(alkalinity)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(hold("alkalinity", self.alkalinity), 1)
        line.addWidget(self.degrees, 0, Qt.AlignmentFlag.AlignTop)
        add(water, self.tr("&Alkalinity"), self.alkalinity, alkalinity)
        add(water, self.tr("Its p&H"), self.water_ph, hold("water_ph", self.water_ph))
        column.addLayout(water)
        column.addSpacing(SPACE // 2)
        column.addWidget(head(self.tr("What you have to move it")))
        column.addWidget(self.have)
        column.addWidget(self.soda)
        column.addStretch(1)
        return side

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
        for field in (self.target, self.temperature, self.alkalinity, self.water_ph,
                      self.ceiling, self.floor):  # fmt: skip
            field.textChanged.connect(self._edited)
            field.editingFinished.connect(self._look_ahead)
        self.have.edited.connect(self._edited)
        self.have.left.connect(self._look_ahead)
        self.degrees.currentIndexChanged.connect(self._edited)
        self.raised.toggled.connect(self._edited)
        self.raised.toggled.connect(self._look_ahead)
        self._bathing.shown.connect(self._show)
        self._bathing.planned.connect(self._show_read)
        self._bathing.room_changed.connect(self._room_changed)

    @Slot()
    def _edited(self) -> None:
        if self._showing:
            return
        self._bathing.put(
            replace(
                self._bathing.typed,
                target=self.target.text(),
                temperature=self.temperature.text(),
                alkalinity=self.alkalinity.text(),
                degrees=self.degrees.currentData(),
                water_ph=self.water_ph.text(),
                ceiling=self.ceiling.text(),
                floor=self.floor.text(),
                raised=self.raised.isChecked(),
                have=self.have.values(),
            )
        )

    @Slot()
    def _show(self) -> None:
        typed = self._bathing.typed
        self._showing = True
        self.target.put(typed.target)
        self.temperature.put(typed.temperature)
        self.alkalinity.put(typed.alkalinity)
        choose(self.degrees, typed.degrees)
        self.water_ph.put(typed.water_ph)
        self.ceiling.put(typed.ceiling)
        self.floor.put(typed.floor)
        self.raised.setChecked(typed.raised)
        self.have.show_values(typed.have)
        self._showing = False
        self.answers.start_afresh()
        self._stale = True

    @Slot()
    def _show_read(self) -> None:
        typed = self._bathing.typed
        read = read_ph_typed(typed, self._bathing.own.at_hand)
        self.answers.show(read.wrong)
        bears = range_typed(typed)
        tell(self.bears, bears_words(bears, read.temperature_c))
        beyond = [one for one in bears.notices if one.code in ("ceiling_raised", "floor_lowered")]
        self.raised.setVisible(bool(beyond))
        sodas = {one.additive.removesuffix("_stock") for one in typed.have}
        tell(self.soda, [WHICH_SODA[one] for one in sorted(sodas) if one in WHICH_SODA])
        self.log.show_have(typed)
        self._order_tabs()
        harm = ph_cautions(typed, self._bathing.plan)
        tell(self.cautions, [caution_words(one) for one in harm])
        self._cautions_head.setVisible(bool(harm))

    def _order_tabs(self) -> None:
        order_tabs(
            self.target,
            self.temperature,
            self.hold.ask,
            self.ceiling,
            self.floor,
            self.raised,
            self.alkalinity,
            self.degrees,
            self.water_ph,
            *self.have.stops,
            *self.log.stops,
        )

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
