"""Cameras and printed sheets are learnt in the window, and photos are measured with them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from dyeshade.cie.white import D65
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.measure.calibrate_camera import CameraCalibrated
from dyeshade.measure.calibrations import SheetCalibration
from dyeshade.measure.chart import carried_chart
from dyeshade.measure.result import Measurement
from dyeshade.window import learning_dialog
from dyeshade.window.know_camera import KnowCamera
from dyeshade.window.know_sheet import KnowSheet
from dyeshade.window.learn_view import KEY
from dyeshade.window.main_window import MainWindow
from dyeshade.words.calibrations import list_lines
from dyeshade.work.calibrate import keep_calibration, kept_calibrations
from dyeshade.work.learn_from_photo import LearnLook, ToLearn, learn
from tests.measure.chart_photos import chart_picture, taken, tilted
from tests.window.drive import LEFT, changed, settled

CHART = carried_chart("24")
SERIAL = "K7QF-3M9" + "G"


@pytest.fixture
def chart_photo(tmp_path: Path) -> Path:
    """A small photo of a chart alone, by a camera that says its name."""
    picture = np.full((620, 800, 3), 0.3)
    drawn = chart_picture(CHART, 80)
    picture[60 : 60 + drawn.shape[0], 60 : 60 + drawn.shape[1]] = drawn
    photo = taken(picture, tilted((800, 620), 6), (800, 620), 1.08)
    exif = Image.Exif()
    exif[271], exif[272] = "Hollow Weir", "One"
    path = tmp_path / "chart.png"
    Image.fromarray(photo.coded).save(path, exif=exif)
    return path


@pytest.fixture
def here(monkeypatch: pytest.MonkeyPatch) -> None:
    """Learnt in this process; that photos are read in another is for test_side_by_side."""
    monkeypatch.setattr(learning_dialog, "learn_from_photo", lambda asked, _warm: learn(asked))


def of_sheet(serial: str) -> SheetCalibration:
    levels = np.array([0.88, 0.2, 0.035])
    return SheetCalibration(
        serial, "A4", "six", "typed", levels, 1.03 * levels[:, None] * D65, 0.01
    )


def used(window: MainWindow) -> tuple[int, ...]:
    """Numbers of the calibrations that measuring uses."""
    return window.calibrations.value.ids


def test_a_camera_is_learnt_kept_listed_forgotten_and_that_undone(
    window: MainWindow, qtbot: QtBot, here: None, chart_photo: Path
) -> None:
    window.go("sheet")
    window.sheet_place.known.click()
    known = window.knowing.list
    assert known is not None
    assert known.none.isVisible()
    QTest.mouseClick(known.camera, LEFT)
    dialog = window.knowing.dialog
    assert isinstance(dialog, KnowCamera)
    assert not dialog.keeps.isEnabled()
    dialog.take_photo(str(chart_photo))
    qtbot.waitUntil(lambda: dialog.look is not None, timeout=60_000)
    assert dialog.look is not None
    assert isinstance(dialog.look.found, CameraCalibrated)
    assert "found by itself" in dialog.state.text()
    assert "5 in 100" in dialog.said.text()
    assert dialog.pairs.words_at(QPoint(dialog.pairs.width() // 2 + 10, 20)).startswith("Patch 4")
    QTest.mouseClick(dialog.keeps, LEFT)
    qtbot.waitUntil(lambda: len(known.model.kept) == 1)
    assert window.knowing.dialog is None
    (kept,) = known.model.kept
    assert "Camera Hollow Weir One, PNG, daylight" in str(known.model.index(0, 0).data())
    assert used(window) == (kept.record.id,)
    known.use.click()
    qtbot.waitUntil(lambda: known.model.index(0, 4).data() == "no")
    assert not used(window)
    known.forget.click()
    qtbot.waitUntil(lambda: not known.model.kept)
    for _ in range(2):
        known.back.click()
    qtbot.waitUntil(lambda: bool(known.model.kept) and known.model.index(0, 4).data() == "yes")
    assert used(window) == (kept.record.id,)


def test_corners_are_placed_by_hand_where_a_chart_is_not_found(
    window: MainWindow, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, chart_photo: Path
) -> None:
    asked: list[ToLearn] = []

    def not_found(wish: ToLearn, _warm: object) -> LearnLook:
        asked.append(wish)
        data = chart_photo.read_bytes()
        return LearnLook(wish, DyeshadeError("chart_not_found"), (800, 620), data)

    monkeypatch.setattr(learning_dialog, "learn_from_photo", not_found)
    window.knowing.know_camera()
    dialog = window.knowing.dialog
    assert dialog is not None
    dialog.take_photo(str(chart_photo))
    qtbot.waitUntil(lambda: KEY in dialog.view.outlines)
    assert "Drag the four corners" in dialog.trouble.text()
    assert "--" not in dialog.trouble.text()
    outline = dialog.view.outlines[KEY]
    start = outline.points()[0]
    end = start - 40
    port = dialog.view.viewport()
    first, last = (dialog.view.mapFromScene(*map(float, one)) for one in (start, end))
    QTest.mousePress(port, LEFT, Qt.KeyboardModifier.NoModifier, first)
    QTest.mouseMove(port, last)
    QTest.mouseRelease(port, LEFT, Qt.KeyboardModifier.NoModifier, last)
    qtbot.waitUntil(lambda: len(asked) == 2 and dialog.look is not None)
    assert asked[0].corners_px is None
    moved = asked[1].corners_px
    assert moved is not None
    assert moved[0] == pytest.approx(end, abs=2)
    assert moved[1:] == pytest.approx(outline.points()[1:])
    # A chart has four corners, whatever is clicked.
    outline = dialog.view.outlines[KEY]
    outline.add_corner()
    outline.drop_corner(1)
    assert len(outline.points()) == 4
    dialog.reject()


def test_values_of_a_sheet_are_typed_and_what_is_mistyped_is_answered(
    window: MainWindow, qtbot: QtBot
) -> None:
    qtbot.waitUntil(lambda: window.desk.can_write)
    window.knowing.know_sheet()
    dialog = window.knowing.dialog
    assert isinstance(dialog, KnowSheet)
    dialog.ways["typed"].click()
    assert dialog.values.isVisible()
    values = dialog.values
    for serial, paper, answer in (
        ("", "90", "Which sheet"),
        ("K7QF-3M9A", "90", "mistyped"),
        (SERIAL, "", "at least one"),
        (SERIAL, "900", "100"),
    ):
        values.serial.setText(serial)
        values.fields["paper"].setText(paper)
        dialog.keeps.click()
        assert answer in values.told.text()
    values.fields["paper"].setText("90")
    values.fields["8"].setText("3,2")
    dialog.keeps.click()
    qtbot.waitUntil(lambda: window.knowing.dialog is None)
    lines: list[list[str]] = []
    window.desk.ask(lambda library: list_lines(kept_calibrations(library)), lines.append)
    qtbot.waitUntil(lambda: bool(lines))
    assert f"sheet {SERIAL}, from measured values" in lines[0][0]


def test_an_open_photo_is_measured_anew_with_its_sheet_s_calibration_and_a_tick_leaves_it_out(
    measured: MainWindow, qtbot: QtBot
) -> None:
    window, panel = measured, measured.measuring_place.panel
    page = window.measuring_place.page
    assert page is not None
    assert page.measurement is not None
    assert page.measurement.sheet is not None
    assert not panel.learnt.isVisible()
    plain = page.measurement.samples[0].shade.lab
    value = of_sheet(str(page.measurement.sheet.serial))
    before = page.look
    window.desk.change("learn", lambda library: keep_calibration(library, value))
    qtbot.waitUntil(lambda: page.look is not before, timeout=60_000)
    settled(window, qtbot)
    assert page.measurement.calibration_id == 1
    assert panel.learnt.isVisible()
    assert panel.learnt.isChecked()
    assert panel.learnt.text().startswith("Corrected by this sheet's calibration of ")
    # Paper that reflects 3 % more makes all that lies on it lighter.
    lighter = page.measurement.samples[0].shade.lab
    assert lighter[0] > plain[0] + 0.3
    changed(window, qtbot, panel.learnt.click)
    assert page.measurement.samples[0].shade.lab == pytest.approx(plain)
    assert panel.learnt.text().startswith("Use this sheet's calibration of ")
    changed(window, qtbot, window.undo.undo)
    assert page.measurement.samples[0].shade.lab == pytest.approx(lighter)
    assert panel.learnt.isChecked()


def test_a_print_that_has_changed_is_told_where_it_is_seen(
    measured: MainWindow, qtbot: QtBot
) -> None:
    panel, page = measured.measuring_place.panel, measured.measuring_place.page
    assert page is not None
    assert page.look is not None
    assert isinstance(page.look.found, Measurement)
    told = Notice("sheet_changed", {"serial": SERIAL, "percent": 4.2})
    # As measuring tells it: tests/measure/test_calibrate.py.
    found = replace(page.look.found, notices=(*page.look.found.notices, told))
    page.take(replace(page.look, found=found))
    measured.measuring_place.refresh()
    assert "may have faded" in panel.changed.text()
    assert panel.changed.isVisible()
    assert "may have faded" not in panel.notes.text()
    assert "look at its sheet" in str(measured.measuring.photos.index(0, 0).data())
