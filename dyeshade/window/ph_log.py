"""Logging on the way to a pH: what was read, what was added, a check of the instrument."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QPushButton, QWidget

from dyeshade.bath.reach.log import METER, STRIP, Instrument
from dyeshade.bath.reach.measures import Measure
from dyeshade.bath.reach.propose import ADD, Advice
from dyeshade.errors import DyeshadeError
from dyeshade.window.bath_rows import BathField, choice
from dyeshade.window.bathing import Bathing
from dyeshade.window.last_wish import LastWish
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import tell, told
from dyeshade.window.strip_dialog import StripDialog
from dyeshade.window.typed_fields import Answers
from dyeshade.window.wording import refusal_words
from dyeshade.words.bath_ph import additive_name
from dyeshade.words.bath_room import amount_asked, amount_proposed
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.log_ph import log_addition, log_reading
from dyeshade.work.ph_typed import amount_typed, instrument_typed, read_ph_typed
from dyeshade.work.read_strip import look_at_strip


class PhLogPanel(QWidget):
    """Two lines: a pH that was read, and something that was added; Enter logs each."""

    def __init__(self, bathing: Bathing) -> None:
        super().__init__()
        self._bathing = bathing
        self._measures: tuple[Measure, ...] = ()
        self._advice: Advice | None = None
        self._chosen = ""
        self.ph = BathField(self.tr("pH that was read"), self.tr("pH"))
        self.by = choice(
            self.tr("Read with"), {"strip": self.tr("with a strip"), "meter": self.tr("a meter")}
        )
        self.error = BathField(self.tr("May be off by"))
        self.known = BathField(
            self.tr("Known pH, where the instrument was checked"),
            self.tr("known pH, if that was a check in a buffer"),
        )
        self.read = QPushButton(self.tr("Log the &reading"))
        self.photo = QPushButton(self.tr("By a photo…"))
        self.photo.setToolTip(self.tr("Read a strip in a photo, beside its printed scale"))
        self.strips = LastWish("strips", lambda strip, warm: look_at_strip(strip, warm), self)
        self.what = QComboBox()
        self.what.setAccessibleName(self.tr("What was added"))
        self.what.setMinimumContentsLength(9)
        self.what.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.amount = BathField(self.tr("How much was added"), self.tr("amount"))
        self.added = QPushButton(self.tr("Log the add&ition"))
        self.answers = Answers()
        self.now = told(faint=True)
        self._build()
        self.by.currentIndexChanged.connect(self._suit)
        self.what.currentIndexChanged.connect(self._ask_amount)
        self.what.textActivated.connect(self._choose)
        self.read.clicked.connect(self._log_reading)
        self.photo.clicked.connect(self.read_photo)
        self.ph.returnPressed.connect(self._log_reading)
        self.known.returnPressed.connect(self._log_reading)
        self.added.clicked.connect(self._log_addition)
        self.amount.returnPressed.connect(self._log_addition)
        self._suit()

    def _build(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, SPACE // 2, 0, SPACE // 2)
        grid.setHorizontalSpacing(SPACE // 2)
        grid.setVerticalSpacing(SPACE // 2)
        off = QLabel(self.tr("±"))
        off.setBuddy(self.error)
        self.ph.setFixedWidth(64)
        self.error.setFixedWidth(44)
        self.amount.setFixedWidth(64)
        self.known.setToolTip(
            self.tr("The pH that a standard buffer has, where the instrument was tried in one.")
        )
        grid.addWidget(self.now, 0, 0, 1, 6)
        for column, widget in enumerate((self.ph, self.by, off, self.error)):
            grid.addWidget(widget, 1, column)
        grid.addWidget(self.read, 1, 5)
        grid.addWidget(self.known, 2, 0, 1, 5)
        grid.addWidget(self.photo, 2, 5)
        grid.addWidget(self.amount, 3, 0)
        grid.addWidget(self.what, 3, 1, 1, 4)
        grid.addWidget(self.added, 3, 5)
        grid.addWidget(self.answers, 4, 0, 1, 6)
        grid.setColumnStretch(4, 1)

    @property
    def stops(self) -> list[QWidget]:
        """Where Tab stops, in its order."""
        return [
            self.ph, self.by, self.error, self.read, self.known, self.photo,
            self.amount, self.what, self.added,
        ]  # fmt: skip

    def show_have(self, typed: TypedBath) -> None:
        """Offer what there is."""
        measures = read_ph_typed(typed, self._bathing.own.at_hand).measures
        if measures == self._measures:
            return
        self._measures = measures
        self.what.blockSignals(True)
        self.what.clear()
        for one in measures:
            self.what.addItem(additive_name(one.additive.name))
        # While its line cannot be read, something is not offered; it stays what was chosen.
        self.what.setCurrentIndex(max(self.what.findText(self._chosen), 0))
        self.what.blockSignals(False)
        self.added.setEnabled(bool(measures))
        self._ask_amount()

    def propose(self, advice: Advice | None) -> None:
        """Have the proposed addition ready to be logged; nothing that was typed is lost."""
        before = "" if self._advice is None else amount_proposed(self._advice)
        self._advice = advice
        if advice is None:
            tell(self.now, [])
        if self.amount.text() in ("", before):
            self.amount.put("" if advice is None else amount_proposed(advice))
        if advice is not None and advice.action == ADD and advice.addition is not None:
            self._chosen = additive_name(advice.addition.additive.name)
            self.what.setCurrentText(self._chosen)

    def show_now(self, lines: list[str]) -> None:
        """What the bath is believed to be."""
        tell(self.now, lines, "\n")

    @Slot(str)
    def _choose(self, name: str) -> None:
        self._chosen = name

    @Slot()
    def _suit(self) -> None:
        usual = METER if self.by.currentData() == "meter" else STRIP
        self.error.put(f"{usual.error:g}")

    @Slot()
    def _ask_amount(self) -> None:
        place = self.what.currentIndex()
        if 0 <= place < len(self._measures):
            self.amount.setPlaceholderText(amount_asked(self._measures[place]))

    @Slot()
    def _log_reading(self) -> None:
        found = self._read(self._reading)
        if found is None:
            return
        ph, instrument, known = found

        def logged() -> None:
            self.ph.clear()
            self.known.clear()
            self.ph.setFocus()

        self._bathing.change(
            self.tr("log a pH"),
            lambda library, bath_id: log_reading(library, bath_id, ph, instrument, known),
            logged,
            self.tr("Logged."),
        )

    @Slot()
    def read_photo(self) -> None:
        """Read a strip in a photo; the bath is kept first, since the log is its."""

        def begin(_bath_id: int) -> None:
            dialog = StripDialog(self._bathing, self.strips, self.window())
            dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            dialog.open()

        self._bathing.ensure_kept(begin)

    def _reading(self) -> tuple[float, Instrument, float | None]:
        return instrument_typed(
            self.ph.text(), self.by.currentData(), self.error.text(), self.known.text()
        )

    @Slot()
    def _log_addition(self) -> None:
        place = self.what.currentIndex()
        if not 0 <= place < len(self._measures):
            return
        measure = self._measures[place]
        amount = self._read(lambda: amount_typed(measure, self.amount.text()), self.amount)
        if amount is None:
            return
        words = additive_name(measure.additive.name)

        def logged() -> None:
            self.amount.clear()
            self.ph.setFocus()

        self._bathing.change(
            self.tr("log an addition"),
            lambda library, bath_id: log_addition(
                library, bath_id, measure.additive, amount, measure.measured, words
            ),
            logged,
            self.tr("Logged. Stir, wait, and read it."),
        )

    def _read(self, parse, field: BathField | None = None):  # type: ignore[no-untyped-def]
        """What was typed; where it cannot be meant, it is answered below and stays."""
        field = field or self.ph
        try:
            value = parse()
        except DyeshadeError as error:
            self.answers.answer(field, refusal_words(error))
            field.setFocus()
            field.selectAll()
            return None
        self.answers.answer(field, "")
        return value
