"""The first place: what to do first, and what to mind."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from dyeshade.resources import example_photos
from dyeshade.window.look import SPACE
from dyeshade.words.safety import CAUTIONS_FOR_DYERS, LIMITS


class StartPlace(QWidget):
    """Three steps, each with its button, and the examples.

    Signals
    -------
    sheet_wanted(), photos_wanted(), examples_wanted(), demo_wanted(), library_wanted()
    tests_wanted()
        The home tests are to be seen.
    shown()
        The place is looked at.
    """

    sheet_wanted = Signal()
    photos_wanted = Signal()
    examples_wanted = Signal()
    demo_wanted = Signal()
    library_wanted = Signal()
    tests_wanted = Signal()
    shown = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sheet = QPushButton(self.tr("Make a reference &sheet"))
        self.photos = QPushButton(self.tr("&Measure photos…"))
        self.photos.setProperty("main", True)
        self.examples = QPushButton(self.tr("Open the e&xample photos"))
        self.demo = QPushButton(self.tr("Open the in&vented workshop's library"))
        self.examples.setVisible(bool(example_photos()))
        self.demo.setVisible(bool(example_photos()))
        self.library = QPushButton(self.tr("Fi&nd shades again"))
        self.which = _words("")
        self.due = _words("")
        self.tests = QPushButton(self.tr("See the home &tests"))
        self.cautions = QPushButton(self.tr("&Cautions"))
        self.sheet.clicked.connect(self.sheet_wanted)
        self.photos.clicked.connect(self.photos_wanted)
        self.examples.clicked.connect(self.examples_wanted)
        self.demo.clicked.connect(self.demo_wanted)
        self.library.clicked.connect(self.library_wanted)
        self.cautions.clicked.connect(self.show_cautions)
        self.tests.clicked.connect(self.tests_wanted)
        self._build()

    def _build(self) -> None:
        inner = QWidget()
        column = QVBoxLayout(inner)
        column.setContentsMargins(4 * SPACE, 3 * SPACE, 4 * SPACE, 3 * SPACE)
        column.setSpacing(SPACE)
        title = QLabel("dyeshade")
        font = title.font()
        font.setPointSizeF(font.pointSizeF() * 2.2)
        font.setBold(True)
        title.setFont(font)
        column.addWidget(title)
        column.addWidget(
            _words(
                self.tr("The shades of your dyed pieces as numbers, from a photo beside a printed "
                        "sheet of greys, and how sure each of them is.")
            )
        )  # fmt: skip
        column.addSpacing(SPACE)
        steps = QHBoxLayout()
        steps.setSpacing(SPACE)
        for head, words, button in (
            (
                self.tr("1  Print the sheet"),
                self.tr("At 100 %, on matte paper of at least 160\u00a0g, never laminated. Clip it "
                        "flat on something white and stiff."),
                self.sheet,
            ),
            (
                self.tr("2  Take the photo"),
                self.tr("Pieces dry, opaque and flat, one to a cell. One window, lamps off, no "
                        "sun. From above, from 60 cm or more, the whole sheet in view. No flash, "
                        "no filter; the file as the camera wrote it."),
                None,
            ),
            (
                self.tr("3  Measure"),
                self.tr("Choose the photos, drop them on this window, or paste them. Each piece "
                        "comes out as L*a*b* with its uncertainty."),
                self.photos,
            ),
            (
                self.tr("4  Keep and find again"),
                self.tr("Say which piece each sample is and the bath it was in: the shade library "
                        "keeps it, shows how a piece moves, and makes shade cards."),
                self.library,
            ),
        ):  # fmt: skip
            steps.addWidget(_card(head, words, button), 1)
        column.addLayout(steps)
        column.addWidget(self.which)
        column.addWidget(self._reminders())
        if example_photos():
            column.addSpacing(SPACE)
            column.addWidget(
                _words(
                    self.tr("No sheet at hand yet? The examples are computer renders of pieces of "
                            "an invented workshop, the Hollow Weir Dye Room. Its shade library is "
                            "measured from them on this computer, the first time it is opened.")
                )
            )  # fmt: skip
        last = QHBoxLayout()
        last.addWidget(self.examples)
        last.addWidget(self.demo)
        last.addWidget(self.cautions)
        last.addStretch(1)
        column.addLayout(last)
        column.addStretch(1)
        area = QScrollArea()
        area.setWidget(inner)
        area.setWidgetResizable(True)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(area)

    def _reminders(self) -> QFrame:
        self.due.setAccessibleName(self.tr("Photos that are due"))
        head = _words(self.tr("Home tests: photos are due"))
        head.setProperty("head", True)
        told = QVBoxLayout()
        told.setSpacing(SPACE // 2)
        told.addWidget(head)
        told.addWidget(self.due)
        self.reminders = QFrame()
        self.reminders.setProperty("card", True)
        row = QHBoxLayout(self.reminders)
        row.setContentsMargins(SPACE + 4, SPACE, SPACE + 4, SPACE)
        row.setSpacing(2 * SPACE)
        row.addLayout(told, 1)
        row.addWidget(self.tests)
        self.reminders.hide()
        return self.reminders

    def show_due(self, reminders: Sequence[str]) -> None:
        """Say which photos of home tests are due; nothing where none is."""
        self.due.setText("\n".join(reminders))
        self.reminders.setVisible(bool(reminders))

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802
        """Tell that the place is looked at."""
        super().showEvent(event)
        if not event.spontaneous():
            self.shown.emit()

    def show_library(self, name: str, place: str, read_only: bool) -> None:
        """Say which shade library is open."""
        told = self.tr("The shade library “{0}” is open, in {1}.").format(name, place)
        if read_only:
            told += self.tr(" It can only be read: nothing can be saved in it.")
        self.which.setText(told)

    def show_cautions(self) -> None:
        """What to mind when dyeing, and what dyeshade does not know."""
        dialog = QDialog(self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setWindowTitle(self.tr("Cautions"))
        dialog.setMinimumWidth(560)
        column = QVBoxLayout(dialog)
        column.setContentsMargins(2 * SPACE, 2 * SPACE, 2 * SPACE, SPACE)
        column.setSpacing(SPACE)
        for text in (LIMITS, *CAUTIONS_FOR_DYERS):
            column.addWidget(_words(text))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(dialog.reject)
        column.addWidget(buttons)
        dialog.open()


def _words(text: str) -> QLabel:
    label = QLabel(text)
    label.setWordWrap(True)
    return label


def _card(head: str, words: str, button: QPushButton | None) -> QFrame:
    card = QFrame()
    card.setProperty("card", True)
    column = QVBoxLayout(card)
    column.setContentsMargins(SPACE + 4, SPACE + 4, SPACE + 4, SPACE + 4)
    column.setSpacing(SPACE)
    title = _words(head)
    title.setProperty("head", True)
    column.addWidget(title)
    column.addWidget(_words(words))
    column.addStretch(1)
    if button is not None:
        column.addWidget(button)
    return card
