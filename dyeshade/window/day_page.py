"""The dye day: steps with their times, what is under way, and the pieces that come out."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from PySide6.QtCore import QTimer, Slot
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from dyeshade.errors import DyeshadeError
from dyeshade.window.bath_rows import BathField, BathRow, BathRows, choice, choose
from dyeshade.window.bathing import Bathing
from dyeshade.window.field_answers import FieldAnswers
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import head, scrolled, tell, told
from dyeshade.window.typed_fields import Answers
from dyeshade.window.wording import refusal_words
from dyeshade.words.bath_room import out_words, step_times, timer_words
from dyeshade.words.dye_words import TREATMENTS, listed
from dyeshade.work.bath_typed import TypedStep
from dyeshade.work.dye_day import begun, ended, finish_bath, timers
from dyeshade.work.ph_typed import instrument_typed

_KIND, _TEMPERATURE, _MINUTES, _TIMES, _GO = 96, 84, 56, 136, 66


class _StepRow(BathRow):
    """A step with its button; when it was begun and ended is shown and not typed."""

    def __init__(self) -> None:
        self.treatment = choice(_StepRow.tr("What the pieces go through"), dict(TREATMENTS))
        choose(self.treatment, "bath")
        self.what = BathField(_StepRow.tr("What is done"), _StepRow.tr("simmer, not boil"))
        self.temperature = BathField(_StepRow.tr("Temperature"), "80 °C")
        self.minutes = BathField(_StepRow.tr("Minutes, planned"), "60")
        self.note = BathField(_StepRow.tr("Note"), _StepRow.tr("what to remember"))
        self.times = QLabel()
        self.go = QPushButton()
        self._step = TypedStep()
        self.named = {"temperature": self.temperature, "minutes": self.minutes}
        super().__init__(
            [
                (self.treatment, _KIND),
                (self.what, 0),
                (self.temperature, _TEMPERATURE),
                (self.minutes, _MINUTES),
                (self.note, 0),
                (self.times, _TIMES),
                (self.go, _GO),
            ]
        )
        self._show_times()

    @property
    def blank(self) -> bool:
        """Never: a treatment is always chosen."""
        return False

    def show_value(self, value: object) -> None:
        """Show a step."""
        assert isinstance(value, TypedStep)
        self._step = value
        choose(self.treatment, value.treatment)
        self.what.put(value.what)
        self.temperature.put(value.temperature)
        self.minutes.put(value.minutes)
        self.note.put(value.note)
        self._show_times()

    def value(self) -> TypedStep:
        """The step."""
        return replace(
            self._step,
            treatment=self.treatment.currentData(),
            what=self.what.text(),
            temperature=self.temperature.text(),
            minutes=self.minutes.text(),
            note=self.note.text(),
        )

    @property
    def under_way(self) -> bool:
        """Whether it was begun and is not over."""
        return self._step.started is not None and self._step.ended is None

    def _show_times(self) -> None:
        self.times.setText(step_times(self._step.started, self._step.ended))
        words = self.tr("Done") if self.under_way else self.tr("Begin")
        if self._step.ended is not None:
            words = self.tr("Again")
        self.go.setText(words)


class DayPage(QWidget):
    """Steps, timers and the end of a bath."""

    def __init__(self, bathing: Bathing) -> None:
        super().__init__()
        self._bathing = bathing
        self._showing = False
        self.steps = BathRows(
            [
                (self.tr("Treatment"), _KIND),
                (self.tr("What is done"), 0),
                (self.tr("Temperature"), _TEMPERATURE),
                (self.tr("Minutes"), _MINUTES),
                (self.tr("Note"), 0),
                (self.tr("Done"), _TIMES),
                ("", _GO),
            ],
            self._make_row,
            self.tr("Add a &step"),
        )
        self.answers = FieldAnswers({"steps": self.steps}, self)
        self.timers = told()
        font = self.timers.font()
        font.setPointSizeF(font.pointSizeF() * 1.5)
        self.timers.setFont(font)
        self.ph = BathField(self.tr("pH of the bath at its end"), self.tr("pH"))
        self.by = choice(
            self.tr("Read with"), {"strip": self.tr("with a strip"), "meter": self.tr("a meter")}
        )
        self.out = QPushButton(self.tr("The pieces are &out"))
        self.out.setProperty("main", True)
        self.said, self.answered = told(), Answers()
        self._tick = QTimer(self)
        self._tick.setInterval(1000)
        self._build()
        self._tick.timeout.connect(self._show_timers)
        self.steps.edited.connect(self._edited)
        self.out.clicked.connect(self._finish)
        self.ph.returnPressed.connect(self._finish)
        bathing.shown.connect(self._show)
        bathing.planned.connect(lambda: self.answers.show(bathing.plan.wrong))
        bathing.room_changed.connect(self._show_end)

    def _make_row(self) -> _StepRow:
        row = _StepRow()
        row.go.clicked.connect(lambda: self._go(row))
        return row

    def _build(self) -> None:
        inner = QWidget()
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(self.timers)
        column.addWidget(self.steps)
        hint = QLabel(
            self.tr(
                "Heat slowly, simmer rather than boil, about an hour (common practice, no source); "
                "some dyestuffs, and silk, want less. Beginning a step ends the one before."
            )
        )
        hint.setWordWrap(True)
        hint.setProperty("faint", True)
        column.addWidget(hint)
        column.addSpacing(SPACE)
        column.addWidget(head(self.tr("When the pieces come out")))
        line = QHBoxLayout()
        self.ph.setFixedWidth(64)
        label = QLabel(self.tr("&pH at the end"))
        label.setBuddy(self.ph)
        for widget in (label, self.ph, self.by, self.out):
            line.addWidget(widget)
        line.addStretch(1)
        column.addLayout(line)
        column.addWidget(self.answered)
        column.addWidget(self.said)
        column.addStretch(1)
        row = QVBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(scrolled(inner))

    @Slot()
    def _edited(self) -> None:
        if not self._showing:
            self._bathing.put(replace(self._bathing.typed, steps=self.steps.values()))

    @Slot()
    def _show(self) -> None:
        self._showing = True
        self.steps.show_values(self._bathing.typed.steps)
        self._showing = False
        self.answers.start_afresh()
        self._show_timers()

    def _go(self, row: _StepRow) -> None:
        """Begin a step or end it, and keep that at once: the timer must outlive the window."""
        place = self.steps.rows.index(row)
        typed = self._bathing.typed
        now = datetime.now()
        typed = ended(typed, place, now) if row.under_way else begun(typed, place, now)
        self._bathing.put(typed)
        self._show()
        self._bathing.ensure_kept(lambda _bath_id: None)

    @Slot()
    def _show_timers(self) -> None:
        now = datetime.now()
        steps = self._bathing.typed.steps
        found = timers(steps, now)
        lines = []
        for timer in found:
            step = steps[timer.place]
            name = step.what or TREATMENTS[step.treatment]
            lines.append(f"{name}: {timer_words(timer.left_s, timer.ends)}")
        tell(self.timers, lines, "\n")
        # Nothing ticks where nothing is under way or nobody looks.
        if found and self.isVisible():
            self._tick.start()
        else:
            self._tick.stop()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Go on showing the timers."""
        super().showEvent(event)
        self._show_timers()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802
        """Stop ticking; the time goes on by itself."""
        super().hideEvent(event)
        self._tick.stop()

    @Slot()
    def _show_end(self) -> None:
        bathing = self._bathing
        for widget in (self.ph, self.by, self.out):
            widget.setEnabled(not bathing.finished)
        tell(self.said, out_words(listed(list(bathing.pieces_out)), bathing.finished))

    @Slot()
    def _finish(self) -> None:
        ph, by, error = None, "", None
        if self.ph.text().strip():
            try:
                ph, instrument, _ = instrument_typed(self.ph.text(), self.by.currentData(), "", "")
            except DyeshadeError as trouble:
                self.answered.answer(self.ph, refusal_words(trouble))
                self.ph.setFocus()
                self.ph.selectAll()
                return
            by, error = instrument.name, instrument.error
        self.answered.answer(self.ph, "")
        now = datetime.now()
        typed = self._bathing.typed
        for timer in timers(typed.steps, now):
            typed = ended(typed, timer.place, now)
        self._bathing.put(typed)
        self._show()
        self._bathing.change(
            self.tr("take the pieces out"),
            lambda library, bath_id: finish_bath(library, bath_id, now, ph, by, error),
            self.ph.clear,
        )
