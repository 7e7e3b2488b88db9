"""The form that keeps the photo in hand with a home test: which sample shows which part of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QIcon, QPixmap
from PySide6.QtWidgets import QComboBox, QFormLayout, QLabel, QVBoxLayout, QWidget

from dyeshade.window.form_dialog import FormDialog, Keep
from dyeshade.window.look import SPACE
from dyeshade.window.page_parts import tell, told
from dyeshade.window.photo_page import Entry
from dyeshade.window.samples_model import values_of
from dyeshade.window.typed_fields import TypedField
from dyeshade.words.dye_words import first_capital
from dyeshade.words.home_test_words import (
    HOME_TEST,
    ONE_PHOTO,
    due_words,
    kept_test_words,
    part_words,
    reminder_words,
    taken_words,
)
from dyeshade.work.home_test_photo import likely_spots, missing_parts
from dyeshade.work.home_tests import Part, parts_of
from dyeshade.work.home_tests_kept import KeptTest
from dyeshade.work.said import Said

_SWATCH = 22


@dataclass(frozen=True)
class SpotsSaid:
    """What was said: a test, and the samples that show its parts."""

    test: KeptTest
    spots: Mapping[Part, str]


class PhotoForm(FormDialog):
    """Asks which samples of a photo show which parts of a home test.

    Parameters
    ----------
    tests : sequence of KeptTest
        Those that go on, at least one.
    entries : sequence of Entry
        The photo's measured samples.
    said : mapping of str to Said
        What is said of them.
    taken : datetime or None
        When the photo was taken, as far as is known.
    keep : callable or None
    """

    def __init__(
        self,
        tests: Sequence[KeptTest],
        entries: Sequence[Entry],
        said: Mapping[str, Said],
        taken: datetime | None,
        keep: Keep | None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(PhotoForm.tr("A photo of a home test"), keep, parent)
        self.resize(640, 540)
        self.keeps.setText(self.tr("&Keep with the test"))
        self._tests, self._entries, self._said_of = tuple(tests), tuple(entries), said
        self._taken = taken
        self.test = QComboBox()
        self.test.setAccessibleName(self.tr("Home test"))
        # A long name is cut rather than making the form wider than its window.
        self.test.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        now = datetime.now()
        for one in self._tests:
            self.test.addItem(f"{kept_test_words(one)}  –  {due_words(one, now)}")
        self.spots: dict[Part, QComboBox] = {}
        self.due = told(faint=True)
        self.when = told()
        self._parts = QFormLayout()
        self._build()
        self.test.currentIndexChanged.connect(self._other_test)
        self.test.setCurrentIndex(self._likeliest())
        self._other_test()

    @property
    def chosen(self) -> KeptTest:
        """The test that is chosen."""
        return self._tests[self.test.currentIndex()]

    def check(self) -> list[TypedField]:
        """Nothing is typed here."""
        return []

    def accept(self) -> None:
        """Keep it, where each part that must be there has a sample of its own."""
        missing = missing_parts(self.chosen.record, self._chosen_spots())
        words = []
        if missing:
            kind = self.chosen.record.kind
            listed = "; ".join(part_words(kind, part) for part in missing)
            words.append(self.tr("Choose the sample that shows: {}.").format(listed))
        names = list(self._chosen_spots().values())
        if len(set(names)) < len(names):
            words.append(self.tr("One sample is chosen twice."))
        tell(self.trouble, words, " ")
        if not words:
            super().accept()

    def read(self) -> SpotsSaid:
        """What was said."""
        return SpotsSaid(self.chosen, self._chosen_spots())

    def _build(self) -> None:
        column = QVBoxLayout(self.body)
        column.setContentsMargins(SPACE // 2, 0, SPACE // 2, 0)
        column.setSpacing(SPACE)
        first = self.new_form()
        label = QLabel(self.tr("&Test"))
        label.setBuddy(self.test)
        first.addRow(label, self.test)
        self._parts = self.new_form()
        column.addLayout(first)
        column.addWidget(self.due)
        column.addWidget(self.when)
        column.addLayout(self._parts)
        for words in (ONE_PHOTO, HOME_TEST):
            line = told(faint=True)
            tell(line, [words])
            column.addWidget(line)
        column.addStretch(1)

    def _other_test(self) -> None:
        while self._parts.rowCount():
            self._parts.removeRow(0)
        test = self.chosen
        tell(self.due, [reminder_words(test, datetime.now())] if test.due is not None else [])
        tell(self.when, [taken_words(test, self._taken)])
        names = [entry.name for entry in self._entries]
        likely = likely_spots(test, names, self._said_of)
        self.spots = {}
        for part in parts_of(test.record):
            box = QComboBox()
            box.setIconSize(QSize(_SWATCH, _SWATCH))
            box.addItem(self.tr("not in this photo"), None)
            for entry in self._entries:
                assert entry.sample is not None
                box.addItem(_swatch(entry), self._sample_words(entry), entry.name)
            box.setCurrentIndex(max(box.findData(likely.get(part)), 0))
            words = part_words(test.record.kind, part)
            box.setAccessibleName(words)
            # What was missing is looked at anew when all is to be kept.
            box.activated.connect(lambda _row: self.trouble.hide())
            self._parts.addRow(QLabel(first_capital(words)), box)
            self.spots[part] = box

    def _sample_words(self, entry: Entry) -> str:
        assert entry.sample is not None
        piece = self._said_of[entry.name].piece if entry.name in self._said_of else ""
        return "  ".join(filter(None, (entry.name, piece, values_of(entry.sample))))

    def _chosen_spots(self) -> dict[Part, str]:
        found = {part: box.currentData() for part, box in self.spots.items()}
        return {part: str(name) for part, name in found.items() if name is not None}

    def _likeliest(self) -> int:
        """The test of a piece that the photo shows, the one that is due first of these."""
        shown = {one.piece.casefold() for one in self._said_of.values()}
        rows = [row for row, one in enumerate(self._tests) if one.piece.casefold() in shown]
        return rows[0] if rows else 0


def _swatch(entry: Entry) -> QIcon:
    assert entry.sample is not None
    picture = QPixmap(_SWATCH, _SWATCH)
    picture.fill(QColor(*entry.sample.srgb))
    return QIcon(picture)
