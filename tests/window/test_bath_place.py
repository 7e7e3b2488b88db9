"""From an empty bath to finished pieces in the window; what cannot be meant, and what is not lost.

Pieces and baths are invented.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from dyeshade.library.drafts import drafts
from dyeshade.library.dye_records import Bath, Piece
from dyeshade.library.library import create_library, open_library
from dyeshade.window.again_dialog import AgainDialog
from dyeshade.window.bath_rows import BathField, BathRow
from dyeshade.work.dye_day import begun
from dyeshade.work.kept_plan import kept_plan
from tests.window.bath_window import Room, shown

ENTER = Qt.Key.Key_Return


def test_amounts_follow_what_is_typed_in_both_systems(room: Room):
    room.plan_weld()
    told = shown(room.place.amounts)
    assert "687 g (1 lb 8.2 oz) of fibre, 2 pieces" in told
    assert "1.374 kg (3 lb 0.5 oz)" in told
    assert "567 g" in told
    assert "4.23 oz" in told
    assert "20.6 L (5.44 US gal)" in told
    assert "safety data sheet" in told


@pytest.mark.parametrize(
    ("text", "says"),
    [("-5 g", "never below 0"), ("12 lbb", "no unit"), ("0 g", "above 0"), ("", "Nothing")],
)
def test_a_weight_that_cannot_be_meant_is_answered_beside_it(room: Room, text: str, says: str):
    room.plan_weld()
    row = cast(BathRow, room.place.amounts.pieces.rows[1])
    row.named["weight"].setText(text)
    room.place.keep.click()
    assert says in row.answers.text()
    assert row.named["weight"].text() == text
    assert row.named["weight"].accessibleDescription() == row.answers.text()
    row.named["weight"].setText("120 g")
    assert not row.answers.isVisible()
    assert room.undo.count() == 0


def test_a_pot_of_nothing_and_a_ph_of_15_are_answered_in_their_places(room: Room):
    room.plan_weld()
    room.place.amounts.pot.setText("0 L")
    room.place.keep.click()
    assert "above 0" in shown(room.place.amounts)
    room.place.amounts.pot.setText("20 L")
    room.place.ph.form.target.setText("15")
    room.place.keep.click()
    assert room.place.pages.currentWidget() is room.place.ph
    assert "There is no pH 15" in shown(room.place.ph)
    assert room.place.ph.form.target.text() == "15"


def test_from_an_empty_bath_to_finished_pieces(room: Room):
    room.plan_weld()
    room.keep()
    assert not room.place.bathing.dirty
    assert not room.place.keep.isEnabled()
    place = room.place
    place.go(1)
    place.ph.form.target.setText("7.5")
    place.ph.form.temperature.setText("100 °F")
    place.ph.log.ph.setText("15")
    QTest.keyClick(place.ph.log.ph, ENTER)
    assert "There is no pH 15" in place.ph.log.answers.text()
    place.ph.log.ph.setText("5.2")
    QTest.keyClick(place.ph.log.ph, ENTER)
    room.until(lambda: "once more" in place.ph.do.text())
    place.ph.log.ph.setText("5.3")
    QTest.keyClick(place.ph.log.ph, ENTER)
    room.until(lambda: "Add " in place.ph.do.text())
    assert place.ph.log.ph.text() == ""
    assert "Target 7.5" in place.ph.plot.accessibleDescription()
    assert place.ph.log.amount.text().endswith(" ml")
    assert "Washing soda, lime and lye burn" in shown(place.ph)
    proposed = place.ph.log.amount.text()
    place.ph.log.added.click()
    room.until(lambda: proposed in place.ph.log_told.text())
    place.go(2)
    first = place.day.steps.rows[1]
    first.go.click()
    room.until(lambda: "59 min" in place.day.timers.text())
    room.settle()
    assert not place.bathing.dirty
    place.day.ph.setText("7.2")
    place.day.out.click()
    room.until(lambda: "Out of this bath" in place.day.said.text())
    assert "W-001 and S-009" in place.day.said.text()
    assert not place.day.out.isEnabled()
    pieces = room.library(lambda library: library.where(Piece))
    assert [(one.code, round(one.weight_g)) for one in pieces] == [("W-001", 567), ("S-009", 120)]
    # Each of these was one step, and each is taken back.
    while room.undo.canUndo():
        room.undo.undo()
        room.settle()
    assert room.library(lambda library: library.where(Bath)) == []
    assert place.amounts.pieces.values()[0].weight == "1 lb 4 oz"


def test_what_is_typed_outlives_the_window(look_on: None, qtbot: QtBot, tmp_path: Path):
    folder = tmp_path / "shades"
    create_library(folder).close()
    one = Room(qtbot, folder)
    one.plan_weld()
    one.place.amounts.pot.setText("ten litr")
    one.close()
    one.forget()
    with open_library(folder) as library:
        assert len(drafts(library)) == 1
        assert library.where(Bath) == []
    other = Room(qtbot, folder)
    other.until(lambda: other.place.amounts.pot.text() == "ten litr")
    assert other.place.amounts.pieces.values()[1].code == "S-009"
    other.place.amounts.pot.setText("30 L")
    other.keep()
    other.close()
    other.forget()
    with open_library(folder) as library:
        assert drafts(library) == []
        (bath,) = library.where(Bath)
        assert kept_plan(library, bath.id).typed.pot == "30 L"


def test_changes_of_a_kept_bath_wait_while_another_is_looked_at(room: Room):
    room.plan_weld()
    room.keep()
    room.place.amounts.liquor.setText("40:1")
    room.place.new.click()
    room.settle()
    assert room.place.amounts.liquor.text() == "30:1"
    assert room.place.title.text() == "bath-002"
    texts = [room.place.list.item(k).text() for k in range(room.place.list.count())]
    assert texts[1] == "bath-001\nweld, changed"
    room.place.list.setCurrentRow(1)
    room.until(lambda: room.place.amounts.liquor.text() == "40:1")


def test_keeping_taken_back_and_done_again_is_one_bath(room: Room):
    room.plan_weld()
    room.keep()
    assert "is kept" in shown(room.place)
    room.undo.undo()
    room.settle()
    assert room.place.list.count() == 1
    assert room.place.keep.isEnabled()
    assert "is kept" not in shown(room.place)
    room.undo.redo()
    room.settle()
    assert room.place.list.count() == 1
    assert not room.place.bathing.dirty


def test_an_exhaust_bath_is_begun_from_the_bath_in_hand(room: Room):
    room.plan_weld()
    room.keep()
    room.place.exhaust.click()
    room.until(lambda: room.place.title.text() == "bath-002")
    room.row(room.place.amounts.pieces, 0, fibre="silk", weight="50 g")
    room.place.keep.click()
    assert room.place.amounts.left.accessibleDescription()
    room.place.amounts.left.setText("40 %")
    assert "Exhaust bath 1" in shown(room.place.amounts)
    room.keep()
    baths = room.library(lambda library: library.where(Bath))
    assert [(one.code, one.exhaust_number) for one in baths] == [("bath-001", 0), ("bath-002", 1)]


def test_it_is_made_again_for_350_g(room: Room):
    room.plan_weld()
    room.keep()
    room.place.again.click()
    dialog = room.place.findChild(AgainDialog)
    assert dialog is not None
    dialog.weight.setText("a lot")
    dialog.accept()
    assert "no number" in dialog.answers.text()
    dialog.weight.setText("350 g")
    dialog.accept()
    assert room.place.title.text() == "bath-002"
    assert "350 g (12.35 oz) of fibre" in shown(room.place.amounts)


def test_the_store_says_whether_it_is_enough(room: Room):
    store = room.place.store
    room.place.go(3)
    store.name.setText("weld")
    store.weight.setText("12 lbb")
    store.new.button.click()
    room.until(lambda: "no unit" in store.new.answers.text())
    assert store.name.text() == "weld"
    store.weight.setText("1 lb")
    QTest.keyClick(store.weight, ENTER)
    room.until(lambda: store.name.text() == "")
    room.settle()
    store.asked.setText("weld")
    store.ratio.setText("two to one")
    store.fibre.setText("240 g")
    store.ask.button.click()
    assert "lacking" in store.answer.text()
    assert "0.9 oz" in store.answer.text()
    room.undo.undo()
    room.until(lambda: not room.place.bathing.own.lots)


def test_tab_goes_as_the_page_is_read(room: Room):
    room.plan_weld()
    QApplication.processEvents()
    amounts = room.place.amounts
    at: QWidget = amounts.code
    seen = []
    while at is not room.place.amounts.foraged:
        at = at.nextInFocusChain()
        if at.isVisible() and at.focusPolicy() & Qt.FocusPolicy.TabFocus:
            seen.append(at)
    places = [
        seen.index(one)
        for one in (
            cast(BathRow, amounts.pieces.rows[0]).named["weight"],
            amounts.pieces.add,
            cast(BathRow, amounts.dyes.rows[0]).named["name"],
            cast(BathRow, amounts.substances.rows[0]).named["share"],
            amounts.liquor,
            amounts.pot,
            amounts.foraged,
        )
    ]
    assert places == sorted(places)


def test_a_timer_that_ran_out_while_the_program_was_closed_says_so(room: Room):
    room.plan_weld()
    room.keep()
    room.place.go(2)
    long_ago = datetime.now() - timedelta(minutes=100)
    room.place.bathing.put(begun(room.place.bathing.typed, 1, long_ago))
    room.place.day._show()
    assert "over since" in room.place.day.timers.text()


def test_whoever_comes_back_finds_the_bath_that_is_under_way(
    look_on: None, qtbot: QtBot, tmp_path: Path
):
    create_library(tmp_path / "shades").close()
    first = Room(qtbot, tmp_path / "shades")
    first.plan_weld()
    first.place.go(2)
    row = cast(BathRow, first.place.day.steps.rows[0])
    cast(BathField, row.note).setText("lid on")
    row.go.click()
    first.until(lambda: not first.place.bathing.dirty and first.place.bathing.key > 0)
    first.settle()
    code = first.place.bathing.typed.code
    first.close()
    first.forget()
    second = Room(qtbot, tmp_path / "shades")
    second.settle()
    assert second.place.bathing.typed.code == code
    second.place.go(2)
    assert "left, until" in second.place.day.timers.text()
    assert second.place.bathing.typed.steps[0].note == "lid on"
    second.close()
    second.forget()


def test_a_step_that_is_over_rings_whatever_the_window_shows(
    room: Room, monkeypatch: pytest.MonkeyPatch
):
    rung: list[int] = []
    monkeypatch.setattr(QApplication, "beep", lambda: rung.append(1))
    room.plan_weld()
    bathing = room.place.bathing
    almost = datetime.now() - timedelta(minutes=60) + timedelta(seconds=1)
    bathing.put(begun(bathing.typed, 1, almost))
    room.keep()
    room.place.new.click()
    room.until(lambda: bool(rung))
    assert room.place.rung.text() == "bath-001: simmer, not boil is over."
    room.settle()
    assert len(rung) == 1


def test_every_field_has_a_name_and_can_be_reached_by_keys(room: Room):
    room.plan_weld()
    for number in range(4):
        room.place.go(number)
        for field in room.place.pages.currentWidget().findChildren(QWidget):
            if isinstance(field, QLineEdit | QComboBox) and field.isVisible():
                assert field.accessibleName(), field
                assert field.focusPolicy() & Qt.FocusPolicy.TabFocus
