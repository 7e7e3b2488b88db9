"""How long the window's library place takes with many readings, beside the bare query.

Run from the checkout's top; takes some seconds::

    python -m tests.benchmarks.library_place                     # 10,000 readings
    python -m tests.benchmarks.library_place --readings 100000

"Shown" is the time until the new shades stand in the table; "held up" the longest time within it in
which the window answered to nothing. The ratio is of "shown" to the bare query, as SQLite alone
answers it (`tests.benchmarks.library`).
"""

from __future__ import annotations

import argparse
import os
import sqlite3
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import Qt
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QApplication, QComboBox, QMainWindow

from dyeshade.library.library import create_library
from dyeshade.library.store import FILE_NAME
from dyeshade.window import look
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.library_place import SWATCHES, LibraryPlace
from dyeshade.window.presenter import Presenter
from dyeshade.window.shades_model import PLACE
from tests.benchmarks.library import AT_PH, BARE, OF_WELD, OF_WELD_ON_SILK, fill, seconds


class Clock:
    """Does things in the window and prints how long they took."""

    def __init__(self, place: LibraryPlace, bare: sqlite3.Connection) -> None:
        self._place = place
        self._bare = bare
        self._resets: list[float] = []
        place.shades.model.modelReset.connect(lambda: self._resets.append(time.perf_counter()))

    def asked(self, name: str, does: Callable[[], object], sql: str) -> None:
        """Something that is answered with other shades."""
        self._settle()
        self._resets.clear()
        begun = time.perf_counter()
        does()
        held_up = time.perf_counter() - begun
        while not self._resets or self._place.shades._shades.busy:
            at = time.perf_counter()
            QApplication.processEvents()
            held_up = max(held_up, time.perf_counter() - at)
            time.sleep(0.0005)
        QApplication.processEvents()
        shown = time.perf_counter() - begun
        alone = seconds(lambda: self._bare.execute(sql).fetchall())
        count = len(self._place.shades.model.shades)
        print(
            f"{name:26}{count:8}{alone * 1e3:10.2f}{shown * 1e3:10.0f}{held_up * 1e3:10.0f}"
            f"{shown / alone:8.1f}"
        )

    def _settle(self) -> None:
        while self._place.busy:
            QApplication.processEvents()
            time.sleep(0.0005)

    def done(self, name: str, does: Callable[[], object]) -> None:
        """Something that the window does by itself."""
        self._settle()
        begun = time.perf_counter()
        does()
        QApplication.processEvents()
        took = time.perf_counter() - begun
        print(f"{name:26}{len(self._place.shades.model.shades):8}{'':20}{took * 1e3:10.0f}")


def pick(box: QComboBox, words: str) -> None:
    """Choose from a box."""
    box.setCurrentIndex(box.findText(words))


def main() -> None:
    """Make the library, open it in the window, ask, and print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--readings", type=int, default=10_000)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "shades"
        with create_library(folder) as library:
            library._connection.execute("PRAGMA synchronous = OFF")
            fill(library, given.readings)
        application = QApplication([])
        look.put_on(application, "light")
        window = QMainWindow()
        desk = LibraryDesk(QUndoStack(window), window)
        place = LibraryPlace(desk, Presenter(window))
        window.setCentralWidget(place)
        window.resize(1180, 720)
        window.show()
        QApplication.processEvents()
        bare = sqlite3.connect(folder / FILE_NAME)
        clock, asked, table = Clock(place, bare), place.shades.filter, place.shades.table
        print(f"{'':26}{'shown':>8}{'bare ms':>10}{'shown ms':>10}{'held up':>10}{'ratio':>8}")
        clock.asked("open", lambda: desk.open(folder), BARE)
        clock.asked("weld", lambda: pick(asked.dyestuff, "weld"), BARE + OF_WELD)
        clock.asked("on silk", lambda: pick(asked.fibre, "silk"), BARE + OF_WELD_ON_SILK)
        clock.asked("everything", asked.show_everything, BARE)
        pick(asked.which, "of the bath at end")
        asked.ph_least.setText("8")
        clock.asked("pH 8 to 8.5 at the end", lambda: asked.ph_most.setText("8.5"), BARE + AT_PH)
        clock.asked("everything", asked.show_everything, BARE)
        clock.asked("words", lambda: asked.words.setText("madder silk"), BARE)
        clock.asked("everything", asked.show_everything, BARE)
        header = table.horizontalHeader()
        up = Qt.SortOrder.AscendingOrder
        clock.done("sort by pH", lambda: header.setSortIndicator(PLACE["ph"], up))
        clock.done("choose all", table.selectAll)
        clock.done("swatches", lambda: place.look_at(SWATCHES))
        bare.close()
        place.let_go()
        window.close()
        desk.close()


if __name__ == "__main__":
    main()
