"""The store of dyestuffs, and what the dyer has found out for themselves."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from dyeshade.bath.showing import weight_in_both
from dyeshade.bath.store import Left
from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.window.bath_rows import BathField, choice, choose
from dyeshade.window.bathing import Bathing
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import head, scrolled, tell, told
from dyeshade.window.typed_fields import Answers
from dyeshade.window.wording import caution_words, refusal_words
from dyeshade.words.bath_room import left_words, own_words
from dyeshade.words.bath_table import enough
from dyeshade.words.dye_words import FORMS
from dyeshade.work.dye_store import TypedLot, is_enough, lots_left, put_in_store, weigh_lot
from dyeshade.work.own_figures import (
    choose_spoons,
    choose_units,
    keep_range,
    keep_ten_spoons,
    keep_yield,
)


class _Line(QWidget):
    """Fields in a line with a button; what is wrong is said below, and what was typed stays."""

    def __init__(self, *parts: QWidget) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        line = QHBoxLayout()
        line.setSpacing(SPACE // 2)
        for part in parts:
            line.addWidget(part)
        line.addStretch(1)
        column.addLayout(line)
        self.answers = Answers()
        column.addWidget(self.answers)
        self.fields = [part for part in parts if isinstance(part, BathField)]
        self.button = next(part for part in parts if isinstance(part, QPushButton))

    def does(self, act: Callable[[], object]) -> None:
        """What button and Enter do."""
        self.button.clicked.connect(act)
        for field in self.fields:
            field.returnPressed.connect(act)

    def answer(self, error: DyeshadeError | None) -> None:
        """Say what is wrong beside the fields."""
        text = "" if error is None else refusal_words(error)
        about = "" if error is None else str(error.facts.get("text", ""))
        for field in self.fields:
            self.answers.answer(field, "")
        if text:
            meant = next((one for one in self.fields if one.text() == about), self.fields[0])
            self.answers.answer(meant, text)
            meant.setFocus()

    def clear(self) -> None:
        """Empty the fields, once the library has it."""
        for field in self.fields:
            field.clear()


class StorePage(QWidget):
    """Lots with what is left, "is it enough?", and the dyer's own figures."""

    def __init__(self, bathing: Bathing) -> None:
        super().__init__()
        self._bathing = bathing
        self._shown: tuple[object, ...] = ()
        field, button = self._field, QPushButton
        self.name, self.weight = field(self.tr("Dyestuff"), 130), field(self.tr("Weight"), 90)
        self.origin = field(self.tr("Origin"), 130)
        self.form = choice(self.tr("Form"), dict(FORMS))
        self.new = _Line(
            self.name, self.form, self.weight, self.origin, button(self.tr("Put into the &store"))
        )
        self.asked = field(self.tr("Dyestuff"), 130)
        self.asked_form = choice(self.tr("Form"), dict(FORMS))
        self.ratio, self.fibre = field(self.tr("at 2:1"), 80), field(self.tr("for 240 g"), 90)
        self.ask = _Line(
            self.asked, self.asked_form, self.ratio, self.fibre, button(self.tr("Is it &enough?"))
        )
        self.answer = told()
        self.yielding = field(self.tr("Dyestuff"), 130)
        self.yield_form = choice(
            self.tr("Yield"),
            {"dried": self.tr("dried, of fresh"), "extract": self.tr("extract, of dried")},
        )
        self.share = field(self.tr("20 %"), 80)
        self.yields = _Line(
            self.yielding, self.yield_form, self.share, button(self.tr("Keep the &yield"))
        )
        self.powder, self.ten = field(self.tr("Powder"), 130), field(self.tr("ten weigh"), 90)
        self.balance = field(self.tr("balance shows 1 g"), 120)
        self.which = choice(
            self.tr("Which teaspoons"),
            {"metric": self.tr("metric, 5 ml"), "us": self.tr("US, 4.93 ml")},
        )
        self.spooned = _Line(
            self.powder, self.which, self.ten, self.balance, button(self.tr("Keep the &weight"))
        )
        self.usual = field(self.tr("alum 8 to 12 % on wool"), 240)
        self.ranged = _Line(self.usual, button(self.tr("Keep the &range")))
        self.units = choice(
            self.tr("Units that come first"),
            {"metric": self.tr("grams and litres"), "us": self.tr("ounces and US quarts")},
        )
        self.spoons = choice(
            self.tr("Teaspoons beside weights"),
            {"": self.tr("no spoons"), "metric": self.tr("metric teaspoons, 5 ml"),
             "us": self.tr("US teaspoons, 4.93 ml")},
        )  # fmt: skip
        self.own = told(faint=True)
        self.none = told(faint=True)
        choose(self.form, "dried")
        choose(self.asked_form, "dried")
        self._lots = QWidget()
        self._build()
        self._join()

    def _field(self, name: str, width: int) -> BathField:
        made = BathField(name, name)
        made.setFixedWidth(width)
        return made

    def _build(self) -> None:
        inner = QWidget()
        self._column = QVBoxLayout(inner)
        column = self._column
        column.setContentsMargins(0, 0, SPACE, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(head(self.tr("Lots, and what is left of them")))
        column.addWidget(self._lots)
        column.addWidget(self.none)
        column.addWidget(self.new)
        for words, parts in (
            (self.tr("Is it enough?"), (self.ask, self.answer)),
            (self.tr("Units and spoons"), (self._preferences(),)),
            (self.tr("Your own yields"), (self.yields,)),
            (self.tr("Ten level spoons, weighed together"), (self.spooned,)),
            (self.tr("Your own usual ranges"), (self.ranged,)),
        ):
            column.addSpacing(SPACE)
            column.addWidget(head(words))
            for part in parts:
                column.addWidget(part)
        column.addWidget(self.own)
        column.addStretch(1)
        row = QVBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(scrolled(inner))

    def _preferences(self) -> QWidget:
        box = QWidget()
        line = QHBoxLayout(box)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.units)
        line.addWidget(self.spoons)
        line.addStretch(1)
        return box

    def _join(self) -> None:
        bathing = self._bathing
        self.new.does(lambda: self._change(self.new, self.tr("put a lot into the store"),
            self._put_in))  # fmt: skip
        self.ask.does(self._ask)
        self.yields.does(lambda: self._change(self.yields, self.tr("keep a yield"),
            self._keep_yield))  # fmt: skip
        self.spooned.does(lambda: self._change(self.spooned, self.tr("keep ten spoons"),
            self._keep_spoons))  # fmt: skip
        self.ranged.does(lambda: self._change(self.ranged, self.tr("keep a range"),
            self._keep_range))  # fmt: skip
        self.units.activated.connect(self._choose_units)
        self.spoons.activated.connect(self._choose_spoons)
        bathing.listed.connect(self._show)

    @Slot()
    def _choose_units(self) -> None:
        units = self.units.currentData()
        self._bathing.change_library(
            self.tr("choose units"), lambda library: choose_units(library, units)
        )

    @Slot()
    def _choose_spoons(self) -> None:
        spoons = self.spoons.currentData()
        self._bathing.change_library(
            self.tr("choose spoons"), lambda library: choose_spoons(library, spoons)
        )

    def _put_in(self) -> Callable[[Library], object]:
        typed = TypedLot(
            self.name.text(), self.form.currentData(), self.weight.text(), self.origin.text()
        )
        return lambda library: put_in_store(library, typed)

    def _keep_yield(self) -> Callable[[Library], object]:
        name, form, share = self.yielding.text(), self.yield_form.currentData(), self.share.text()
        return lambda library: keep_yield(library, name, form, share)

    def _keep_spoons(self) -> Callable[[Library], object]:
        name, weight, which = self.powder.text(), self.ten.text(), self.which.currentData()
        balance = self.balance.text().strip() or "1 g"
        return lambda library: keep_ten_spoons(library, name, weight, which, balance)

    def _keep_range(self) -> Callable[[Library], object]:
        written = self.usual.text()
        return lambda library: keep_range(library, written)

    def _change(
        self, line: _Line, words: str, make: Callable[[], Callable[[Library], object]]
    ) -> None:
        job = make()

        def done(_made: object) -> None:
            line.answer(None)
            line.clear()

        self._bathing.change_or_answer(words, job, done, line.answer)

    @Slot()
    def _ask(self) -> None:
        own = self._bathing.own
        try:
            found = is_enough(
                own,
                self.asked.text(),
                self.asked_form.currentData(),
                self.ratio.text(),
                self.fibre.text(),
            )
        except DyeshadeError as error:
            tell(self.answer, [])
            self.ask.answer(error)
            return
        self.ask.answer(None)
        notices = [caution_words(one) for one in found.notices]
        tell(self.answer, [enough(found, own.units), *notices])

    @Slot()
    def _show(self) -> None:
        own = self._bathing.own
        choose(self.units, own.units)
        choose(self.spoons, own.spoons)
        tell(self.own, own_words(own), "\n")
        left = lots_left(own)
        shown = (left, own.units)
        if shown == self._shown:
            return
        self._shown = shown
        tell(self.none, [] if left else [self.tr("Nothing is in the store yet.")])
        self._column.removeWidget(self._lots)
        self._lots.hide()
        self._lots.deleteLater()
        self._lots = QWidget()
        self._column.insertWidget(1, self._lots)
        grid = QGridLayout(self._lots)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(SPACE)
        grid.setColumnStretch(4, 1)
        for row, one in enumerate(left):
            self._lot(grid, row, one)

    def _lot(self, grid: QGridLayout, row: int, one: Left) -> None:
        name = QLabel(left_words(one, self._bathing.own.units))
        amount = QLabel(weight_in_both(one.grams, self._bathing.own.units))
        amount.setProperty("head", True)
        for label in (name, amount):
            # In line with what is typed beside them.
            label.setContentsMargins(0, SPACE // 2, 0, 0)
        weight = self._field(self.tr("weighs now"), 100)
        weight.setAccessibleName(self.tr("What {} weighs now").format(one.lot.name))
        line = _Line(weight, QPushButton(self.tr("Weighed again")))

        def weighed() -> Callable[[Library], object]:
            text = weight.text()
            return lambda library: weigh_lot(library, one.lot.ident, text)

        line.does(lambda: self._change(line, self.tr("weigh a lot again"), weighed))
        grid.addWidget(name, row, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(amount, row, 1, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(line, row, 2)
        if one.notices:
            mind = told(wrong=True)
            tell(mind, [caution_words(notice) for notice in one.notices])
            grid.addWidget(mind, row, 4)
