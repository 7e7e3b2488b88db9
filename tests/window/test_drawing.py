"""Outlines are dragged, reshaped, added, removed, and all of it is undone and done again."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QGraphicsSimpleTextItem, QInputDialog
from pytestqt.qtbot import QtBot

from dyeshade.measure.regions import HandGrey
from dyeshade.window.main_window import MainWindow
from dyeshade.window.photo_page import PhotoPage
from dyeshade.work.look_at_photos import Asked
from tests.window.drive import changed, drag, names, opened, settled


def outline(window: MainWindow, name: str) -> np.ndarray:
    return window.measuring_place.panel.view.outlines["sample", name].points()


def lab(window: MainWindow, name: str) -> np.ndarray:
    samples = window.measuring_place.samples
    sample = samples.entries[samples.row_of(name)].sample
    assert sample is not None
    return sample.shade.lab


@pytest.fixture
def board(tmp_path: Path) -> str:
    """A photo of a grey and a yellow on black, without a sheet."""
    pixels = np.zeros((600, 900, 3), np.uint8)
    pixels[100:300, 100:300] = 118
    pixels[300:500, 500:700] = (200, 180, 60)
    noise = np.random.default_rng(5).normal(0, 1.5, pixels.shape)
    photo = tmp_path / "board.png"
    Image.fromarray(np.clip(pixels + noise, 0, 255).round().astype(np.uint8)).save(photo)
    return str(photo)


@pytest.fixture
def by_grey(remembering: None, window: MainWindow, qtbot: QtBot, board: str) -> MainWindow:
    """The window with a photo in which a grey is drawn: quickly measured after each step."""
    grey = HandGrey(
        np.array([[120.0, 120.0], [280.0, 120.0], [280.0, 280.0], [120.0, 280.0]]), 0.18
    )
    window.measuring.take_in([PhotoPage(Asked(board, "window", (grey,)))])
    settled(window, qtbot)
    return window


def test_a_spot_is_drawn_renamed_moved_removed_and_all_is_undone(
    measured: MainWindow, qtbot: QtBot
) -> None:
    place = measured.measuring_place
    (cell,) = names(measured)
    middle = outline(measured, cell).mean(axis=0)
    place.panel.sample.click()
    changed(measured, qtbot, lambda: drag(measured, middle - 60, middle + 60))
    assert names(measured) == [cell, "spot 1"]
    assert not place.panel.sample.isChecked()
    assert lab(measured, "spot 1") == pytest.approx(lab(measured, cell), abs=3)

    index = place.samples.index(1, 0)
    changed(measured, qtbot, lambda: place.samples.setData(index, "warp"), measured=False)
    assert names(measured) == [cell, "warp"]
    assert not place.samples.setData(place.samples.index(1, 0), cell)

    before = outline(measured, "warp")
    way = np.array([30, 20])
    changed(measured, qtbot, lambda: drag(measured, middle, middle + way), measured=False)
    assert outline(measured, "warp") - before == pytest.approx(np.tile(way, (4, 1)), abs=6)

    place.panel.remove.click()
    assert names(measured) == [cell]
    for left in (["warp"], ["warp"], ["spot 1"], []):
        measured.undo.undo()
        assert names(measured) == [cell, *left]
    measured.undo.setIndex(3)
    settled(measured, qtbot)
    assert names(measured) == [cell, "warp"]
    assert lab(measured, "warp") == pytest.approx(lab(measured, cell), abs=3)


def test_a_renamed_spot_stays_chosen_and_keeps_what_was_said_of_it(
    measured: MainWindow, qtbot: QtBot
) -> None:
    place = measured.measuring_place
    (cell,) = names(measured)
    middle = outline(measured, cell).mean(axis=0)
    place.panel.sample.click()
    changed(measured, qtbot, lambda: drag(measured, middle - 60, middle + 60))
    QTest.keyClicks(place.assign.piece, "W-101")
    index = place.samples.index(1, 0)
    changed(measured, qtbot, lambda: place.samples.setData(index, "warp"), measured=False)
    assert place.assign.chosen[1] == ["warp"]
    assert place.assign.piece.text() == "W-101"
    assert place.page is not None
    assert set(place.page.said) == {"warp"}
    changed(measured, qtbot, measured.undo.undo)
    assert names(measured) == [cell, "spot 1"]
    assert place.page.said["spot 1"].piece == "W-101"


def test_a_long_name_on_the_photo_is_cut_short(measured: MainWindow, qtbot: QtBot) -> None:
    place = measured.measuring_place
    (cell,) = names(measured)
    middle = outline(measured, cell).mean(axis=0)
    place.panel.sample.click()
    changed(measured, qtbot, lambda: drag(measured, middle - 60, middle + 60))
    index = place.samples.index(1, 0)
    name = "the left border of a long cloth that was dyed with walnut hull in autumn"
    changed(measured, qtbot, lambda: place.samples.setData(index, name), measured=False)
    (label,) = (
        one
        for one in place.panel.view.outlines["sample", name].childItems()
        if isinstance(one, QGraphicsSimpleTextItem)
    )
    assert label.text().endswith("…")
    assert label.boundingRect().width() < 170
    assert names(measured) == [cell, name]


def test_a_cell_whose_corner_is_pulled_is_drawn_by_hand_from_then_on(
    measured: MainWindow, qtbot: QtBot
) -> None:
    place = measured.measuring_place
    (cell,) = names(measured)
    first = lab(measured, cell)
    place.sample_list.setCurrentIndex(place.samples.index(0, 0))
    points = outline(measured, cell)
    corner = int(points.sum(axis=1).argmin())
    inwards = points[corner] + 0.3 * (points.mean(axis=0) - points[corner])
    changed(measured, qtbot, lambda: drag(measured, points[corner], inwards), measured=False)
    assert outline(measured, cell)[corner] == pytest.approx(inwards, abs=6)
    assert place.samples.entries[0].drawn
    changed(measured, qtbot, measured.undo.undo)
    assert not place.samples.entries[0].drawn
    assert np.array_equal(lab(measured, cell), first)


def test_the_keyboard_alone_draws_and_moves(by_grey: MainWindow, qtbot: QtBot) -> None:
    place = by_grey.measuring_place
    view = place.panel.view
    place.panel.sample.click()
    QTest.keyClick(view, Qt.Key.Key_Escape)
    assert not place.panel.sample.isChecked()
    place.panel.sample.click()
    changed(by_grey, qtbot, lambda: QTest.keyClick(view, Qt.Key.Key_Return), measured=False)
    before = outline(by_grey, "spot 1")
    for _ in range(2):
        QTest.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
        qtbot.wait(20)
    moved = outline(by_grey, "spot 1") - before
    assert (moved[:, 0] > 0).all()
    assert moved[:, 1] == pytest.approx(np.zeros(4), abs=1e-6)
    # Steps that follow each other are undone as one.
    changed(by_grey, qtbot, by_grey.undo.undo, measured=False)
    assert np.allclose(outline(by_grey, "spot 1"), before)


def test_the_keyboard_alone_reshapes_corner_by_corner(by_grey: MainWindow, qtbot: QtBot) -> None:
    view = by_grey.measuring_place.panel.view
    by_grey.measuring_place.panel.sample.click()
    changed(by_grey, qtbot, lambda: QTest.keyClick(view, Qt.Key.Key_Return), measured=False)
    before = outline(by_grey, "spot 1")

    def press(*keys: Qt.Key) -> None:
        for key in keys:
            QTest.keyClick(view, key)
            qtbot.wait(20)

    press(Qt.Key.Key_C, Qt.Key.Key_C, Qt.Key.Key_Right, Qt.Key.Key_Right)
    moved = outline(by_grey, "spot 1") - before
    assert moved[1, 0] > 0
    assert np.allclose(moved[[0, 2, 3]], 0)
    press(Qt.Key.Key_Insert)
    assert len(outline(by_grey, "spot 1")) == 5
    press(Qt.Key.Key_Backspace, Qt.Key.Key_Backspace)
    assert len(outline(by_grey, "spot 1")) == 3
    settled(by_grey, qtbot)


def test_the_light_that_is_chosen_is_measured_in_and_undone(
    measured: MainWindow, qtbot: QtBot
) -> None:
    panel = measured.measuring_place.panel
    page = measured.measuring_place.page
    assert page is not None
    row = panel.light.findData("led")
    changed(measured, qtbot, lambda: panel.light.activated.emit(row))
    assert page.measurement is not None
    assert page.measurement.light == "led"
    assert "was taken to be" not in panel.notes.text()
    changed(measured, qtbot, measured.undo.undo, measured=False)
    assert panel.light.currentData() is None


def test_without_a_sheet_a_grey_and_a_sample_are_drawn(
    window: MainWindow, qtbot: QtBot, board: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened(window, qtbot, [board])
    panel = window.measuring_place.panel
    assert "draw a grey" in panel.notes.text()
    assert panel.grey.isEnabled()
    monkeypatch.setattr(QInputDialog, "getDouble", lambda *_a, **_k: (18.0, True))
    panel.grey.click()
    changed(window, qtbot, lambda: drag(window, np.array([120.0, 120.0]), np.array([280.0, 280.0])))
    assert "no sample yet" in panel.notes.text()
    panel.sample.click()
    changed(window, qtbot, lambda: drag(window, np.array([520.0, 320.0]), np.array([680.0, 480.0])))
    # CIELAB of sRGB 200, 180, 60 by IEC 61966-2-1 and CIE 15, worked out with colour-science.
    assert lab(window, "spot 1") == pytest.approx([73.05, -6.20, 60.83], abs=2.0)
    assert panel.corrected.isEnabled()
