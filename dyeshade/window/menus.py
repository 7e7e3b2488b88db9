"""The menus of the main window."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QSettings
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QApplication, QMenu

from dyeshade.resources import example_photos
from dyeshade.window import look
from dyeshade.window.library_menu import LibraryMenu

if TYPE_CHECKING:
    from dyeshade.window.main_window import MainWindow

Key = str | QKeySequence.StandardKey


class Menus(QObject):
    """Builds the menus; all that they do is done by the window and its places."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self._of_measuring: list[QAction] = []
        bar = window.menuBar()
        self._build_file(bar.addMenu(self.tr("&File")))
        self.library = LibraryMenu(window)
        bar.addMenu(self.library.menu)
        self._build_edit(bar.addMenu(self.tr("&Edit")))
        self._build_photo(bar.addMenu(self.tr("&Photo")))
        self._build_looks(bar.addMenu(self.tr("&Look")))
        help_ = bar.addMenu(self.tr("&Help"))
        self._add(help_, self.tr("&Cautions"), "", window.show_cautions)

    def _build_file(self, menu: QMenu) -> None:
        window, standard = self._window, QKeySequence.StandardKey
        place = window.measuring_place
        self._add(menu, self.tr("&Measure photos…"), standard.Open, window.choose_photos)
        self._add(menu, self.tr("&Paste photos"), standard.Paste, window.paste)
        self._add_here(menu, self.tr("Put the photo a&way"), "Ctrl+W", place.put_away)
        if example_photos():
            self._add(menu, self.tr("Open the &example photos"), "", window.open_examples)
        menu.addSeparator()
        self._add(menu, self.tr("&Quit"), standard.Quit, window.close)

    def _build_edit(self, menu: QMenu) -> None:
        window, standard = self._window, QKeySequence.StandardKey
        place = window.measuring_place
        for action, key in (
            (window.undo.createUndoAction(window, self.tr("&Undo")), standard.Undo),
            (window.undo.createRedoAction(window, self.tr("&Redo")), standard.Redo),
        ):
            action.setShortcut(key)
            menu.addAction(action)
        menu.addSeparator()
        self._add_here(menu, self.tr("&Copy the samples' values"), standard.Copy, place.copy_values)
        self._add_here(menu, self.tr("Re&name the sample"), "F2", place.rename_chosen)

    def _build_photo(self, menu: QMenu) -> None:
        window, standard = self._window, QKeySequence.StandardKey
        place = window.measuring_place
        view = place.panel.view
        self._add_here(menu, self.tr("Measure &again"), "F5", place.measure_again)
        self._add(menu, self.tr("&Stop measuring"), "Ctrl+.", window.measuring.cancel)
        test = place.dialogs.home_test
        self._add_here(menu, self.tr("Keep with a home &test…"), "Ctrl+H", test.open_form)
        menu.addSeparator()
        knowing = window.knowing
        self._add(menu, self.tr("Get to know a ca&mera…"), "", knowing.know_camera)
        self._add(menu, self.tr("Get to know a printed s&heet…"), "", knowing.know_sheet)
        self._add(menu, self.tr("Cameras and sheets that are &known…"), "", knowing.show_list)
        menu.addSeparator()
        self._add_here(menu, self.tr("&Closer"), standard.ZoomIn, lambda: view.zoom(True))
        self._add_here(menu, self.tr("&Further away"), standard.ZoomOut, lambda: view.zoom(False))
        self._add_here(menu, self.tr("&Whole photo"), "Ctrl+0", view.fit)

    def _build_looks(self, menu: QMenu) -> None:
        group = QActionGroup(self)
        words = {
            "system": self.tr("As the &desktop"),
            "light": self.tr("&Light"),
            "dark": self.tr("&Dark"),
        }
        for name in look.LOOKS:
            action = self._add(menu, words[name], "", lambda name=name: self._choose_look(name))
            action.setCheckable(True)
            action.setChecked(name == look.wanted_look())
            group.addAction(action)

    def _add(self, menu: QMenu, words: str, key: Key, does: Callable[[], object]) -> QAction:
        action = QAction(words, self._window)
        if key != "":
            action.setShortcut(QKeySequence(key))
        action.triggered.connect(lambda _checked=False: does())
        menu.addAction(action)
        return action

    def _add_here(self, menu: QMenu, words: str, key: Key, does: Callable[[], object]) -> None:
        # Elsewhere the same keys are free for what is shown there.
        self._of_measuring.append(self._add(menu, words, key, does))

    def place_shown(self, key: str) -> None:
        """Allow what can be done in the place that is shown."""
        for action in self._of_measuring:
            action.setEnabled(key == "measuring")

    def _choose_look(self, name: str) -> None:
        QSettings().setValue("look", name)
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        look.put_on(application, name)
