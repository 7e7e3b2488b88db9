"""Forms for commissions: what is agreed on, and which dyeing is judged by it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QComboBox, QLabel, QVBoxLayout, QWidget

from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.window.colour_field import ColourField
from dyeshade.window.compare_fields import PieceBox, plain_box
from dyeshade.window.form_dialog import FormDialog, Keep
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.look import SPACE
from dyeshade.window.one_question import OneQuestion
from dyeshade.window.question_page import fill_box
from dyeshade.window.typed_fields import DayField, NumberField, TypedField, WordsField
from dyeshade.words.commission_answer import note_with
from dyeshade.words.commission_words import agreed_words
from dyeshade.words.figure_words import short_reading_words
from dyeshade.words.wanted_words import how_sure_words
from dyeshade.work.commissions import CommissionKept, SaidCommission
from dyeshade.work.compare_choices import CompareChoices
from dyeshade.work.home_tests_kept import readings_of_piece
from dyeshade.work.pick_shade import PickedShade


class CommissionDialog(FormDialog):
    """What is agreed on: a new commission, or one that is put right.

    Parameters
    ----------
    choices : CompareChoices
    kept : CommissionKept or None
        The one that is put right.
    """

    def __init__(
        self,
        choices: CompareChoices,
        kept: CommissionKept | None,
        parent: QWidget,
        keep: Keep | None = None,
    ) -> None:
        new = CommissionDialog.tr("A new commission")
        title = new if kept is None else CommissionDialog.tr("Put {} right")
        super().__init__(title.format("" if kept is None else kept.commission.code), keep, parent)
        self._kept = kept
        self.says = QLabel()
        self.shade = ColourField(self.tr("Agreed shade"))
        self.shade.show_pieces(choices)
        self.tolerance = NumberField(
            self.tr("Tolerance in ΔE00"), self.tr("The tolerance"), above=0.0, most=100.0
        )
        self.what = WordsField(self.tr("What is to be dyed"))
        self.what.setPlaceholderText(self.tr("as shawl, 3 skeins"))
        self.for_whom = WordsField(self.tr("For whom"))
        self.due = DayField(self.tr("When it is due"), self.tr("The day"))
        self.weight = NumberField(
            self.tr("Dry weight of the fibre in grams"),
            self.tr("The weight"),
            above=0.0,
            unit="g",
        )
        self.note = WordsField(self.tr("Note"))
        self.code = WordsField(self.tr("Its id"))
        self.code.setPlaceholderText(self.tr("the next free one"))
        self._build()
        self._show(kept)
        self.resize(600, 430)

    def _build(self) -> None:
        form = self.new_form()
        self.add(form, self.tr("Agreed &shade"), self.shade)
        self.says.setWordWrap(True)
        self.says.setProperty("faint", True)
        form.addRow("", self.says)
        self.shade.chosen.connect(self._say)
        self._say()
        self.add(form, self.tr("&Tolerance in ΔE00"), self.tolerance)
        self.add(form, self.tr("&What"), self.what)
        self.add(form, self.tr("&For whom"), self.for_whom)
        self.add(form, self.tr("&Due on"), self.due)
        self.add(form, self.tr("&Grams of fibre"), self.weight)
        self.add(form, self.tr("&Note"), self.note)
        self.add(form, self.tr("&Id"), self.code)
        column = QVBoxLayout(self.body)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.addLayout(form)
        column.addStretch(1)

    def _say(self) -> None:
        """What the shade that is meant now is worth."""
        shade = self.shade.wanted
        if isinstance(shade, PickedShade):
            told = self.tr(
                "{} Save that sample as a piece first, and dyeings are judged more surely; else "
                "the shade is kept as numbers with that uncertainty."
            ).format(how_sure_words(shade))
        elif self._kept is not None and not shade:
            told = self.tr("{}. Leave the line empty where that stays.").format(
                agreed_words(self._kept)
            )
        else:
            told = self.tr(
                "A piece of the library is surest: what the camera does to it, it does to the "
                "dyeing too, so that it cancels. Numbers are taken as exact."
            )
        self.says.setText(told)

    def _show(self, kept: CommissionKept | None) -> None:
        if kept is None:
            self.tolerance.show_value(2.0)
            return
        one = kept.commission
        self.tolerance.show_value(one.tolerance)
        self.what.show_value(one.what)
        self.for_whom.show_value(one.for_whom)
        self.due.show_value(one.due)
        self.weight.show_value(one.weight_g)
        self.note.show_value(one.note)
        self.code.show_value(one.code)

    def check(self) -> list[TypedField]:
        """Fields that cannot be read; they are answered."""
        mistaken = super().check()
        if self._kept is None and not self.shade.words:
            self.trouble.setText(self.tr("Give the shade that was agreed on."))
            self.trouble.show()
            mistaken.insert(0, self.shade.field)
        if self.tolerance not in mistaken and self.tolerance.read() is None:
            self.answer(self.tolerance, self.tr("The tolerance is needed."))
            mistaken.append(self.tolerance)
        return mistaken

    def read(self) -> SaidCommission:
        """What was said; called after `check`."""
        tolerance = self.tolerance.read()
        assert tolerance is not None
        shade = self.shade.wanted
        return SaidCommission(
            shade,
            tolerance,
            self.code.read(),
            self.what.read(),
            self.for_whom.read(),
            self.due.read(),
            self.weight.read(),
            note_with(self.note.read(), shade),
        )


class JudgeDialog(FormDialog):
    """Which piece was dyed for a commission, and by which of its readings it is judged.

    What is said is the piece's code and the id of the reading, None for the latest dry one.
    """

    def __init__(
        self,
        choices: CompareChoices,
        kept: CommissionKept,
        desk: LibraryDesk,
        parent: QWidget,
        keep: Keep | None = None,
    ) -> None:
        super().__init__(
            JudgeDialog.tr("Judge a dyeing by {}").format(kept.commission.code), keep, parent
        )
        self.piece = PieceBox(self.tr("Piece that was dyed for it"))
        self.piece.show_pieces(choices)
        self.reading = plain_box(QComboBox(), 22)
        self.reading.setAccessibleName(self.tr("Which of its readings"))
        self._readings = OneQuestion(desk, self._take, self, lambda _error: None)
        self._desk = desk
        words = QLabel(agreed_words(kept))
        words.setWordWrap(True)
        form = self.new_form()
        self.add(form, self.tr("&Piece that was dyed for it"), self.piece)
        self.add(form, self.tr("&Reading"), self.reading)
        column = QVBoxLayout(self.body)
        column.setContentsMargins(0, 0, SPACE, 0)
        column.setSpacing(SPACE)
        column.addWidget(words)
        column.addLayout(form)
        column.addStretch(1)
        self.keeps.setText(self.tr("&Judge"))
        self.piece.chosen.connect(self._other_piece)
        self._take(())
        self.resize(520, 260)

    def check(self) -> list[TypedField]:
        """Nothing is typed into fields here; a piece is needed."""
        if not self.piece.code:
            self.trouble.setText(self.tr("Choose the piece."))
            self.trouble.show()
        return []

    def accept(self) -> None:
        """Judge it, where a piece was chosen."""
        self.check()
        if self.piece.code:
            super().accept()

    def read(self) -> tuple[str, int | None]:
        """The piece and its reading."""
        return self.piece.code, self.reading.currentData()

    def _other_piece(self) -> None:
        code = self.piece.code
        self.trouble.hide()
        self.reading.clear()
        self._take(())

        def ask(library: Library) -> Sequence[Reading]:
            return readings_of_piece(library, code)

        if code:
            self._readings.ask(ask)

    def _take(self, readings: Sequence[Reading]) -> None:
        options: list[tuple[str, object]] = [(self.tr("the latest dry one"), None)]
        options += [(short_reading_words(one), one.id) for one in readings]
        fill_box(self.reading, options, None)
        self.reading.setEnabled(len(options) > 1)
