"""Tags, labels, piece sheets and pot cards are chosen, looked at, and saved from the window."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QSettings, QTimer
from PySide6.QtGui import QUndoStack
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMainWindow
from pytestqt.qtbot import QtBot

from dyeshade.library.library import create_library
from dyeshade.window import look
from dyeshade.window.library_desk import LibraryDesk
from dyeshade.window.papers_place import LABELS, POT, SHEETS, PapersPlace
from dyeshade.window.presenter import Presenter
from dyeshade.work.commissions import SaidCommission, agree
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
    bot.waitUntil(lambda: place.saving.saved is not None)
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


def test_a_pot_card_of_a_bath_or_a_commission_brings_its_fibre(room: Room) -> None:
    bot, place, _, _ = room
    place._desk.change(
        "agree",
        lambda library: agree(library, SaidCommission("W-005", weight_g=420.0)),
        lambda _kept: None,
    )
    place.make("bath", ["bath-002"])
    bot.waitUntil(lambda: place.preview.count == 1)
    assert place.pot.like.currentData() == "bath-002"
    assert "50 g wool and 50 g silk" in saved(room)[1]
    place.make("commission", ["commission-001"])
    bot.waitUntil(lambda: place.pot.like.currentData() == "commission-001")
    bot.waitUntil(lambda: not place.busy)
    assert "420 g wool" in saved(room)[1]
    place.pot.students.setValue(12)
    place.pot.fibre.setPlainText("silk 10 g")
    bot.waitUntil(lambda: not place.busy)
    assert "for all 12" in saved(room)[1]


def test_choices_are_the_next_time_as_they_were_left(room: Room) -> None:
    place = room[1]
    for box, data in (
        (place.paper, "Letter"),
        (place.tags.size, "large"),
        (place.pot.units, "us"),
    ):
        row = box.findData(data)
        box.setCurrentIndex(row)
        box.activated.emit(row)
    QTest.keyClicks(place.labels.maker, "Hollow Weir")
    place.labels.contents.setPlainText("wool = 100 % wool\nsilk = 100 % silk")
    place.tags.copies.setValue(7)
    window = place.window()
    again = PapersPlace(place._desk, Presenter(window), window)
    assert (again.paper.currentData(), again.tags.size.currentData()) == ("Letter", "large")
    assert again.pot.units.currentData() == "us"
    assert again.labels.maker.text() == "Hollow Weir"
    assert again.labels.contents.toPlainText() == "wool = 100 % wool\nsilk = 100 % silk"
    # How many tags of each is asked anew: nobody wants seven of the next ones unseen.
    assert again.tags.copies.value() == 1
    again.deleteLater()
