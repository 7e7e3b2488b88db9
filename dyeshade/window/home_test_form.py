"""The form that sets up a home fastness test: what is tested, how, and when it is photographed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from html import escape

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from dyeshade.library.trial_records import HOME_TESTS
from dyeshade.window.form_dialog import FormDialog, Keep
from dyeshade.window.look import SPACE, resize_on_screen
from dyeshade.window.page_parts import head, tell, told
from dyeshade.window.typed_fields import MomentField, NumberField, TypedField, WordsField
from dyeshade.words.home_test_typed import days_typed, read_days
from dyeshade.words.home_test_words import CAUTIONS, HOME_TEST, ONE_PHOTO, SET_UP, TESTS, plan_words
from dyeshade.words.typed import MistypedError
from dyeshade.work.home_tests import KINDS, SaidTest
from dyeshade.work.home_tests_kept import usual_days

_BLUE_WOOLS = range(1, 9)


class DaysField(TypedField):
    """Days after the beginning, as 1, 2, 4, 8."""

    def read(self) -> tuple[int, ...]:
        """The days. Raises as `TypedField.read`."""
        value = super().read()
        assert isinstance(value, tuple)
        return value

    def _read(self, text: str) -> object:
        return read_days(text, self.what)

    def _typed(self, value: object) -> str:
        assert isinstance(value, tuple)
        return days_typed(value)


class HomeTestForm(FormDialog):
    """Takes a home test down before it begins.

    Parameters
    ----------
    piece : str
        The code to begin with, or "".
    kind : str or None
        The test to begin with, one of `dyeshade.library.trial_records.HOME_TESTS`.
    codes : sequence of str
        Of all pieces, to complete what is typed.
    keep : callable or None
    """

    def __init__(
        self,
        piece: str,
        kind: str | None,
        codes: Sequence[str],
        keep: Keep | None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(HomeTestForm.tr("Set up a home test"), keep, parent)
        resize_on_screen(self, 680, 700)
        self.keeps.setText(self.tr("&Begin the test"))
        self.piece = WordsField(self.tr("Piece"), self.tr("The piece"), True, codes)
        self.piece.setText(piece)
        self.kind = QComboBox()
        for one in HOME_TESTS:
            self.kind.addItem(TESTS[one], one)
        self.steps, self.cautions, self.plan = QLabel(), told(wrong=True), told(faint=True)
        self.ph = NumberField(self.tr("pH of the dip"), self.tr("The pH of the dip"), 0.0, 14.0)
        self.substance = WordsField(self.tr("With what"))
        self.white = QCheckBox(self.tr("Undyed &white cloth touches it, to see whether it stains"))
        self.wools = {number: QCheckBox(str(number)) for number in _BLUE_WOOLS}
        self.begun = MomentField(self.tr("Begun"), self.tr("The beginning"), needed=True)
        self.begun.show_value(datetime.now().replace(second=0, microsecond=0))
        self.days = DaysField(self.tr("Photos on days"), self.tr("The days of the photos"))
        self.note = WordsField(self.tr("Note"))
        self._build()
        self.kind.currentIndexChanged.connect(self._other_kind)
        self.days.textChanged.connect(self._tell_plan)
        self.begun.textChanged.connect(self._tell_plan)
        self.kind.setCurrentIndex(max(self.kind.findData(kind), 0))
        self._other_kind()
        (self.piece if not piece else self.kind).setFocus()

    @property
    def chosen_kind(self) -> str:
        """The test that is chosen."""
        return str(self.kind.currentData())

    def check(self) -> list[TypedField]:
        """Fields that cannot be read; a dip needs its pH."""
        mistaken = super().check()
        if not mistaken and self._is_dip and self.ph.read() is None:
            self.answer(self.ph, self.tr("The pH of the dip is needed."))
            mistaken.append(self.ph)
        return mistaken

    def read(self) -> SaidTest:
        """What was said."""
        begun = self.begun.read()
        assert begun is not None
        light = self.chosen_kind == "light"
        return SaidTest(
            self.piece.read(),
            self.chosen_kind,
            begun,
            self.ph.read() if self._is_dip else None,
            self.substance.read(),
            self.white.isChecked(),
            tuple(n for n, box in self.wools.items() if light and box.isChecked()),
            self.days.read(),
            self.note.read(),
        )

    @property
    def _is_dip(self) -> bool:
        return KINDS.get(self.chosen_kind) == "dip"

    def _build(self) -> None:
        column = QVBoxLayout(self.body)
        column.setContentsMargins(SPACE // 2, 0, SPACE // 2, 0)
        column.setSpacing(SPACE // 2)
        first, self._ways, third = self.new_form(), self.new_form(), self.new_form()
        column.addWidget(head(self.tr("1  What is tested")))
        self.add(first, self.tr("&Piece"), self.piece)
        self.add(first, self.tr("&Test"), self.kind)
        column.addLayout(first)
        column.addSpacing(SPACE // 2)
        column.addWidget(head(self.tr("2  How it is done")))
        column.addWidget(self._card())
        self.add(self._ways, self.tr("p&H of the dip"), self.ph)
        self.add(self._ways, self.tr("With wh&at"), self.substance)
        self._ways.addRow(self.white)
        self._wools_row = QWidget()
        line = QHBoxLayout(self._wools_row)
        line.setContentsMargins(0, 0, 0, 0)
        for number, box in self.wools.items():
            box.setAccessibleName(self.tr("Blue wool {}").format(number))
            line.addWidget(box)
        line.addStretch(1)
        self._ways.addRow(QLabel(self.tr("Blue wools beside it")), self._wools_row)
        column.addLayout(self._ways)
        column.addSpacing(SPACE // 2)
        column.addWidget(head(self.tr("3  When it is photographed")))
        self.add(third, self.tr("Be&gun"), self.begun)
        self.add(third, self.tr("Photos on &days"), self.days)
        self.add(third, self.tr("&Note"), self.note)
        column.addLayout(third)
        column.addWidget(self.plan)
        for words in (ONE_PHOTO, HOME_TEST):
            label = told(faint=True)
            tell(label, [words])
            column.addWidget(label)
        column.addStretch(1)

    def _card(self) -> QFrame:
        card = QFrame()
        card.setProperty("card", True)
        inner = QVBoxLayout(card)
        inner.setContentsMargins(SPACE, SPACE, SPACE, SPACE)
        inner.setSpacing(SPACE)
        self.steps.setWordWrap(True)
        self.steps.setAccessibleName(self.tr("How the test is done"))
        self.cautions.setAccessibleName(self.tr("What to mind"))
        inner.addWidget(self.steps)
        inner.addWidget(self.cautions)
        return card

    def _other_kind(self) -> None:
        kind = self.chosen_kind
        steps = "".join(f"<li>{escape(one)}</li>" for one in SET_UP[kind])
        self.steps.setText(f'<ol style="margin: 0 0 0 -18px">{steps}</ol>')
        tell(self.cautions, CAUTIONS[kind], "\n")
        for field, shown in (
            (self.ph, self._is_dip),
            (self.substance, kind in ("wash", "acid_dip", "alkaline_dip")),
        ):
            if not shown:
                field.clear()
                self.answer(field, "")
            self._ways.setRowVisible(field.parentWidget(), shown)
        self._ways.setRowVisible(self._wools_row, kind == "light")
        self._ways.setRowVisible(self.white, kind in ("wash", "rubbing"))
        self.white.setChecked(kind == "rubbing")
        self.substance.setPlaceholderText(
            {
                "wash": self.tr("as olive soap"),
                "acid_dip": self.tr("as white vinegar"),
                "alkaline_dip": self.tr("as washing soda"),
            }.get(kind, "")
        )
        self.days.setPlaceholderText(days_typed(usual_days(kind)))
        self._tell_plan()

    def _tell_plan(self) -> None:
        try:
            begun, days = self.begun.read(), self.days.read() or usual_days(self.chosen_kind)
        except MistypedError:
            begun = None
        tell(self.plan, [] if begun is None else [plan_words(begun, days)])
