"""A library of the invented workshop with something to say to every question, and its window."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import TypeVar

import numpy as np
from PySide6.QtCore import QCoreApplication, QEvent, QTimer, qInstallMessageHandler
from PySide6.QtGui import QUndoStack
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication, QMainWindow
from pytestqt.qtbot import QtBot

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.library.dye_records import Piece, Treatment
from dyeshade.library.edit import Edit
from dyeshade.library.library import Library, create_library
from dyeshade.library.pieces import add_piece, find_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.shade_records import KeptPhoto, SheetReading
from dyeshade.library.treatments import add_treatment
from dyeshade.window import look
from dyeshade.window.compare_place import ComparePlace
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.measuring import Measuring
from dyeshade.window.presenter import Presenter
from dyeshade.words.shades import hex_colour
from dyeshade.work.bath_typed import TypedBath
from tests.insight.series import turning
from tests.library.workshop import DAY, SILK, WOOL, a_bath, a_dyed_piece, a_reading

T = TypeVar("T")
PATIENCE_MS = 30_000
OWN, COMMON = (0.06, 0.0, 0.0, 0.06, 0.0, 0.06), (1.0, 0.0, 0.0, 1.0, 0.0, 1.0)


def shade(lab: np.ndarray) -> dict[str, object]:
    """The fields of a reading of that shade."""
    lightness, a, b = (float(value) for value in lab)
    srgb, fits = lab_to_srgb(lab)
    return {
        "lab_l": lightness,
        "lab_a": a,
        "lab_b": b,
        "srgb": hex_colour(srgb),
        "in_gamut": fits,
        "covariance_photo": OWN,
        "covariance_common": COMMON,
        "method_version": 1,
    }


def photographed(edit: Edit, number: int) -> dict[str, object]:
    """The fields of a reading from a photo by one camera on one sheet."""
    photo = edit.add(KeptPhoto(f"{number:064x}", ".jpg", "x.jpg", "JPEG", DAY, "a camera"))
    sheet = edit.add(SheetReading(photo, 1, "window", "A4", "six", "S-1"))
    return {"photo_id": photo, "sheet_reading_id": sheet}


def fill(library: Library) -> None:
    """Weld along pH on wool and silk, one pH twice; a faded piece; a tile of each session."""
    random = np.random.default_rng(5)
    with library.edit("demo") as edit:
        for number, ph in enumerate((5.0, 6.0, 7.0, 7.0, 8.0, 9.0), 1):
            bath = a_bath(edit, f"bath-{number:03d}", ph)
            for fibre, shift in ((WOOL, 0.0), (SILK, 9.0)):
                lab = turning(ph) + np.array([shift, 0.0, 0.0]) + random.normal(0, 0.5, 3)
                code = f"{fibre.name[0].upper()}-{number:03d}"
                taken = photographed(edit, 2 * number + (fibre is SILK))
                a_dyed_piece(edit, code, fibre, bath, **shade(lab), **taken)
        faded = find_piece(edit, "W-001").id
        edit_light = Treatment(faded, "light", started=DAY + timedelta(days=10))
        light = add_treatment(edit, edit_light)
        for days, step in ((60, 4.0), (120, 6.0)):
            lab = turning(5.0) + np.array([step, 0.0, -3 * step])
            taken = photographed(edit, 100 + days)
            read = {"read": DAY + timedelta(days=days), "after_treatment_id": light}
            covered = a_reading(faded, **shade(turning(5.0)), **taken, **read, sample="A1")
            exposed = a_reading(
                faded, **shade(lab), **taken, **read, sample="B1", state="after_light"
            )
            keep_reading(edit, covered)
            keep_reading(edit, exposed)
        tile = add_piece(edit, Piece("TILE"))
        for session in range(14):
            off = 3.0 if session == 13 else 0.0
            lab = np.array([52.0 + off, 40.0, 22.0]) + random.normal(0, 0.25, 3)
            read = {"read": DAY + timedelta(days=7 * session)}
            keep_reading(
                edit, a_reading(tile, **shade(lab), **photographed(edit, 300 + session), **read)
            )


class Comparing(QMainWindow):
    """The place, its desk and its undo."""

    def __init__(self, qtbot: QtBot, folder: Path) -> None:
        super().__init__()
        self.qtbot, self.folder = qtbot, folder
        self.undo = QUndoStack(self)
        self.desk = LibraryDesk(self.undo, self)
        self.presenter = Presenter(self)
        self.faults: list[BaseException] = []
        self.desk.failed.connect(self.faults.append)
        self.measuring = Measuring(self.undo, self)
        self.measuring.errands.failed.connect(self.faults.append)
        self.place = ComparePlace(self.desk, self.presenter, self.measuring)
        self.readings: list[int] = []
        self.baths: list[tuple[int, float]] = []
        self.place.reading_wanted.connect(self.readings.append)
        self.place.bath_wanted.connect(lambda *told: self.baths.append(told))
        self.made: list[TypedBath] = []
        self.place.bath_made.connect(self.made.append)
        self.setCentralWidget(self.place)
        self.resize(1180, 740)

    def settle(self) -> None:
        """Wait until all that was asked has been answered, and the answers' questions as well."""
        for _ in range(3):
            self.ask(lambda library: None)
            self.qtbot.waitUntil(
                lambda: not (self.place.busy or self.desk.busy), timeout=PATIENCE_MS
            )

    def ask(self, question: Callable[[Library], T]) -> T:
        """What the library says."""
        told: list[T] = []
        self.desk.ask(question, told.append)
        self.qtbot.waitUntil(lambda: bool(told), timeout=PATIENCE_MS)
        return told[0]


def comparing_with(
    qtbot: QtBot,
    qapp: QApplication,
    folder: Path,
    filling: Callable[[Library], object] = fill,
) -> Iterator[Comparing]:
    """An open window with a library; complaints, timers and threads left over fail the test."""
    complaints: list[str] = []
    qInstallMessageHandler(lambda kind, where, text: complaints.append(text))
    before = set(threading.enumerate())
    with create_library(folder) as library:
        filling(library)
    look.put_on(qapp, "light")
    room = Comparing(qtbot, folder)
    for page in room.place.pages:
        QAbstractItemModelTester(
            page.model, QAbstractItemModelTester.FailureReportingMode.Fatal, room
        )
    room.show()
    room.desk.open(folder)
    qtbot.waitUntil(lambda: room.desk.library is not None, timeout=PATIENCE_MS)
    room.settle()
    yield room
    room.close()
    room.place.let_go()
    room.measuring.close()
    room.desk.close()
    qapp.processEvents()
    running = [timer for timer in room.findChildren(QTimer) if timer.isActive()]
    qInstallMessageHandler(None)
    assert not running
    assert not room.faults
    for thread in set(threading.enumerate()) - before:
        thread.join(10)
        assert not thread.is_alive()
    # The screenless plugin says of itself what it cannot do; that is no fault of the window.
    assert not [text for text in complaints if "propagateSizeHints" not in text]
    room.deleteLater()
    # At once, so that the next look is not put on this window too.
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
