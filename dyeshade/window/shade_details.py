"""What there is to tell of the chosen shade."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from dyeshade.window.look import GROUND, ON_GROUND, SPACE
from dyeshade.window.wording import kept_caution_words
from dyeshade.words.dye_words import WHICH_PH, ph_words
from dyeshade.words.shade_lines import (
    bath_lines,
    drift_words,
    piece_words,
    repeat_words,
    state_words,
    step_words,
)
from dyeshade.words.shades import lab_words, sure_to
from dyeshade.work.piece_story import Entry, ShadeStory

_MOST_REPEATS = 12


class Plate(QWidget):
    """The sample as photographed and as measured, side by side on mid grey."""

    def __init__(self) -> None:
        super().__init__()
        self._picture = QPixmap()
        self._words = ""
        self._colour: QColor | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("The sample in its photo, and its swatch"))

    def sizeHint(self) -> QSize:  # noqa: N802
        """A broad plate."""
        return QSize(320, 176)

    def show_colour(self, srgb: str) -> None:
        """Show another swatch, with no picture yet."""
        self._colour = QColor(srgb)
        self._picture = QPixmap()
        self._words = ""
        self.update()

    def show_picture(self, picture: QPixmap, words: str = "") -> None:
        """Show a picture beside the swatch, or words where there is none."""
        self._picture, self._words = picture, words
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint both halves."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.fillRect(self.rect(), GROUND)
        room = self.rect().adjusted(SPACE, SPACE, -SPACE, -SPACE)
        half = (room.width() - SPACE) // 2
        left = QRect(room.left(), room.top(), half, room.height())
        right = QRect(left.right() + SPACE, room.top(), half, room.height())
        if self._colour is not None:
            painter.fillRect(right, self._colour)
        if not self._picture.isNull():
            scaled = self._picture.size().scaled(left.size(), Qt.AspectRatioMode.KeepAspectRatio)
            place = QRect(left.topLeft(), scaled)
            place.moveCenter(left.center())
            painter.drawPixmap(place, self._picture)
        elif self._words:
            painter.setPen(ON_GROUND)
            painter.drawText(
                left, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, self._words
            )


class _Dot(QWidget):
    """A small swatch on mid grey beside a line of the history."""

    def __init__(self, srgb: str) -> None:
        super().__init__()
        self._colour = QColor(srgb)
        self.setFixedSize(34, 26)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint it."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), GROUND)
        painter.fillRect(self.rect().adjusted(6, 5, -6, -5), self._colour)


class ShadeDetails(QScrollArea):
    """Everything that is known of one shade, from its colour to its piece's history.

    Signals
    -------
    compare_wanted(int)
        The piece's readings are to be compared with the one of this id.
    photo_wanted()
        The shade's photo is to be shown as a whole.
    """

    compare_wanted = Signal(int)
    photo_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.story: ShadeStory | None = None
        self.plate = Plate()
        self._parts: list[QWidget] = []
        self._body = QWidget()
        self._column = QVBoxLayout(self._body)
        self._column.setContentsMargins(0, 0, SPACE // 2, 0)
        self._column.setSpacing(SPACE // 3)
        self.photo = QPushButton(self.tr("Show the whole photo"))
        self.photo.clicked.connect(self.photo_wanted)
        self._column.addWidget(self.plate)
        self._column.addWidget(self.photo, 0, Qt.AlignmentFlag.AlignLeft)
        self._column.addStretch(1)
        self.setWidget(self._body)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setAccessibleName(self.tr("The chosen shade"))
        self.show_nothing("")

    def show_nothing(self, words: str) -> None:
        """Say why there is nothing to tell."""
        self.story = None
        self._clear()
        self.plate.hide()
        self.photo.hide()
        if words:
            self._say(words, faint=True)

    def show_story(self, story: ShadeStory) -> None:
        """Tell of a shade."""
        same = self.story is not None and self.story.found.reading.id == story.found.reading.id
        kept_at = self.verticalScrollBar().value()
        self.story = story
        self._clear()
        self.plate.show()
        self.photo.setVisible(story.photo_file is not None)
        reading = story.found.reading
        if not same:
            self.plate.show_colour(reading.srgb)
        self._head(piece_words(story.found.history))
        self._say(lab_words(reading.lab))
        self._say(self.tr("Sure to {}").format(sure_to(reading.u95)))
        self._say(self._read_words(story))
        for note in (story.found.history.piece.note, reading.note):
            if note:
                self._say(note)
        self._cautions(story)
        self._bath(story)
        self._repeats(story)
        self._history(story)
        self.verticalScrollBar().setValue(kept_at if same else 0)

    def words(self) -> list[str]:
        """All that is told, from above to below."""
        return [
            label.text()
            for part in self._parts
            for label in ([part] if isinstance(part, QLabel) else part.findChildren(QLabel))
        ]

    def _read_words(self, story: ShadeStory) -> str:
        told = self.tr("Read {}").format(state_words(story.found.reading))
        if story.photo is not None:
            told += self.tr("; sample {0} of {1}").format(
                story.found.reading.sample, story.photo.name
            )
        return told

    def _cautions(self, story: ShadeStory) -> None:
        reading = story.found.reading
        told = [kept_caution_words(notice) for notice in reading.notices]
        if not reading.in_gamut:
            told.append(self.tr("A screen cannot show this shade; this is the nearest it can."))
        if story.sheet is not None:
            told += [kept_caution_words(notice) for notice in story.sheet.notices]
        if told:
            self._head(self.tr("Mind"))
            for words in told:
                self._say(words)

    def _bath(self, story: ShadeStory) -> None:
        step, conditions = story.last_bath, story.found.conditions
        self._head(self.tr("Its bath"))
        if step is None or step.bath is None:
            self._say(self.tr("No bath was written down."), faint=True)
        else:
            for words in bath_lines(step.bath, story.parent_bath):
                self._say(words)
        if conditions.ph() is not None and conditions.acted is not None:
            acted = f"{ph_words(conditions.ph() or 0)} {WHICH_PH[conditions.acted]}"
            self._say(self.tr("The pH that acted last: {}").format(acted))

    def _repeats(self, story: ShadeStory) -> None:
        self._head(self.tr("From equal conditions"))
        if not story.repeats:
            self._say(self.tr("No other reading yet."), faint=True)
        for found, delta_e in story.repeats[:_MOST_REPEATS]:
            self._dotted(found.reading.srgb, repeat_words(found, delta_e))
        more = len(story.repeats) - _MOST_REPEATS
        if more > 0:
            self._say(self.tr("and {} more").format(more), faint=True)

    def _history(self, story: ShadeStory) -> None:
        self._head(self.tr("What the piece went through"))
        for entry in story.entries:
            if entry.step is not None:
                self._say(step_words(entry.step))
            elif entry.reading is not None:
                self._reading(entry, story)

    def _reading(self, entry: Entry, story: ShadeStory) -> None:
        reading = entry.reading
        assert reading is not None
        words = self.tr("read {}").format(state_words(reading))
        if reading.id == story.found.reading.id:
            words += self.tr(" (this one)")
        if entry.drift is not None:
            words += f"\n{drift_words(entry.drift)}"
        elif reading.state == "wet":
            words += self.tr("\nWet, and so darker: not compared.")
        dotted = self._dotted(reading.srgb, words)
        readings = [one for one in story.entries if one.reading is not None]
        since = reading.id == story.since_id
        last = reading is readings[-1].reading
        if reading.state != "wet" and not since and not last:
            compare = QPushButton(self.tr("Compare later ones with this"))
            compare.setFlat(True)
            compare.clicked.connect(lambda _on, i=reading.id: self.compare_wanted.emit(i))
            dotted.addWidget(compare, 0, Qt.AlignmentFlag.AlignLeft)

    def _head(self, words: str) -> None:
        label = self._say(words)
        label.setProperty("head", True)
        label.setContentsMargins(0, SPACE, 0, 0)

    def _say(self, words: str, faint: bool = False) -> QLabel:
        label = _label(words, faint)
        self._add(label)
        return label

    def _dotted(self, srgb: str, words: str) -> QVBoxLayout:
        """A line with a swatch; the layout takes what belongs below its words."""
        part = QWidget()
        row = QHBoxLayout(part)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(SPACE // 2)
        row.addWidget(_Dot(srgb), 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout()
        column.setSpacing(2)
        column.addWidget(_label(words))
        row.addLayout(column, 1)
        self._add(part)
        return column

    def _add(self, part: QWidget) -> None:
        self._parts.append(part)
        self._column.insertWidget(len(self._parts) + 1, part)

    def _clear(self) -> None:
        for part in self._parts:
            self._column.removeWidget(part)
            part.hide()
            part.deleteLater()
        self._parts = []


def _label(words: str, faint: bool = False) -> QLabel:
    label = QLabel(words)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    label.setProperty("faint", faint)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
