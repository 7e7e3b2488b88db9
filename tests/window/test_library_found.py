"""Kept shades found again: as a table, as swatches, by a question."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QColor, QGuiApplication, QImage, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.library.pieces import add_piece
from dyeshade.library.readings import keep_reading
from dyeshade.window.library_place import BATHS, PIECES, SWATCHES, TABLE
from dyeshade.window.look import GROUND
from dyeshade.window.shades_model import COLUMNS, PLACE, ShadesModel
from dyeshade.window.tables import choose_rows, chosen_rows
from tests.benchmarks.library import fill as fill_with_many
from tests.library.workshop import a_reading
from tests.window.shelf import Shelf, shelf_with


@pytest.fixture
def shelf(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Shelf]:
    yield from shelf_with(qtbot, qapp, tmp_path / "shades")


def choose(shelf: Shelf, *codes: str) -> None:
    rows = sorted(shelf.row(code) for code in codes)
    choose_rows(shelf.place.shades.selection, rows, shelf.row(codes[0]))
    shelf.settle()


def pick(shelf: Shelf, field: str, words: str) -> None:
    box = getattr(shelf.place.shades.filter, field)
    assert box.findText(words) >= 0, [box.itemText(i) for i in range(box.count())]
    box.setCurrentIndex(box.findText(words))
    shelf.settle()


def test_all_shades_are_there_with_what_was_written_down(shelf: Shelf) -> None:
    assert len(shelf.codes()) == 8
    assert shelf.place.shades.filter.count.text() == "8 shades"
    model, row = shelf.place.shades.model, shelf.row("W-008")
    told = [model.index(row, place).data() for place in range(len(COLUMNS))]
    assert told == [
        "W-008", "madder", "wool", "alum 12 %", "50 % wof", "7.2  rinse", "exhaust bath 1",
        "78.0", "-6.0", "61.0", "about 2", "dry", "2026-03-03",
    ]  # fmt: skip


def test_each_choice_narrows_and_everything_comes_back(shelf: Shelf) -> None:
    for field, words, count in (
        ("dyestuff", "madder", 2),
        ("part", "tops", 6),
        ("form", "fresh", 0),
        ("fibre", "silk", 3),
        ("mordant", "nothing noted", 0),
        ("exhaust", "exhaust bath 1", 1),
        ("which", "of the extraction", 0),
        ("state", "wet", 0),
    ):
        pick(shelf, field, words)
        assert len(shelf.codes()) == count, field
        assert shelf.place.shades.filter.count.text() == f"{count} shades of 8"
        shelf.place.shades.filter.everything.click()
        shelf.settle()
        assert len(shelf.codes()) == 8


def test_ranges_are_typed_with_commas_or_points(shelf: Shelf) -> None:
    asked = shelf.place.shades.filter
    pick(shelf, "which", "of the bath at end")
    asked.ph_least.setText("6,5")
    asked.ph_most.setText("8.8")
    shelf.settle()
    assert sorted(shelf.codes()) == ["S-004", "S-006", "W-003", "W-005"]
    asked.everything.click()
    asked.ratio_most.setText("60")
    shelf.settle()
    assert sorted(shelf.codes()) == ["W-007", "W-008"]
    asked.everything.click()
    asked.to_day.setText("2026-03-02")
    shelf.settle()
    assert shelf.codes() == []
    assert shelf.place.shades.views.currentWidget() is shelf.place.shades.nothing
    assert not shelf.place.card.isEnabled()


def test_what_cannot_be_meant_is_answered_beside_the_field(shelf: Shelf) -> None:
    asked = shelf.place.shades.filter
    for line, typed, sentence in (
        (asked.ph_most, "15", "The pH lies between 0 and 14; 15 does not."),
        (asked.ratio_least, "x", "The ratio is a number, as 7.5 or 7,5; “x” is none."),
        (asked.from_day, "March", "The first day is a day as 2026-03-12; “March” is none."),
    ):
        line.setText(typed)
        shelf.settle()
        assert line.accessibleDescription() == sentence
        assert sentence in [answers.text() for answers in asked._answers if answers.isVisible()]
        # What was shown stays, and so does what was typed.
        assert len(shelf.codes()) == 8
        assert line.text() == typed
        line.clear()
        shelf.settle()
        assert not [answers for answers in asked._answers if answers.isVisible()]


def test_a_range_the_wrong_way_round_is_answered(shelf: Shelf) -> None:
    asked = shelf.place.shades.filter
    asked.ph_least.setText("9")
    asked.ph_most.setText("5")
    assert asked.wanted() is None
    assert "turn them round" in asked.ph_most.accessibleDescription()


def test_typing_asks_for_the_last_word_and_not_for_every_letter(shelf: Shelf) -> None:
    asked: list[str] = []
    ask = shelf.desk.ask

    def counted(question: object, *more: object) -> None:
        asked.append("asked")
        ask(question, *more)

    shelf.desk.ask = counted  # type: ignore[method-assign, assignment]
    QTest.keyClicks(shelf.place.shades.filter.words, "madder exhausting")
    for _ in range(8):
        shelf.place.shades.filter.words.backspace()
    during = len(asked)
    shelf.desk.ask = ask  # type: ignore[method-assign]
    shelf.settle()
    assert during <= 2
    assert shelf.place.shades.filter.words.text() == "madder ex"
    assert shelf.codes() == []
    shelf.place.shades.filter.words.setText("madder")
    shelf.settle()
    assert len(shelf.codes()) == 2


def test_columns_sort_and_the_chosen_stay_chosen(shelf: Shelf) -> None:
    choose(shelf, "S-004", "W-007")
    header = shelf.place.shades.table.horizontalHeader()
    header.setSortIndicator(PLACE["piece"], Qt.SortOrder.AscendingOrder)
    assert shelf.codes() == sorted(shelf.codes())
    chosen = shelf.place.shades.chosen_shades()
    assert [one.history.piece.code for one in chosen] == ["S-004", "W-007"]
    assert shelf.place.shades.current is not None
    assert shelf.place.shades.current.history.piece.code == "S-004"
    header.setSortIndicator(PLACE["exhaust"], Qt.SortOrder.DescendingOrder)
    assert shelf.codes()[0] == "W-008"
    # Asked anew, the order stays.
    shelf.place.refresh()
    shelf.settle()
    assert shelf.codes()[0] == "W-008"


def test_what_is_chosen_stays_chosen_when_others_change_the_library(shelf: Shelf) -> None:
    choose(shelf, "W-003", "W-001")

    def job(library: Library) -> None:
        with library.edit("another") as edit:
            piece = add_piece(edit, Piece("W-100"))
            keep_reading(edit, a_reading(piece))

    shelf.desk.change("add a piece", job)
    shelf.settle()
    assert "W-100" in shelf.codes()
    chosen = {one.history.piece.code for one in shelf.place.shades.chosen_shades()}
    assert chosen == {"W-003", "W-001"}
    assert shelf.place.shades.filter.count.text() == "9 shades"
    choose(shelf, "W-100")
    shelf.undo.undo()
    shelf.settle()
    # The one that was looked at is gone; its neighbour is looked at.
    assert "W-100" not in shelf.codes()
    assert shelf.place.shades.current is not None


def test_swatches_lie_on_mid_grey_and_show_the_same_choice(shelf: Shelf) -> None:
    choose(shelf, "W-003")
    place = shelf.place
    place.look_at(SWATCHES)
    swatches = place.shades.swatches
    assert place.shades.views.currentWidget() is swatches
    picture = QImage(swatches.viewport().size(), QImage.Format.Format_RGB32)
    swatches.viewport().render(picture)
    rect = swatches.visualRect(place.shades.model.index(0, 0))
    assert picture.pixelColor(rect.left() + 2, rect.top() + 2) == GROUND
    assert picture.pixelColor(rect.left() + 70, rect.top() + 40) == QColor("#d6c84a")
    last = swatches.visualRect(place.shades.model.index(1, 0)).center()
    QTest.mouseClick(swatches.viewport(), Qt.MouseButton.LeftButton, pos=last)
    place.look_at(TABLE)
    # A whole line of the table, not its first cell alone.
    selection = place.shades.selection
    assert chosen_rows(selection) == [1]
    assert selection.isRowSelected(1)


def test_chosen_shades_go_to_a_card_in_the_order_shown(shelf: Shelf) -> None:
    cards: list[tuple[int, ...]] = []
    shelf.place.card_wanted.connect(cards.append)
    choose(shelf, "W-005", "W-001", "S-002")
    shelf.place.card.click()
    shown = [one.reading.id for one in shelf.place.shades.model.shades]
    assert len(cards[0]) == 3
    assert list(cards[0]) == sorted(cards[0], key=shown.index)


def test_all_shades_that_are_shown_go_to_a_card_where_only_one_is_looked_at(shelf: Shelf) -> None:
    cards: list[tuple[int, ...]] = []
    shelf.place.card_wanted.connect(cards.append)
    shown = tuple(one.reading.id for one in shelf.place.shades.model.shades)
    choose(shelf, "W-005")
    shelf.place.card.click()
    shelf.place.shades.selection.clear()
    shelf.place.card.click()
    assert len(shown) > 1
    assert cards == [shown, shown]


def test_the_shown_shades_are_saved_as_csv(shelf: Shelf, tmp_path: Path) -> None:
    pick(shelf, "dyestuff", "madder")
    shelf.place.save_csv(tmp_path / "madder")
    shelf.settle()
    lines = (tmp_path / "madder.csv").read_text(encoding="utf-8-sig").splitlines()
    assert len(lines) == 3
    assert lines[0].startswith("piece,")
    assert shelf.place.told.text() == f"2 shades are in {tmp_path / 'madder.csv'}."
    shelf.place.save_csv(tmp_path / "nowhere" / "madder.csv")
    shelf.settle()
    assert [error.code for error in shelf.refused] == ["cannot_write"]


def test_readings_that_were_just_saved_are_shown_and_chosen(shelf: Shelf) -> None:
    pick(shelf, "dyestuff", "madder")
    shelf.place.look_at(BATHS)
    wanted = shelf.ask(lambda library: [one.id for one in library.where(Piece, "code = 'W-001'")])
    shelf.place.choose(wanted)
    shelf.settle()
    assert shelf.place.looked_at == TABLE
    assert [one.reading.id for one in shelf.place.shades.chosen_shades()] == wanted
    assert len(shelf.codes()) == 8


def test_pieces_and_baths_are_listed_even_where_no_shade_shows_them(shelf: Shelf) -> None:
    def job(library: Library) -> None:
        with library.edit("bare") as edit:
            add_piece(edit, Piece("C-100", "not dyed yet"))

    shelf.desk.change("add a piece", job)
    shelf.place.look_at(PIECES)
    shelf.settle()
    assert shelf.place.pieces.model.index(0, 0).data() == "C-100"
    assert shelf.place.pieces.model.rowCount() == 9
    shelf.place.look_at(BATHS)
    shelf.settle()
    told = [shelf.place.baths.model.index(0, place).data() for place in range(3)]
    assert told == ["bath-005", "madder", "exhaust bath 1 of bath-004"]


def test_another_library_takes_the_place_of_the_one_before(shelf: Shelf, tmp_path: Path) -> None:
    choose(shelf, "W-003")
    shelf.desk.open(tmp_path / "empty", create=True)
    shelf.settle()
    assert shelf.codes() == []
    assert "Measure a photo" in shelf.place.shades.nothing.text()
    assert shelf.place.shades.details.story is None


class CountingModel(ShadesModel):
    """Counts how often it is asked how many lines it has."""

    asked = 0

    def rowCount(self, parent: QModelIndex = QModelIndex()) -> int:  # noqa: N802, B008
        CountingModel.asked += 1
        return super().rowCount(parent)


@pytest.fixture
def long_shelf(
    monkeypatch: pytest.MonkeyPatch, qtbot: QtBot, qapp: QApplication, tmp_path: Path
) -> Iterator[Shelf]:
    monkeypatch.setattr("dyeshade.window.library_shades.ShadesModel", CountingModel)

    def many(library: Library) -> None:
        library._connection.execute("PRAGMA synchronous = OFF")
        fill_with_many(library, 2_000)

    yield from shelf_with(qtbot, qapp, tmp_path / "many", many)


def test_many_shades_are_chosen_and_painted_without_asking_each(long_shelf: Shelf) -> None:
    shades = long_shelf.place.shades
    shades.table.selectAll()
    long_shelf.place.refresh()
    long_shelf.settle()
    assert len(shades.chosen_shades()) == 2_000
    assert len(shades.selection.selection()) == 1
    shades.selection.clear()
    shades.table.grab()
    CountingModel.asked = 0
    shades.table.selectAll()
    shades.table.grab()
    assert 0 < CountingModel.asked < 2_000


def test_the_chosen_shades_are_copied_for_a_spreadsheet(shelf: Shelf) -> None:
    choose(shelf, "W-007", "W-008")
    QTest.keySequence(shelf.place.shades.table, QKeySequence(QKeySequence.StandardKey.Copy))
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0].split("\t")[:3] == ["Piece", "Dyestuff", "Fibre"]
    assert sorted(line.split("\t")[0] for line in lines[1:]) == ["W-007", "W-008"]


def test_tab_goes_through_the_place_as_it_is_read(shelf: Shelf) -> None:
    place, asked = shelf.place, shelf.place.shades.filter
    place._ways.button(TABLE).setFocus()
    met = [place.focusWidget()]
    for _ in range(26):
        QTest.keyClick(place.focusWidget(), Qt.Key.Key_Tab)
        met.append(place.focusWidget())
    for one, other in pairwise(
        [place.card, asked.dyestuff, asked.exhaust, asked.ph_least, asked.words,
         place.shades.table]
    ):  # fmt: skip
        assert met.index(one) < met.index(other)


def test_find_goes_to_the_words_from_anywhere_in_the_place(shelf: Shelf) -> None:
    shelf.place.look_at(PIECES)
    shelf.settle()
    shelf.activateWindow()
    shelf.qtbot.waitUntil(shelf.isActiveWindow)
    shelf.place.pieces.table.setFocus()
    QTest.keySequence(shelf.place.pieces.table, QKeySequence(QKeySequence.StandardKey.Find))
    assert shelf.place.looked_at == TABLE
    assert shelf.place.shades.filter.words.hasFocus()
