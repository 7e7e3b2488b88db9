"""Beside the photo of a strip: which kind it is, what is marked, and the pH that it tells."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.window.bath_rows import BathField, choice
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import add, form, head, tell, told
from dyeshade.window.typed_fields import Answers
from dyeshade.window.wording import caution_words, refusal_words
from dyeshade.words.lights import LIGHTS
from dyeshade.words.strip_lines import not_logged_line, strip_line
from dyeshade.work.read_strip import StripFound
from dyeshade.work.strip_kinds import Rows, StripKind, parse_rows, rows_text

_WIDE = 340


class StripForm(QWidget):
    """Fields and answers; what is marked on the photo is not here.

    Signals
    -------
    edited()
        Another kind, other blocks or another light.
    """

    edited = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.kinds: tuple[StripKind, ...] = ()
        self.photo = QLabel()
        self.choose = QPushButton(self.tr("Choose a &photo…"))
        self.kind = QComboBox()
        self.kind.setAccessibleName(self.tr("Kind of strip"))
        self.name = BathField(self.tr("Name of this kind of strip"), self.tr("narrow strips"))
        self.blocks = BathField(self.tr("pH of its blocks"), "4 5 6 / 7 8 9")
        self.light = choice(
            self.tr("Light the photo was taken in"),
            {"": self.tr("light not named")} | dict(LIGHTS),
        )
        self.mark_scale = QPushButton(self.tr("Mark the &scale"))
        self.turn = QPushButton(self.tr("&Turn it"))
        self.turn.setToolTip(self.tr("The first block lies at another corner of the scale"))
        self.mark_pad = QPushButton(self.tr("Mark the p&ad"))
        for button in (self.mark_scale, self.mark_pad):
            button.setCheckable(True)
        self.hint, self.state = told(faint=True), told(faint=True)
        self.result, self.notes, self.trouble = QLabel(), told(), told(wrong=True)
        self.name_answers, self.block_answers = Answers(), Answers()
        self._build()
        self.kind.currentIndexChanged.connect(self._suit)
        self.blocks.textChanged.connect(self._typed)
        self.blocks.editingFinished.connect(self.check_blocks)
        self.name.editingFinished.connect(self.check_name)
        self.light.currentIndexChanged.connect(self.edited)
        self.show_kinds(())

    def _build(self) -> None:
        self.setFixedWidth(_WIDE)
        font = self.result.font()
        font.setPointSizeF(font.pointSizeF() * 1.25)
        self.result.setFont(font)
        self.result.setWordWrap(True)
        self.photo.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, SPACE // 2, 0)
        column.setSpacing(SPACE // 2)
        column.addWidget(self.photo)
        column.addWidget(self.choose)
        column.addSpacing(SPACE // 2)
        column.addWidget(head(self.tr("The strip")))
        self._fields: QFormLayout = form()
        add(self._fields, self.tr("&Kind"), self.kind)
        self._name = self._held(self.name, self.name_answers)
        add(self._fields, self.tr("Its &name"), self.name, self._name)
        add(self._fields, self.tr("&Blocks"), self.blocks,
            self._held(self.blocks, self.block_answers))  # fmt: skip
        add(self._fields, self.tr("&Light"), self.light)
        column.addLayout(self._fields)
        column.addWidget(self.hint)
        column.addSpacing(SPACE // 2)
        column.addWidget(head(self.tr("On the photo")))
        line = QHBoxLayout()
        line.addWidget(self.mark_scale, 1)
        line.addWidget(self.turn)
        column.addLayout(line)
        column.addWidget(self.mark_pad)
        column.addWidget(self.state)
        column.addSpacing(SPACE)
        for widget in (self.result, self.trouble, self.notes):
            column.addWidget(widget)
        column.addStretch(1)

    def _held(self, field: BathField, answers: Answers) -> QWidget:
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(field)
        column.addWidget(answers)
        return holder

    @property
    def chosen(self) -> StripKind | None:
        """The kept kind that is chosen; None for one that is not kept yet."""
        found = self.kind.currentData()
        return found if isinstance(found, StripKind) else None

    @property
    def rows(self) -> Rows | None:
        """The blocks' pH; None while they cannot be read."""
        try:
            return parse_rows(self.blocks.text())
        except DyeshadeError:
            return None

    def show_kinds(self, kinds: Sequence[StripKind]) -> None:
        """Offer kinds, the first of them chosen; what is typed of a new one stays."""
        self.kinds = tuple(kinds)
        self.kind.blockSignals(True)
        self.kind.clear()
        for one in kinds:
            self.kind.addItem(one.name, one)
        self.kind.addItem(self.tr("another kind"), None)
        self.kind.setCurrentIndex(0)
        self.kind.blockSignals(False)
        self._suit()

    @Slot()
    def _suit(self) -> None:
        chosen = self.chosen
        self._fields.setRowVisible(self._name, chosen is None)
        self.blocks.setReadOnly(chosen is not None)
        if chosen is not None:
            self.blocks.setText(rows_text(chosen.rows))
        if chosen is not None and chosen.colours is not None:
            hint = self.tr(
                "Its scale is known: mark the pad. If the scale lies in this photo, mark it too, "
                "and the pH is surer."
            )
        else:
            hint = self.tr(
                "Write the pH of the blocks as they are printed: a further row after “/”, “-” "
                "where a row has no block. Then mark the whole scale, and the pad."
            )
        tell(self.hint, [hint])
        self.block_answers.answer(self.blocks, "")
        self.edited.emit()

    @Slot()
    def _typed(self) -> None:
        if self.rows is not None:
            self.block_answers.answer(self.blocks, "")
        self.edited.emit()

    @Slot()
    def check_blocks(self) -> bool:
        """Whether the blocks' pH can be read; where not, that is answered beside them."""
        try:
            parse_rows(self.blocks.text())
        except DyeshadeError as error:
            if self.blocks.text().strip():
                self.block_answers.answer(self.blocks, refusal_words(error))
            return False
        self.block_answers.answer(self.blocks, "")
        return True

    @Slot()
    def check_name(self) -> bool:
        """Whether a new kind has a name of its own."""
        typed = " ".join(self.name.text().split()).casefold()
        wrong = ""
        if self.chosen is None and typed in {one.name.casefold() for one in self.kinds}:
            wrong = self.tr("That kind is kept already: choose it above, or find another name.")
        self.name_answers.answer(self.name, wrong)
        return not wrong

    def ask_name(self) -> None:
        """Say that a kind needs a name to be kept."""
        words = self.tr("Give this kind of strip a name, to know it again.")
        self.name_answers.answer(self.name, words)
        self.name.setFocus()

    def show_found(self, found: StripFound | DyeshadeError | None, busy: bool) -> None:
        """Say what was read."""
        tell(self.trouble, [])
        tell(self.notes, [])
        if busy:
            self.result.setText(self.tr("Reading it…"))
        elif found is None:
            self.result.setText("")
        elif isinstance(found, DyeshadeError):
            self.result.setText("")
            tell(self.trouble, [refusal_words(found)])
        else:
            self.result.setText(strip_line(found))
            why = not_logged_line(found)
            notes = [caution_words(one) for one in found.notices if one.code != "light_assumed"]
            if self.light.currentData() == "":
                # Where the light is chosen is said for another place of the window.
                notes.append(self.tr(
                    "The light was taken to be daylight from a window. If it was another, choose "
                    "it above."
                ))  # fmt: skip
            tell(self.notes, [why, *notes] if why else notes)

    def show_missing(self, photo: bool, scale: bool, pad: bool) -> None:
        """Say what is still to be done; each is whether it is there already."""
        known = self.chosen is not None and self.chosen.colours is not None
        words = ""
        if photo and self.rows is None:
            words = self.tr("The pH of the blocks is still to be written.")
        elif photo and not scale and not known:
            words = self.tr(
                "The scale is still to be marked: drag from its first block to its last."
            )
        elif photo and not pad:
            words = self.tr("The pad is still to be marked: drag within it, not up to its edge.")
        elif photo and scale:
            words = self.tr("The inner half of each block is read; its pH stands at it.")
        tell(self.state, [words] if words else [])
