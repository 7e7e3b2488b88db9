"""The main window: its places, its menus, and the photos that come in."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, QMimeData, QSettings, Qt
from PySide6.QtGui import (
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QImage,
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
from dyeshade.window.card_place import CardPlace
from dyeshade.window.choosing_photos import choose_photos
from dyeshade.window.compare_place import ComparePlace
from dyeshade.window.demo import Demo
from dyeshade.window.home_test_reminders import HomeTestReminders
from dyeshade.window.keeping_drafts import KeepingDrafts
from dyeshade.window.knowing import Knowing
from dyeshade.window.known_calibrations import KnownCalibrations
from dyeshade.window.library_desk import LibraryDesk, OpenLibrary
from dyeshade.window.library_place import LibraryPlace
from dyeshade.window.measuring import Measuring
from dyeshade.window.measuring_place import MeasuringPlace
from dyeshade.window.menus import Menus
from dyeshade.window.papers_place import PapersPlace
from dyeshade.window.places import PLACES, Shared
from dyeshade.window.presenter import Presenter
from dyeshade.window.sheet_place import SheetPlace
from dyeshade.window.start_place import StartPlace
from dyeshade.work.bath_again import bath_again
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.demo_library import demo_folder


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
        start = self.places["start"]
        assert isinstance(start, StartPlace)
        start.sheet_wanted.connect(lambda: self.go("sheet"))
        start.photos_wanted.connect(self.choose_photos)
        start.examples_wanted.connect(self.open_examples)
        start.demo_wanted.connect(self.open_demo)
        start.library_wanted.connect(lambda: self.go("library"))
        start.tests_wanted.connect(self.see_home_tests)
        self.reminders = HomeTestReminders(self.desk, start)
        self._join_places()
        self.resize(1180, 780)
        kept = QSettings().value("geometry")
        if kept is not None:
            self.restoreGeometry(kept)
        self.desk.open(library, create=True)

    @property
    def measuring_place(self) -> MeasuringPlace:
        """The place where photos are measured."""
        place = self.places["measuring"]
        assert isinstance(place, MeasuringPlace)
        return place

    @property
    def sheet_place(self) -> SheetPlace:
        """The place where sheets are made."""
        place = self.places["sheet"]
        assert isinstance(place, SheetPlace)
        return place

    def _join_places(self) -> None:
        """What one place asks of another."""
        library, card = self.library_place, self.places["card"]
        assert isinstance(card, CardPlace)

        def on_card(reading_ids: tuple[int, ...]) -> None:
            card.take(reading_ids)
            self.go("card")

        def in_library(reading_ids: tuple[int, ...]) -> None:
            self.go("library")
            library.choose(reading_ids)

        compare, bath = self.places["compare"], self.places["bath"]
        assert isinstance(compare, ComparePlace)
        assert isinstance(bath, BathPlace)

        def begin(typed: TypedBath) -> None:
            self.go("bath")
            bath.begin(typed)

        def made_again(reading_id: int, grams: float) -> None:
            self.desk.ask(lambda library: bath_again(library, reading_id, grams), begin)

        self.sheet_place.know_wanted.connect(self.knowing.know_sheet)
        self.sheet_place.list_wanted.connect(self.knowing.show_list)
        compare.reading_wanted.connect(lambda reading_id: in_library((reading_id,)))
        compare.bath_wanted.connect(made_again)
        compare.bath_made.connect(begin)
        compare.fastness.photos_wanted.connect(self.choose_photos)

        def ask_of(which: str, piece: str) -> None:
            self.go("compare")
            compare.show_asked(which, piece)

        library.compare_wanted.connect(ask_of)
        library.card_wanted.connect(on_card)
        compare.ph.card_wanted.connect(on_card)
        library.papers_wanted.connect(self._make_papers)
        bath.pot_card_wanted.connect(lambda code: self._make_papers("bath", (code,)))
        library.photo_wanted.connect(lambda path: self.measure([str(path)]))
        card.library_wanted.connect(lambda: self.go("library"))
        self.measuring_place.assign.library_wanted.connect(in_library)

    def _make_papers(self, which: str, codes: tuple[str, ...]) -> None:
        papers = self.places["papers"]
        assert isinstance(papers, PapersPlace)
        papers.make(which, codes)
        self.go("papers")

    @property
    def library_place(self) -> LibraryPlace:
        """The place where kept shades are found again."""
        place = self.places["library"]
        assert isinstance(place, LibraryPlace)
        return place

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
        start = self.places["start"]
        assert isinstance(start, StartPlace)
        start.show_cautions()

    def open_demo(self) -> None:
        """Open the library of the invented workshop."""
        self.go("library")
        library = self.desk.library
        if library is None or library.folder != demo_folder():
            self.demo.open()

    def see_home_tests(self) -> None:
        """Show the home tests, and which photos are due."""
        compare = self.places["compare"]
        assert isinstance(compare, ComparePlace)
        compare.look_at(compare.fastness)
        self.go("compare")

    def _opened(self, library: OpenLibrary) -> None:
        which_library.remember(library.folder)
        self.setWindowTitle(f"{library.folder.name} – dyeshade")
        start = self.places["start"]
        assert isinstance(start, StartPlace)
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
        self._take(QGuiApplication.clipboard().mimeData())

    def _take(self, data: QMimeData) -> None:
        paths = [url.toLocalFile() for url in data.urls() if url.isLocalFile()]
        if not paths and data.hasImage():
            image = data.imageData()
            if isinstance(image, QImage) and not image.isNull():
                paths = [str(pasted.keep(image))]
        self.measure(paths)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802
        """Take files and pictures that are dragged over the window."""
        if event.mimeData().hasUrls() or event.mimeData().hasImage():
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802
        """Measure the photos that were dropped."""
        self._take(event.mimeData())
        event.acceptProposedAction()

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802
        """Look whether others have changed the library, when the window is looked at again."""
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow():
            self.desk.look_for_others()
        super().changeEvent(event)

    def _would_lose(self) -> bool:
        """Tell of work that the library cannot hold for the next start."""
        bath = self.places["bath"]
        assert isinstance(bath, BathPlace)
        if self._lose or not (self.drafts.homeless or bath.bathing.drafts.homeless):
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
        bath = self.places["bath"]
        assert isinstance(bath, BathPlace)
        bath.let_go()
        compare = self.places["compare"]
        assert isinstance(compare, ComparePlace)
        compare.let_go()
        self.demo.close()
        self.drafts.close()
        self.desk.close()
        pages = self.measuring.photos.pages
        pasted.forget(page.asked.path for page in pages if not page.has_work)
        super().closeEvent(event)
