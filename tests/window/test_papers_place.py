"""Tags, labels, piece sheets and pot cards are chosen, looked at, and saved from the window."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QSettings, QTimer
from PySide6.QtGui import QUndoStack
from PySide6.QtWidgets import QApplication, QMainWindow
from pytestqt.qtbot import QtBot

from dyeshade.library.library import create_library
from dyeshade.window import look
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.papers_place import LABELS, POT, SHEETS, PapersPlace
from dyeshade.window.presenter import Presenter
from dyeshade.work.said import Said
from tests.library.workshop import fill

Room = tuple[QtBot, PapersPlace, QUndoStack, Path]


@pytest.fixture
def room(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Room]:
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path))
    qapp.setOrganizationName("dyeshade tests")
    with create_library(tmp_path / "shades") as library:
        fill(library)
    before = set(threading.enumerate())
    look.put_on(qapp, "light")
    window = QMainWindow()
    undo = QUndoStack(window)
    desk, presenter = LibraryDesk(undo, window), Presenter(window)
    faults: list[object] = []
    desk.failed.connect(faults.append)
    place = PapersPlace(desk, presenter)
    window.setCentralWidget(place)
    window.resize(1180, 720)
    window.show()
    desk.open(tmp_path / "shades")
    qtbot.waitUntil(lambda: len(place.pieces.pieces) == 8)
    yield qtbot, place, undo, tmp_path
    window.close()
    desk.close()
    qapp.processEvents()
    assert not [timer for timer in window.findChildren(QTimer) if timer.isActive()]
    window.deleteLater()
    assert not faults
    assert set(threading.enumerate()) <= before


def saved(room: Room) -> tuple[int, str]:
    bot, place, _, folder = room
    place.save_to(folder / "paper")
    bot.waitUntil(lambda: place.saved is not None)
    pages = PdfReader(folder / "paper.pdf").pages
    return len(pages), " ".join(page.extract_text() for page in pages)


def test_tags_of_chosen_pieces_are_those_that_are_saved(room: Room) -> None:
    bot, place, _, _ = room
    assert "Choose pieces" in place.preview.words
    place.take(["W-001", "S-002"])
    bot.waitUntil(lambda: place.preview.count == 1)
    pages, text = saved(room)
    assert pages == 1
    for code, there in (("W-001", True), ("S-002", True), ("W-003", False)):
        assert (code in text) is there
    place.pieces.untagged.click()
    assert len(place.pieces.codes) == 6


def test_new_pieces_are_chosen_and_undone_together(room: Room) -> None:
    bot, place, undo, _ = room
    place._make_new((12, Said(fibre="wool"), ()), lambda _done: None, lambda _error: None)
    bot.waitUntil(lambda: len(place.pieces.codes) == 12)
    undo.undo()
    bot.waitUntil(lambda: len(place.pieces.pieces) == 8)


def test_labels_say_maker_and_fibre_content(room: Room) -> None:
    bot, place, _, _ = room
    place.take(["W-001"])
    place.look_at(LABELS)
    place.labels.maker.setText("Hollow Weir Dye Room")
    place.labels.contents.setPlainText("wool = 100 % wool")
    bot.waitUntil(lambda: place.preview.count == 1)
    assert "100 % wool" in saved(room)[1]


def test_each_piece_has_a_sheet(room: Room) -> None:
    bot, place, _, _ = room
    place.take(["W-001", "W-003"])
    place.look_at(SHEETS)
    bot.waitUntil(lambda: place.preview.count == 2)
    assert saved(room)[0] == 2


def test_a_pot_card_is_scaled_to_the_fibre_and_refuses_in_a_sentence(room: Room) -> None:
    bot, place, _, _ = room
    place.look_at(POT)
    place.pot.fibre.setPlainText("wool much")
    bot.waitUntil(lambda: bool(place.preview.words) and "Say which" not in place.preview.words)
    place.pot.like.setCurrentIndex(place.pot.like.findData("W-001"))
    place.pot.fibre.setPlainText("wool 240 g")
    bot.waitUntil(lambda: place.preview.count == 1)
    assert "weld" in saved(room)[1].lower()
