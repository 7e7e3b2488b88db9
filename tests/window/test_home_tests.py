"""Home fastness tests in the window: set up, asked for at the start, kept from a photo in hand."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from dyeshade.library.library import Library
from dyeshade.library.trial_records import HomeTestPair, HomeTestRecord
from dyeshade.window.home_test_form import HomeTestForm
from dyeshade.window.main_window import MainWindow
from dyeshade.work.home_test_photo import keep_test_readings
from dyeshade.work.home_tests import Part, SaidTest, set_up_test
from dyeshade.work.home_tests_kept import kept_tests_of, readings_of_piece, running_tests
from dyeshade.work.keep_pieces import keep_piece
from dyeshade.work.said import Said
from tests.window.comparing import Comparing, comparing_with
from tests.window.conftest import EXAMPLES
from tests.window.drive import PATIENCE_MS, opened

SIX = str(EXAMPLES / "ph_series_wool.jpg")
TAKEN = datetime(2025, 3, 14, 11, 20)


@pytest.fixture
def room(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Comparing]:
    yield from comparing_with(qtbot, qapp, tmp_path / "shades")


def form_of(room: Comparing) -> HomeTestForm:
    page = room.place.fastness
    room.place.look_at(page)
    room.settle()
    page.tests.set_up.click()
    room.settle()
    assert page.tests.form is not None
    return page.tests.form


def set_up_in(room: Comparing) -> list[HomeTestRecord]:
    return room.ask(lambda library: library.where(HomeTestRecord))


def test_a_test_is_set_up_waits_for_its_photo_and_is_taken_back(room: Comparing) -> None:
    form = form_of(room)
    form.piece.setText("w-002")
    form.wools[3].setChecked(True)
    assert "Cover one half" in form.steps.text()
    tomorrow = datetime.now() + timedelta(days=1)
    assert str(tomorrow.year) in form.plan.text()
    form.keeps.click()
    room.settle()
    page = room.place.fastness
    (made,) = set_up_in(room)
    assert (made.kind, list(made.blue_wools)) == ("light", [3])
    assert page.tests.list.item(0).text().startswith("W-002: light")
    assert "W-002, both halves, with blue wool 3, on the sheet" in page.tests.due.text()
    assert (page.piece.code, page.kind.currentData()) == ("W-002", "light")
    assert "no photo yet" in page.answer.text()
    room.undo.undo()
    room.settle()
    assert set_up_in(room) == []
    assert not page.tests.list.isVisible()


def test_cautions_stand_where_they_apply_and_a_dip_needs_its_ph(room: Comparing) -> None:
    form = form_of(room)
    shown = {}
    for row in range(form.kind.count()):
        form.kind.setCurrentIndex(row)
        shown[form.chosen_kind] = (form.cautions.isVisible(), form.cautions.text())
        assert form.ph.isVisible() == form.chosen_kind.endswith("dip")
        assert form.wools[1].isVisible() == (form.chosen_kind == "light")
    assert not shown["light"][0]
    assert "bleach" in shown["acid_dip"][1]
    assert "burn skin and eyes" in shown["alkaline_dip"][1]
    form.kind.setCurrentIndex(form.kind.findData("acid_dip"))
    form.piece.setText("W-002")
    form.keeps.click()
    assert form.isVisible()
    form.ph.setText("4,2")
    form.days.setText("1, two")
    form.keeps.click()
    assert form.isVisible()
    form.days.setText("1, 30")
    form.keeps.click()
    room.settle()
    (made,) = set_up_in(room)
    assert (made.kind, list(made.photo_days)) == ("acid_dip", [1, 30])
    form = form_of(room)
    form.piece.setText("W-002")
    form.kind.setCurrentIndex(form.kind.findData("acid_dip"))
    form.ph.setText("4")
    form.keeps.click()
    room.settle()
    assert "under way with W-002 already" in form.trouble.text()
    form.reject()


def test_a_test_shows_its_ladder_and_can_be_ended_gone_on_with_and_removed(
    room: Comparing,
) -> None:
    """The halves of the faded piece were photographed before anybody set up a test of them."""

    def kept(library: Library) -> None:
        readings = readings_of_piece(library, "W-001")
        first = min(one.read for one in readings if one.state == "after_light")
        test = set_up_test(library, SaidTest("W-001", "light", first - timedelta(days=50)))
        for bare in (one for one in readings if one.state == "after_light"):
            covered = next(o for o in readings if o.photo_id == bare.photo_id and o.id != bare.id)
            halves = {Part("piece", False): covered.id, Part("piece", True): bare.id}
            keep_test_readings(library, test.id, halves)

    room.ask(kept)
    page = room.place.fastness
    room.place.look_at(page)
    page.tests.ask()
    room.settle()
    page.tests.list.setCurrentRow(0)
    page.tests.list.itemActivated.emit(page.tests.list.item(0))
    room.settle()
    assert page.answer.text().startswith("Home test of W-001: light, day 110: grade")
    ladder, sizes = page.panel.view.figure.rows[0]
    assert [tick[1] for tick in ladder.x.ticks][:4] == ["0", "1", "2", "4"]
    assert [len(plot.marks) for plot in (ladder, sizes)] == [2, 2]
    assert all(mark.y_ends[0] <= mark.y <= mark.y_ends[1] for mark in ladder.marks)
    assert page.model.records[-1].cells[-1] == "one photo"
    page.tests.end.click()
    room.settle()
    assert "ended on" in page.tests.list.item(0).text()
    assert not page.tests.due.isVisible()
    page.tests.end.click()
    room.settle()
    assert set_up_in(room)[0].ended is None
    page.tests.away.click()
    room.settle()
    assert set_up_in(room) == []
    # What the piece's history tells by itself is still there.
    assert page.answer.text().startswith("Home test of W-001: light: grade")


@pytest.fixture
def due(remembering: None, window: MainWindow, qtbot: QtBot) -> MainWindow:
    """A window with a photo of six samples, and a test that waits for its photo of day 8."""

    def begin(library: Library) -> None:
        with library.edit("piece") as edit:
            keep_piece(edit, "HW-12", Said(name="madder skein", fibre="wool"))
        begun = TAKEN - timedelta(days=8)
        set_up_test(library, SaidTest("HW-12", "light", begun, blue_wools=(4,)))

    opened(window, qtbot, [SIX])
    told: list[None] = []
    window.desk.ask(begin, told.append)
    qtbot.waitUntil(lambda: bool(told), timeout=PATIENCE_MS)
    return window


def test_what_is_due_stands_at_the_start_and_the_photo_in_hand_is_kept_with_it(
    due: MainWindow, qtbot: QtBot
) -> None:
    start = due.places["start"]
    due.go("start")
    qtbot.waitUntil(lambda: start.reminders.isVisible(), timeout=PATIENCE_MS)
    assert "Photograph HW-12, both halves, with blue wool 4, on the sheet" in start.due.text()
    start.tests.click()
    page = due.places["compare"].fastness
    assert page.isVisible()
    qtbot.waitUntil(lambda: page.tests.list.count() == 1, timeout=PATIENCE_MS)
    due.go("measuring")
    place = due.measuring_place
    recording = place.dialogs.home_test
    qtbot.waitUntil(lambda: place.assign.home_test.isVisible(), timeout=PATIENCE_MS)
    place.assign.home_test.click()
    qtbot.waitUntil(lambda: recording.form is not None, timeout=PATIENCE_MS)
    form = recording.form
    assert "day 8 of the test" in form.when.text()
    assert [box.accessibleName() for box in form.spots.values()] == [
        "covered half",
        "bare half",
        "blue wool 4, covered",
        "blue wool 4, bare",
    ]
    form.keeps.click()
    assert "covered half; bare half" in form.trouble.text()
    for box, sample in zip(form.spots.values(), "AACD", strict=True):
        box.setCurrentIndex(box.findData(sample))
    form.keeps.click()
    assert "chosen twice" in form.trouble.text()
    form.spots[Part("piece", True)].setCurrentIndex(2)
    before = due.undo.index()
    form.keeps.click()
    qtbot.waitUntil(lambda: due.undo.index() == before + 1, timeout=PATIENCE_MS)
    told = place.assign.told
    qtbot.waitUntil(lambda: "Kept with the home test" in told.text(), timeout=PATIENCE_MS)
    assert "grade" in told.text()
    photo = place.page
    assert {name: (one.piece, one.state) for name, one in photo.said.items()} == {
        "A": ("HW-12", "dry"),
        "B": ("HW-12", "after_light"),
        "C": ("blue wool 4", "dry"),
        "D": ("blue wool 4", "after_light"),
    }
    assert photo.unsaved == []

    def pairs(library: Library) -> tuple[int, datetime | None]:
        (test,) = kept_tests_of(library, "HW-12")
        return len(library.where(HomeTestPair)), test.due

    found: list[object] = []
    due.desk.ask(pairs, found.append)
    qtbot.waitUntil(lambda: bool(found), timeout=PATIENCE_MS)
    assert found[-1] == (2, TAKEN + timedelta(days=8))
    due.undo.undo()
    due.desk.ask(lambda library: len(running_tests(library)[0].photos), found.append)
    qtbot.waitUntil(lambda: len(found) == 2, timeout=PATIENCE_MS)
    assert found[-1] == 0
