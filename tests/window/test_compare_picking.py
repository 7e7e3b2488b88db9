"""A wanted shade is picked from a photo: a sample, or a spot that is pointed at."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from dyeshade.errors import DyeshadeError
from dyeshade.measure.result import Measurement
from dyeshade.window.photo_picker import PhotoPicker
from dyeshade.window.pick_photo import PickPhoto
from dyeshade.work.look_at_photos import Asked, PhotoLook, look_at
from dyeshade.work.pick_shade import PickedShade, PickFrom, picked
from tests.measured_once import once
from tests.window.comparing import Comparing, comparing_with
from tests.window.conftest import VINEGAR

LEFT, PLAIN = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
PATIENCE_MS = 30_000


@pytest.fixture
def room(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Comparing]:
    yield from comparing_with(qtbot, qapp, tmp_path / "shades")


@pytest.fixture
def asked_for(monkeypatch: pytest.MonkeyPatch) -> list[PickFrom]:
    """Spots seem to be measured: they get the shade of the photo's first sample."""
    told: list[PickFrom] = []

    def seem(wanted: PickFrom, warm: object = None) -> PickedShade:
        told.append(wanted)
        assert wanted.seen is not None
        return picked(wanted.seen, wanted.seen.samples[0].name, wanted.path)

    monkeypatch.setattr("dyeshade.window.photo_picker.pick", seem)
    return told


@pytest.fixture
def dialog(
    room: Comparing,
    measured_before: Path,
    monkeypatch: pytest.MonkeyPatch,
    asked_for: list[PickFrom],
) -> PickPhoto:
    """The dialog of the nearest shade's colour, with an example photo that is open already."""
    monkeypatch.setattr("dyeshade.work.look_at_photos.LONGEST_PX", 900)
    asked = Asked(VINEGAR)
    look = once(measured_before, ("picking", asked.light), VINEGAR, lambda: look_at(asked))
    look = PhotoLook(asked, look.found, look.size_px, look.taken, look.corrected)
    monkeypatch.setattr(PhotoPicker, "open_looks", lambda _self: [look])
    place = room.place
    place.look_at(place.nearest)
    room.settle()
    place.nearest.colour.from_photo.trigger()
    (found,) = [one for one in room.findChildren(PickPhoto) if one.isVisible()]
    return found


def test_a_sample_is_taken_with_how_sure_it_is(room: Comparing, dialog: PickPhoto) -> None:
    look = dialog.look
    assert look is not None
    assert isinstance(look.found, Measurement)
    assert dialog.samples.count() == len(look.found.samples)
    dialog.samples.setCurrentRow(len(look.found.samples) - 1)
    sample = look.found.samples[-1]
    assert f"sure to about {sample.shade.u95:.0f}".casefold() in dialog.told.text().casefold()
    dialog.takes.click()
    room.settle()
    page = room.place.nearest
    wanted = page.colour.wanted
    assert isinstance(wanted, PickedShade)
    assert (wanted.sample, wanted.serial) == (sample.name, look.found.sheet.serial)
    assert "in hw27_2_vinegar.jpg, sure to about" in page.answer.text()
    # What is typed over it counts.
    page.colour.choose("W-001")
    assert page.colour.wanted == "W-001"


def test_a_spot_is_clicked_where_it_is_wanted(
    room: Comparing, dialog: PickPhoto, asked_for: list[PickFrom]
) -> None:
    look = dialog.look
    assert look is not None
    assert isinstance(look.found, Measurement)
    middle = look.found.samples[0].outline_px.mean(axis=0)
    dialog.across.setCurrentIndex(dialog.across.findData(16.0))
    at = dialog.view.mapFromScene(float(middle[0]), float(middle[1]))
    QTest.mouseClick(dialog.view.viewport(), LEFT, PLAIN, at)
    room.qtbot.waitUntil(lambda: not dialog.busy, timeout=PATIENCE_MS)
    (wanted,) = asked_for
    assert wanted.at is not None
    # A pixel of the view is some of the photo's.
    assert np.hypot(*(np.array(wanted.at) - middle)) < 2 / dialog.view.transform().m11()
    assert (wanted.across_mm, wanted.path) == (16.0, VINEGAR)
    assert dialog.takes.isEnabled()
    # A drag moves the photo and picks nothing.
    QTest.mousePress(dialog.view.viewport(), LEFT, PLAIN, at)
    QTest.mouseMove(dialog.view.viewport(), at + QPoint(40, 30))
    QTest.mouseRelease(dialog.view.viewport(), LEFT, PLAIN, at + QPoint(40, 30))
    assert len(asked_for) == 1


def test_the_keyboard_moves_a_cross_and_picks(
    room: Comparing, dialog: PickPhoto, asked_for: list[PickFrom]
) -> None:
    middle = dialog.view.sceneRect().center()
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Down):
        QTest.keyClick(dialog.view, key)
    QTest.keyClick(dialog.view, Qt.Key.Key_Return)
    room.qtbot.waitUntil(lambda: not dialog.busy, timeout=PATIENCE_MS)
    (wanted,) = asked_for
    assert wanted.at is not None
    assert wanted.at[0] - middle.x() == pytest.approx(2 * (wanted.at[1] - middle.y()))
    assert wanted.at[0] > middle.x()


def test_a_photo_without_a_sheet_is_refused_in_the_dialog(
    room: Comparing, dialog: PickPhoto, monkeypatch: pytest.MonkeyPatch
) -> None:
    def seem(asked: list[Asked], *_others: object) -> Iterator[PhotoLook]:
        yield PhotoLook(asked[0], DyeshadeError("no_sheet"))

    monkeypatch.setattr("dyeshade.window.photo_picker.look_at_photos", seem)
    dialog.open_photo("bare.jpg")
    room.qtbot.waitUntil(lambda: not dialog.busy, timeout=PATIENCE_MS)
    assert dialog.photos.currentText() == "bare.jpg"
    assert "No reference sheet was found" in dialog.told.text()
    assert not dialog.takes.isEnabled()
