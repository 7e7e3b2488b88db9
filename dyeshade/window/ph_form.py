"""What is typed for a pH: where it shall go, the water, what there is to move it."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QVBoxLayout, QWidget

from dyeshade.window.bath_rows import BathField, BathRows, beside, choice, choose
from dyeshade.window.bathing import Bathing
from dyeshade.window.field_answers import FieldAnswers
from dyeshade.window.have_row import BY, PERCENT, STEP, HaveRow
from dyeshade.window.hold_panel import HoldPanel
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import add, form, head, tell, told
from dyeshade.words.bath_ph import WHICH_SODA
from dyeshade.words.bath_room import bears_words
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.known_pieces import other_degrees
from dyeshade.work.ph_typed import ReadPh
from dyeshade.work.reach_ph import range_typed


class PhForm(QWidget):
    """The fields of a bath's pH, each with its answer.

    Signals
    -------
    edited()
        Something was typed.
    left()
        A field was left, so that what follows may be worked out.
    """

    edited = Signal()
    left = Signal()

    def __init__(self, bathing: Bathing) -> None:
        super().__init__()
        self._showing = False
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
        self.degrees_other = beside()
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
        self.alum = BathField(
            self.tr("Alum that is left in the liquor, as far as you can tell"),
            self.tr("none, or 5 g"),
        )
        self.ceiling = BathField(self.tr("Your own ceiling"))
        self.floor = BathField(self.tr("Your own floor"))
        self.raised = QCheckBox(self.tr("I mean this bound: I have tried it on a scrap"))
        self.hold = HoldPanel(bathing)
        self.bears, self.soda = told(), told(faint=True)
        self._build()
        self._join()

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(head(self.tr("Where it shall go")))
        wanted = form()
        hold = self.answers.holder
        add(wanted, self.tr("&Target pH"), self.target, hold("target", self.target))
        warm = QWidget()
        line = QHBoxLayout(warm)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(hold("temperature", self.temperature), 1)
        line.addWidget(self.degrees_other)
        add(wanted, self.tr("Temperat&ure"), self.temperature, warm)
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
        add(water, self.tr("Alum left, if an&y"), self.alum, hold("alum", self.alum))
        column.addLayout(water)
        column.addSpacing(SPACE // 2)
        column.addWidget(head(self.tr("What you have to move it")))
        column.addWidget(self.have)
        column.addWidget(self.soda)
        column.addStretch(1)

    def _join(self) -> None:
        for field in (self.target, self.temperature, self.alkalinity, self.water_ph, self.alum,
                      self.ceiling, self.floor):  # fmt: skip
            field.textChanged.connect(self._tell)
            field.editingFinished.connect(self.left)
        self.have.edited.connect(self._tell)
        self.have.left.connect(lambda _field: self.left.emit())
        self.degrees.currentIndexChanged.connect(self._tell)
        self.raised.toggled.connect(self._tell)
        self.raised.toggled.connect(lambda _on: self.left.emit())

    @Slot()
    def _tell(self) -> None:
        if not self._showing:
            self.edited.emit()

    @property
    def stops(self) -> list[QWidget]:
        """Where Tab stops, in its order."""
        return [
            self.target, self.temperature, self.hold.ask, self.ceiling, self.floor, self.raised,
            self.alkalinity, self.degrees, self.water_ph, self.alum, *self.have.stops,
        ]  # fmt: skip

    def put_into(self, typed: TypedBath) -> TypedBath:
        """What is typed here, within what is typed for the bath."""
        return replace(
            typed,
            target=self.target.text(),
            temperature=self.temperature.text(),
            alkalinity=self.alkalinity.text(),
            degrees=self.degrees.currentData(),
            water_ph=self.water_ph.text(),
            alum=self.alum.text(),
            ceiling=self.ceiling.text(),
            floor=self.floor.text(),
            raised=self.raised.isChecked(),
            have=self.have.values(),
        )

    def show_typed(self, typed: TypedBath) -> None:
        """Show another bath's texts."""
        self._showing = True
        self.target.put(typed.target)
        self.temperature.put(typed.temperature)
        self.alkalinity.put(typed.alkalinity)
        choose(self.degrees, typed.degrees)
        self.water_ph.put(typed.water_ph)
        self.alum.put(typed.alum)
        self.ceiling.put(typed.ceiling)
        self.floor.put(typed.floor)
        self.raised.setChecked(typed.raised)
        self.have.show_values(typed.have)
        self._showing = False
        self.answers.start_afresh()

    def show_read(self, read: ReadPh, typed: TypedBath) -> None:
        """Answer what is typed: what is wrong with it, what the fibre bears, which soda it is."""
        self.answers.show(read.wrong)
        self.degrees_other.setText(other_degrees(typed.temperature))
        bears = range_typed(typed)
        tell(self.bears, bears_words(bears, read.temperature_c))
        beyond = [one for one in bears.notices if one.code in ("ceiling_raised", "floor_lowered")]
        self.raised.setVisible(bool(beyond))
        sodas = {one.additive.removesuffix("_stock") for one in typed.have}
        tell(self.soda, [WHICH_SODA[one] for one in sorted(sodas) if one in WHICH_SODA])
