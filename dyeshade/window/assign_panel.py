"""The strip beneath the photo: which piece a sample is, the bath it was in, its state and date."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from typing import TypeVar

from PySide6.QtCore import QDateTime, QStringListModel, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QDateTimeEdit,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from dyeshade.library.shade_records import STATES
from dyeshade.window.assigning import Assigning
from dyeshade.window.completing import Completer
from dyeshade.window.look import SPACE
from dyeshade.window.photo_page import PhotoPage
from dyeshade.words.dye_words import STATES as STATE_WORDS
from dyeshade.words.typed import MistypedError, number_typed, read_number
from dyeshade.work.said import Said

T = TypeVar("T")


class AssignPanel(QWidget):
    """Fields for the chosen samples of the photo that is looked at.

    Signals
    -------
    bath_wanted(str), like_last_wanted(), treatments_wanted()
        The bath with this code is to be described, or a new one like the last; the treatments are
        to be edited.
    library_wanted(tuple of int)
        The readings that were just saved are to be seen.
    """

    bath_wanted = Signal(str)
    treatments_wanted = Signal()
    like_last_wanted = Signal()
    library_wanted = Signal(object)

    def __init__(self, assigning: Assigning, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._assigning = assigning
        self._page: PhotoPage | None = None
        self._names: list[str] = []
        self._filling = False
        self._trouble = ""
        self._kept_words = ""
        self._kept_ids: tuple[int, ...] = ()
        self._lists = {name: QStringListModel(self) for name in ("pieces", "fibres", "mordants",
                                                                 "baths")}  # fmt: skip
        self.piece = self._field("pieces")
        self.name = self._field()
        self.fibre = self._field("fibres")
        self.mordant = self._field("mordants")
        self.percent = self._field()
        self.bath = self._field("baths")
        self.new_piece = QPushButton(self.tr("New piece"))
        self.all_new = QPushButton(self.tr("New pieces for all"))
        self.last_bath = QPushButton()
        self.describe = QPushButton(self.tr("Des&cribe…"))
        self.like_last = QPushButton()
        self.treatments = QPushButton()
        self.state = QComboBox()
        self.date = QDateTimeEdit()
        self.told = QLabel()
        self.head = QLabel()
        self.seen = QPushButton(self.tr("Show in the librar&y"))
        self.seen.hide()
        self.home_test = QPushButton(self.tr("Home test…"))
        self.home_test.setToolTip(self.tr("Say which samples are the halves of a home test"))
        self.save = QPushButton(self.tr("Save all"))
        self._build()
        self._connect()
        self._refresh_known()

    def _field(self, completes: str | None = None) -> QLineEdit:
        field = QLineEdit()
        if completes is not None:
            field.setCompleter(Completer(self._lists[completes], field))
        return field

    def _build(self) -> None:
        self.head.setProperty("head", True)
        self.told.setWordWrap(True)
        self.save.setProperty("main", True)
        self.save.setShortcut("Ctrl+S")
        self.save.setToolTip(self.tr("Keep all that is assigned, of all photos (Ctrl+S)"))
        self.new_piece.setShortcut("Ctrl+N")
        self.new_piece.setToolTip(self.tr("Give the chosen samples the next free id (Ctrl+N)"))
        self.all_new.setShortcut("Ctrl+Shift+N")
        self.all_new.setToolTip(
            self.tr("Give each sample of this photo that has no piece one of its own "
                    "(Ctrl+Shift+N)")
        )  # fmt: skip
        for state in STATES:
            self.state.addItem(STATE_WORDS[state], state)
        self.date.setDisplayFormat("yyyy-MM-dd HH:mm")
        self.date.setCalendarPopup(True)
        self.percent.setMaximumWidth(64)
        for code in (self.piece, self.bath):
            # Codes such as "bath-013" are seen whole.
            code.setMinimumWidth(code.fontMetrics().horizontalAdvance("bath-000") + 2 * SPACE)
        self.last_bath.setToolTip(self.tr("The bath that was described last, or kept last"))
        self.like_last.setToolTip(self.tr("Describe a new bath that begins as that one did"))
        grid = QGridLayout()
        grid.setHorizontalSpacing(SPACE // 2)
        grid.setVerticalSpacing(SPACE // 2)
        first = (
            (self.tr("P&iece"), self.piece, (self.new_piece,)),
            (self.tr("Na&me"), self.name, ()),
            (self.tr("Fib&re"), self.fibre, ()),
            (self.tr("M&ordant"), self.mordant, (self.percent, QLabel(self.tr("% wof")))),
        )
        second = (
            (self.tr("B&ath"), self.bath, (self.describe,)),
            ("", self.treatments, (self.last_bath, self.like_last)),
            (self.tr("&State"), self.state, ()),
            (self.tr("&Date"), self.date, ()),
        )
        for row, line in enumerate((first, second)):
            for place, (words, field, beside) in enumerate(line):
                label = QLabel(words)
                label.setBuddy(field)
                label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                field.setAccessibleName(words.replace("&", ""))
                grid.addWidget(label, row, 2 * place)
                box = QHBoxLayout()
                box.setSpacing(SPACE // 2)
                box.addWidget(field, 1)
                for one in beside:
                    box.addWidget(one)
                grid.addLayout(box, row, 2 * place + 1)
                grid.setColumnStretch(2 * place + 1, 1)
        self.percent.setAccessibleName(self.tr("Mordant in per cent of the weight of fibre"))
        top = QHBoxLayout()
        top.addWidget(self.head)
        top.addWidget(self.all_new)
        top.addWidget(self.told, 1)
        top.addWidget(self.seen)
        top.addWidget(self.home_test)
        top.addWidget(self.save)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE // 2)
        column.addLayout(top)
        column.addLayout(grid)

    def _connect(self) -> None:
        said = self._say
        self.piece.textEdited.connect(lambda text: said("piece", text.strip(), self.tr("piece")))
        self.name.textEdited.connect(lambda text: said("name", text.strip(), self.tr("name")))
        self.fibre.textEdited.connect(lambda text: said("fibre", text.strip(), self.tr("fibre")))
        self.mordant.textEdited.connect(
            lambda text: said("mordant", text.strip(), self.tr("mordant"))
        )
        self.bath.textEdited.connect(lambda text: said("bath", text.strip(), self.tr("bath")))
        for field in (self.piece, self.fibre, self.mordant, self.bath):
            field.completer().activated[str].connect(field.textEdited)
        self.percent.textEdited.connect(self._percent_typed)
        self.state.activated.connect(
            lambda row: said("state", self.state.itemData(row), self.tr("state"))
        )
        self.date.dateTimeChanged.connect(self._date_changed)
        self.new_piece.clicked.connect(self._give_new)
        self.all_new.clicked.connect(self._give_all_new)
        self.last_bath.clicked.connect(
            lambda: said("bath", self._assigning.last_bath, self.tr("bath"))
        )
        self.describe.clicked.connect(lambda: self.bath_wanted.emit(self.bath.text().strip()))
        self.like_last.clicked.connect(self.like_last_wanted)
        self.treatments.clicked.connect(self.treatments_wanted)
        self.save.clicked.connect(self.save_all)
        self.seen.clicked.connect(lambda: self.library_wanted.emit(self._kept_ids))
        self._assigning.known_changed.connect(self._refresh_known)

    @property
    def chosen(self) -> tuple[PhotoPage | None, list[str]]:
        """The photo and its chosen samples."""
        return self._page, list(self._names)

    def save_all(self) -> None:
        """Keep all that is assigned."""
        self._assigning.save_all(self.tr("save the readings"))
        self.tell_state()

    def say_treatments(self, treatments: tuple[object, ...]) -> None:
        """Say what the chosen samples' pieces went through."""
        self._say("treatments", treatments, self.tr("treatments"))

    def say_bath(self, code: str) -> None:
        """Say which bath the chosen samples' pieces were in."""
        self._say("bath", code, self.tr("bath"))

    def show_samples(self, page: PhotoPage | None, names: Sequence[str]) -> None:
        """Show what is said of samples of a photo."""
        self._page, self._names = page, list(names)
        said = [] if page is None else [page.said.get(name, Said()) for name in self._names]
        self._filling = True
        for field, value in (
            (self.piece, _common(said, lambda one: one.piece)),
            (self.name, _common(said, lambda one: one.name)),
            (self.fibre, _common(said, lambda one: one.fibre)),
            (self.mordant, _common(said, lambda one: one.mordant)),
            (self.bath, _common(said, lambda one: one.bath)),
        ):
            if field.text().strip() != (value or ""):
                field.setText(value or "")
                field.setCursorPosition(0)
            several = self.tr("several") if value is None and len(said) > 1 else ""
            field.setPlaceholderText(several)
        percent = _common(said, lambda one: one.mordant_percent_wof)
        if not _says(self.percent.text(), percent):
            self.percent.setText(number_typed(percent))
            self._mark(self.percent, "")
        self.state.setCurrentIndex(self.state.findData(_common(said, lambda one: one.state)))
        read = _common(said, lambda one: one.read) or _taken(page)
        self.date.setDateTime(QDateTime(read or datetime.now()))
        self._filling = False
        self._word(said)
        self._show_kept_of_piece()

    def _word(self, said: Sequence[Said]) -> None:
        count = len(self._names)
        some = count > 0
        for field in (self.piece, self.name, self.fibre, self.mordant, self.percent, self.bath,
                      self.new_piece, self.describe, self.treatments, self.state,
                      self.date):  # fmt: skip
            field.setEnabled(some)
        if count == 0:
            self.head.setText(self.tr("No sample chosen"))
        elif count == 1:
            self.head.setText(self._names[0])
        else:
            self.head.setText(self.tr("{} samples").format(count))
        steps = _common(said, lambda one: one.treatments)
        number = len(steps or ())
        self.treatments.setText(
            self.tr("&Treatments…") if number == 0 else self.tr("&Treatments ({})…").format(number)
        )
        last = self._assigning.last_bath
        self.last_bath.setText(self.tr("Last: {}").format(last))
        self.like_last.setText(self.tr("New, like it…"))
        for button in (self.last_bath, self.like_last):
            button.setVisible(bool(last) and some and not self.bath.text())
        self.all_new.setEnabled(self._page is not None and bool(self._page.unsaid))
        self.tell_state()

    def tell_state(self) -> None:
        """Say what is wrong with what was typed, or else what saving would keep."""
        ready = [name for _, names in self._assigning.ready for name in names]
        unsaid = self._assigning.unsaid
        parts = []
        if ready:
            parts.append(
                self.tr("1 sample to save.") if len(ready) == 1
                else self.tr("{} samples to save.").format(len(ready))
            )  # fmt: skip
            new = self._assigning.new_codes
            if new:
                parts.append(
                    self.tr("1 piece is new.") if new == 1
                    else self.tr("{} pieces are new.").format(new)
                )  # fmt: skip
        if unsaid:
            parts.append(
                self.tr("1 sample belongs to no piece yet and is not saved.") if unsaid == 1
                else self.tr("{} samples belong to no piece yet and are not saved.").format(unsaid)
            )  # fmt: skip
        if self._assigning.waiting:
            parts.insert(0, self.tr("All is saved as soon as the photos are measured."))
        if parts and ready:
            # What was saved before is old news now.
            self._kept_words = ""
        told = self._trouble or " ".join([self._kept_words, *parts]).strip()
        self.told.setText(told)
        self.seen.setVisible(bool(self._kept_words))
        self.save.setEnabled(bool(ready) and not self._assigning.saving)

    def tell(self, words: str) -> None:
        """Say something until the next change."""
        self.told.setText(words)

    def tell_kept(self, words: str, reading_ids: tuple[int, ...]) -> None:
        """Say what came of saving, with a way to see it."""
        self._kept_ids = reading_ids
        self._kept_words = words
        self.tell_state()

    def _show_kept_of_piece(self) -> None:
        """What the library knows of the piece stands in the fields that are left empty."""
        code = self.piece.text().casefold()
        known = next(
            (one for one in self._assigning.known.pieces if one.code.casefold() == code), None
        )
        if known is not None:
            self.name.setPlaceholderText(known.name)
            self.fibre.setPlaceholderText(known.fibre)
            self.mordant.setPlaceholderText(known.mordant)
        elif not self.piece.placeholderText():
            self.piece.setPlaceholderText(self.tr("its id"))

    def _refresh_known(self) -> None:
        known = self._assigning.known
        codes = [one.code for one in known.pieces]
        baths = list(dict.fromkeys([*self._assigning.baths, *known.baths]))
        for name, values in (
            ("pieces", codes),
            ("fibres", list(known.fibres)),
            ("mordants", list(known.mordants)),
            ("baths", baths),
        ):
            self._lists[name].setStringList(values)
        self.show_samples(self._page, self._names)

    def _say(self, what: str, value: object, words: str) -> None:
        if self._filling or self._page is None or not self._names:
            return
        key = (what, tuple(self._names))
        self._assigning.say(
            self._page, self._names, lambda one: replace(one, **{what: value}), words, key
        )

    def _percent_typed(self, text: str) -> None:
        try:
            percent = _percent(text)
        except MistypedError as error:
            self._mark(self.percent, error.sentence)
            return
        self._mark(self.percent, "")
        self._say("mordant_percent_wof", percent, self.tr("mordant"))

    def _mark(self, field: QLineEdit, trouble: str) -> None:
        field.setProperty("wrong", bool(trouble))
        field.setToolTip(trouble)
        field.style().unpolish(field)
        field.style().polish(field)
        self._trouble = trouble
        self.tell_state()

    def _date_changed(self, when: QDateTime) -> None:
        moment = when.toPython()
        assert isinstance(moment, datetime)
        self._say("read", moment.replace(second=0, microsecond=0), self.tr("date"))

    def _give_new(self) -> None:
        if self._page is not None and self._names:
            self._assigning.new_pieces(self._page, self._names, self.tr("new piece"))

    def _give_all_new(self) -> None:
        if self._page is not None:
            self._assigning.new_pieces(self._page, self._page.unsaid, self.tr("new pieces"))


def _common(said: Sequence[Said], of: Callable[[Said], T]) -> T | None:
    """What all say alike, None where they differ or there is none."""
    values = [of(one) for one in said]
    return values[0] if values and all(one == values[0] for one in values) else None


def _percent(text: str) -> float | None:
    return read_number(text, "The mordant in per cent of the fibre", 0, 200, unit="%")


def _says(text: str, percent: float | None) -> bool:
    try:
        return _percent(text) == percent
    except MistypedError:
        return False


def _taken(page: PhotoPage | None) -> datetime | None:
    measurement = None if page is None else page.measurement
    return None if measurement is None else measurement.taken
