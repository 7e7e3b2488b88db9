"""The main window: its places, its menus, and the photos that come in."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import QEvent, QSettings, Qt
from PySide6.QtGui import (
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QKeyEvent,
    QUndoStack,
)
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QMainWindow,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from dyeshade.errors import DyeshadeError
from dyeshade.resources import example_photos
from dyeshade.window import look, pasted, which_library
from dyeshade.window.assigning import Assigning
from dyeshade.window.bath_place import BathPlace
from dyeshade.window.choosing_photos import choose_photos
from dyeshade.window.compare_place import ComparePlace
from dyeshade.window.demo import Demo
from dyeshade.window.home_test_reminders import HomeTestReminders
from dyeshade.window.joined_places import JoinedPlaces
from dyeshade.window.keeping_drafts import KeepingDrafts
from dyeshade.window.knowing import Knowing
from dyeshade.window.known_calibrations import KnownCalibrations
from dyeshade.window.library_desk import LibraryDesk, OpenLibrary
from dyeshade.window.library_place import LibraryPlace
from dyeshade.window.measuring import Measuring
from dyeshade.window.measuring_place import MeasuringPlace
from dyeshade.window.menus import Menus
from dyeshade.window.not_held import NotHeldLine
from dyeshade.window.places import PLACES, Shared
from dyeshade.window.presenter import Presenter
from dyeshade.window.return_key import presses_focused
from dyeshade.window.sheet_place import SheetPlace
from dyeshade.window.start_place import StartPlace
from dyeshade.work.demo_library import demo_folder

OnePlace = TypeVar("OnePlace", bound=QWidget)


class MainWindow(QMainWindow):
    """The window.

    Parameters
    ----------
    library : Path
        The shade library to open, made where there is nothing yet.

    Attributes
    ----------
    desk : LibraryDesk
    measuring : Measuring
    presenter : Presenter
    places : dict of str to QWidget
    not_held : NotHeldLine
    """

    def __init__(self, library: Path) -> None:
        super().__init__()
        self.setWindowTitle("dyeshade")
        self.setAcceptDrops(True)
        self._lose = False
        self.undo = QUndoStack(self)
        self.presenter = Presenter(self)
        self.measuring = Measuring(self.undo, self)
        self.measuring.errands.failed.connect(self.presenter.fault)
        self.desk = LibraryDesk(self.undo, self)
        self.desk.failed.connect(self.presenter.fault)
        self.desk.refused.connect(self.presenter.refuse)
        self.desk.opened.connect(self._opened)
        # Before all that brings photos in when a library opens, so that each is measured once.
        self.calibrations = KnownCalibrations(self.desk, self)
        self.calibrations.changed.connect(self.measuring.use)
        self.knowing = Knowing(self.desk, self.calibrations, self.undo, self)
        self.demo = Demo(self.open_library, self.presenter, self)
        self.assigning = Assigning(self.measuring, self.desk, self.undo, self)
        self.drafts = KeepingDrafts(self.measuring, self.assigning, self.desk, self)
        self.drafts.brought_back.connect(self._brought_back)
        shared = Shared(self.measuring, self.assigning, self.presenter, self.desk, self.undo)
        self.places = {place.key: place.build(shared) for place in PLACES}
        self._build_places()
        self.menus = Menus(self)
        self.go("start")
        self._joined = JoinedPlaces(self)
        self.reminders = HomeTestReminders(self.desk, self.place(StartPlace))
        self.resize(1180, 780)
        kept = QSettings().value("geometry")
        if kept is not None:
            self.restoreGeometry(kept)
        self.desk.open(library, create=True)

    def place(self, kind: type[OnePlace]) -> OnePlace:
        """The place of a kind."""
        return next(one for one in self.places.values() if isinstance(one, kind))

    @property
    def measuring_place(self) -> MeasuringPlace:
        """The place where photos are measured."""
        return self.place(MeasuringPlace)

    @property
    def sheet_place(self) -> SheetPlace:
        """The place where sheets are made."""
        return self.place(SheetPlace)

    @property
    def library_place(self) -> LibraryPlace:
        """The place where kept shades are found again."""
        return self.place(LibraryPlace)

    def _build_places(self) -> None:
        self._stack = QStackedWidget()
        bar = QHBoxLayout()
        bar.setContentsMargins(look.SPACE, look.SPACE // 2, look.SPACE, 0)
        bar.setSpacing(0)
        self._ways = QButtonGroup(self)
        self._buttons: dict[str, QPushButton] = {}
        for number, place in enumerate(PLACES, 1):
            button = QPushButton(place.words())
            button.setCheckable(True)
            button.setProperty("place", True)
            button.setShortcut(f"Ctrl+{number}")
            button.setToolTip(f"{place.words()} (Ctrl+{number})")
            button.clicked.connect(lambda _on, key=place.key: self.go(key))
            self._ways.addButton(button)
            self._buttons[place.key] = button
            bar.addWidget(button)
            self._stack.addWidget(self.places[place.key])
        bar.addStretch(1)
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(bar)
        bathing = self.place(BathPlace).bathing
        self.not_held = NotHeldLine((self.drafts.drafts, bathing.drafts.drafts))
        column.addWidget(self.not_held)
        column.addWidget(self._stack, 1)
        self.setCentralWidget(middle)

    def go(self, key: str) -> None:
        """Show a place."""
        self._buttons[key].setChecked(True)
        self._stack.setCurrentWidget(self.places[key])
        self.menus.place_shown(key)

    def open_library(self, folder: Path, create: bool = False) -> None:
        """Open another shade library; unsaved work goes along."""
        self.drafts.leave()

        def stay(error: DyeshadeError) -> None:
            self.drafts.keep()
            self.presenter.refuse(error)

        self.desk.open(folder, create, stay)

    def show_cautions(self) -> None:
        """What to mind when dyeing."""
        self.place(StartPlace).show_cautions()

    def open_demo(self) -> None:
        """Open the library of the invented workshop."""
        self.go("library")
        library = self.desk.library
        if library is None or library.folder != demo_folder():
            self.demo.open()

    def _opened(self, library: OpenLibrary) -> None:
        which_library.remember(library.folder)
        self.setWindowTitle(f"{library.folder.name} – dyeshade")
        start = self.place(StartPlace)
        start.show_library(library.folder.name, str(library.folder.parent), library.read_only)

    def _brought_back(self, count: int) -> None:
        words = (
            self.tr("A photo with unsaved work was brought back.") if count == 1
            else self.tr("{} photos with unsaved work were brought back.").format(count)
        )  # fmt: skip
        self.measuring_place.assign.tell(words)
        self.go("measuring")

    def choose_photos(self) -> None:
        """Ask for photos and measure them."""
        self.measure(choose_photos(self, self.tr("Measure photos")))

    def open_examples(self) -> None:
        """Measure the example photos."""
        self.measure([str(path) for path in example_photos()])

    def measure(self, paths: Sequence[str]) -> None:
        """Measure photos, in the light that was chosen last."""
        if paths:
            self.go("measuring")
            self.measuring.open(paths, self.measuring_place.panel.light.currentData())

    def paste(self) -> None:
        """Measure photos from the clipboard: files, or a picture."""
        self.measure(pasted.photos_in(QGuiApplication.clipboard().mimeData()))

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802
        """Take files and pictures that are dragged over the window."""
        if event.mimeData().hasUrls() or event.mimeData().hasImage():
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802
        """Measure the photos that were dropped."""
        self.measure(pasted.photos_in(event.mimeData()))
        event.acceptProposedAction()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Press the button that has the keyboard; Qt leaves that to Space."""
        if not presses_focused(self, event):
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802
        """Look whether others have changed the library, when the window is looked at again."""
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow():
            self.desk.look_for_others()
        super().changeEvent(event)

    def _would_lose(self) -> bool:
        """Tell of work that the library cannot hold for the next start."""
        bathing = self.place(BathPlace).bathing
        if self._lose or not (self.drafts.homeless or bathing.drafts.homeless):
            return False
        words = self.tr(
            "What is not saved would be lost: the shade library cannot be written. Open another "
            "one, and your work comes along."
        )
        self.presenter.warn(words, self.tr("Close and &lose it"), self._close_anyway)
        return True

    def _close_anyway(self) -> None:
        self._lose = True
        self.close()

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Let go of the photo in hand, then close; not before it is told what would be lost."""
        if self._would_lose():
            event.ignore()
            return
        QSettings().setValue("geometry", self.saveGeometry())
        self.hide()
        self.knowing.close()
        self.measuring.close()
        self.library_place.let_go()
        self.place(BathPlace).let_go()
        self.place(ComparePlace).let_go()
        self.demo.close()
        self.drafts.close()
        self.desk.close()
        pages = self.measuring.photos.pages
        pasted.forget(page.asked.path for page in pages if not page.has_work)
        super().closeEvent(event)
