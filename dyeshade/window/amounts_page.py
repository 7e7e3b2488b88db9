"""What goes into the pot, typed on the left, and what is weighed out for it, on the right."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from dyeshade.bath.pots import MATERIALS
from dyeshade.window.amounts_answer import AmountsAnswer
from dyeshade.window.bath_rows import (
    CODE,
    FORM,
    OTHER,
    PER_CENT,
    SHARE,
    WEIGHT,
    BathField,
    BathRows,
    DyeRow,
    PieceRow,
    SubstanceRow,
    beside,
    choice,
    choose,
    with_known_piece,
)
from dyeshade.window.bathing import Bathing
from dyeshade.window.field_answers import FieldAnswers
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import head, order_tabs, scrolled
from dyeshade.work.known_pieces import known_piece, other_share, other_units, other_volume


class AmountsPage(QWidget):
    """Pieces, dyestuffs, mordants, water and pot; the amounts; what to mind."""

    def __init__(self, bathing: Bathing) -> None:
        super().__init__()
        self._bathing = bathing
        self._showing = False
        known = lambda: bathing.known  # noqa: E731 - short, and asked anew for each line
        self.pieces = BathRows(
            [
                (self.tr("Piece"), CODE),
                (self.tr("Fibre"), 0),
                (self.tr("Dry weight"), WEIGHT),
                ("", OTHER),
            ],
            lambda: PieceRow([piece.code for piece in bathing.own.pieces]),
            self.tr("Add a &piece"),
        )
        self.dyes = BathRows(
            [
                (self.tr("Dyestuff"), 0),
                (self.tr("Form"), FORM),
                (self.tr("To the fibre"), SHARE),
                ("", OTHER),
            ],
            lambda: DyeRow(known().dyestuffs),
            self.tr("Add a &dyestuff"),
        )
        self.substances = BathRows(
            [
                (self.tr("Mordant or assistant"), 0),
                (self.tr("% wof"), PER_CENT),
                ("", OTHER),
                (self.tr("On"), FORM),
            ],
            lambda: SubstanceRow(known().mordants),
            self.tr("Add a &mordant or assistant"),
        )
        self.answers = FieldAnswers(
            {"pieces": self.pieces, "dyes": self.dyes, "substances": self.substances}, self
        )
        self.code = BathField(self.tr("Id of the bath"))
        self.left = BathField(
            self.tr("What is left of the dyestuff, as you judge it"), self.tr("40 %")
        )
        self.liquor = BathField(self.tr("Liquor ratio, water to fibre"), "30:1")
        self.pot = BathField(self.tr("What a pot holds"), self.tr("10 L, 3 US gal"))
        self.pot_other = beside()
        self.material = choice(
            self.tr("What the pot is made of"),
            {"": self.tr("of what?")} | {one: one for one in MATERIALS},
        )
        self.loose = QCheckBox(self.tr("Loose fibre, to be shared out over pots evenly"))
        self.foraged = QCheckBox(self.tr("A dyestuff was gathered, not bought"))
        self.note = BathField(self.tr("Note"))
        self.answer = AmountsAnswer(self.answers)
        self.weigh = self.answer.weigh
        self._build()
        self._join()

    def _build(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2 * SPACE)
        row.addWidget(scrolled(self._build_form()), 5)
        row.addWidget(scrolled(self.answer), 6)

    def _build_form(self) -> QWidget:
        side = QWidget()
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.setSpacing(SPACE // 2)
        self._top = QFormLayout()
        self._top.setHorizontalSpacing(SPACE)
        self.exhausts = QLabel()
        self.exhausts.setWordWrap(True)
        self._left_holder = self.answers.holder("left", self.left)
        for says, field, holder in (
            (self.tr("&Id"), self.code, self.answers.holder("code", self.code)),
            (self.tr("&Left of the dyestuff"), self.left, self._left_holder),
        ):
            label = QLabel(says)
            label.setBuddy(field)
            self._top.addRow(label, holder)
        column.addWidget(self.exhausts)
        column.addLayout(self._top)
        for words_above, rows in (
            (self.tr("In the pot"), self.pieces),
            (self.tr("Dyestuffs"), self.dyes),
            (self.tr("Mordants and assistants"), self.substances),
        ):
            column.addSpacing(SPACE // 2)
            column.addWidget(head(words_above))
            column.addWidget(rows)
        column.addSpacing(SPACE // 2)
        column.addWidget(head(self.tr("Water and pot")))
        form = QFormLayout()
        form.setHorizontalSpacing(SPACE)
        pot = QWidget()
        line = QHBoxLayout(pot)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.answers.holder("pot", self.pot), 1)
        line.addWidget(self.pot_other)
        line.addWidget(self.material, 0, Qt.AlignmentFlag.AlignTop)
        for says, field, holder in (
            (self.tr("Li&quor ratio"), self.liquor, self.answers.holder("liquor", self.liquor)),
            (self.tr("Po&t"), self.pot, pot),
            (self.tr("&Note"), self.note, self.note),
        ):
            label = QLabel(says)
            label.setBuddy(field)
            form.addRow(label, holder)
        column.addLayout(form)
        column.addWidget(self.loose)
        column.addWidget(self.foraged)
        column.addStretch(1)
        return side

    def _join(self) -> None:
        for field in (self.code, self.left, self.liquor, self.pot, self.note):
            field.textChanged.connect(self._edited)
        for rows in (self.pieces, self.dyes, self.substances):
            rows.edited.connect(self._edited)
        self.pieces.left.connect(self._fill_in)
        self.weigh.edited.connect(self._edited)
        self.material.currentIndexChanged.connect(self._edited)
        self.loose.toggled.connect(self._edited)
        self.foraged.toggled.connect(self._edited)
        self._bathing.shown.connect(self._show)
        self._bathing.planned.connect(self._show_plan)

    @Slot()
    def _edited(self) -> None:
        if self._showing:
            return
        taken = dict(self._bathing.typed.taken)
        for key in self.weigh.fields:
            taken.pop(key, None)
        taken |= self.weigh.taken()
        self._bathing.put(
            replace(
                self._bathing.typed,
                code=self.code.text(),
                left=self.left.text(),
                pieces=self.pieces.values(),
                dyes=self.dyes.values(),
                substances=self.substances.values(),
                liquor=self.liquor.text(),
                pot=self.pot.text(),
                material=self.material.currentData(),
                loose=self.loose.isChecked(),
                foraged=self.foraged.isChecked(),
                taken=tuple(taken.items()),
                note=self.note.text(),
            )
        )

    @Slot()
    def _show(self) -> None:
        typed = self._bathing.typed
        self._showing = True
        self.code.put(typed.code)
        self.left.put(typed.left)
        self.pieces.show_values(typed.pieces)
        self.dyes.show_values(typed.dyes)
        self.substances.show_values(typed.substances)
        self.liquor.put(typed.liquor)
        self.pot.put(typed.pot)
        self.note.put(typed.note)
        choose(self.material, typed.material)
        self.loose.setChecked(typed.loose)
        self.foraged.setChecked(typed.foraged)
        self._showing = False
        self._top.setRowVisible(self._left_holder, bool(typed.exhaust_of))
        self.exhausts.setVisible(bool(typed.exhaust_of))
        self.exhausts.setText(
            self.tr("An exhaust bath: in the liquor of {}.").format(typed.exhaust_of)
        )
        self.answers.start_afresh()

    @Slot()
    def _show_plan(self) -> None:
        bathing = self._bathing
        plan = bathing.plan
        self._showing = True
        self.answer.show_plan(plan, bathing.own, dict(bathing.typed.taken))
        self._showing = False
        for row in self.pieces.rows:
            assert isinstance(row, PieceRow)
            row.other.setText(other_units(row.weight.text()))
        for row in self.dyes.rows:
            assert isinstance(row, DyeRow)
            row.other.setText(other_share(row.ratio.text(), "ratio"))
        for row in self.substances.rows:
            assert isinstance(row, SubstanceRow)
            row.other.setText(other_share(row.share.text(), "percent"))
        self.pot_other.setText(other_volume(self.pot.text()))
        self.answers.show(plan.wrong)
        self._order_tabs()

    def _order_tabs(self) -> None:
        order_tabs(
            self.code,
            self.left,
            *self.pieces.stops,
            *self.dyes.stops,
            *self.substances.stops,
            self.liquor,
            self.pot,
            self.material,
            self.note,
            self.loose,
            self.foraged,
            *self.weigh.fields.values(),
        )

    @Slot(object)
    def _fill_in(self, field: BathField) -> None:
        """A piece that the library knows brings its fibre and weight along."""
        for row in self.pieces.rows:
            assert isinstance(row, PieceRow)
            if row.code is field:
                found = known_piece(self._bathing.own, row.code.text())
                if found is not None:
                    row.show_value(with_known_piece(row.value(), *found))
