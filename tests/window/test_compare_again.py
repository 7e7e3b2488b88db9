"""Photos are read again beside the window; what is kept stays, whenever it is stopped."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library, create_library
from dyeshade.library.shade_records import Reading
from dyeshade.measure.result import Measurement
from dyeshade.window.compare_again import AgainPage
from dyeshade.work.keep_readings import keep_readings
from dyeshade.work.read_again import PhotoToRead
from dyeshade.work.said import Said
from tests.window.comparing import Comparing, comparing_with
from tests.work.saving import measured, to_keep

Told = tuple[PhotoToRead, Measurement | DyeshadeError]
PATIENCE_MS = 30_000


def older(library: Library) -> None:
    """Three photos, read by a way of measuring that is older than today's."""
    for name in ("one.jpg", "two.jpg", "three.jpg"):
        keep_readings(library, [to_keep(library.folder.parent, name, A=Said("W-001"))])
    with library.edit("older", undoable=False) as edit:
        for reading in edit.where(Reading):
            edit.change(replace(reading, method_version=0))


@pytest.fixture
def go_on(monkeypatch: pytest.MonkeyPatch) -> threading.Semaphore:
    """Photos seem to be measured, each when it is let, the second in vain."""
    let = threading.Semaphore(0)

    def seem(photos: Sequence[PhotoToRead], progress: Callable[[int, int], None]) -> Iterator[Told]:
        progress(0, len(photos))
        for done, photo in enumerate(photos, 1):
            let.acquire(timeout=20)
            lost = photo.name == "two.jpg"
            found = DyeshadeError("photo_missing") if lost else measured("A", l_star=58.0)
            progress(done, len(photos))
            yield photo, found

    monkeypatch.setattr("dyeshade.window.reading_again.measure_again", seem)
    return let


@pytest.fixture
def room(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Comparing]:
    yield from comparing_with(qtbot, qapp, tmp_path / "shades", older)


@pytest.fixture
def page(go_on: threading.Semaphore, room: Comparing) -> AgainPage:
    room.place.look_at(room.place.again)
    room.settle()
    return room.place.again


def ended(room: Comparing, page: AgainPage) -> None:
    room.qtbot.waitUntil(lambda: not page.reading.running, timeout=PATIENCE_MS)
    room.settle()


def test_all_photos_are_read_anew_and_the_change_is_listed(
    room: Comparing, page: AgainPage, go_on: threading.Semaphore
) -> None:
    assert page.answer.text() == "Yes: 3 photos wait to be read again."
    page.start.click()
    room.qtbot.waitUntil(lambda: page.bar.maximum() == 3, timeout=PATIENCE_MS)
    assert not page.start.isEnabled()
    for _ in range(3):
        go_on.release()
    ended(room, page)
    assert page.answer.text() == "Yes: 1 photo waits to be read again."
    assert "two.jpg" in page.round.text()
    assert [line.cells[1] for line in page.model.records] == ["one.jpg, A", "three.jpg, A"]
    (plot,) = page.panel.view.figure.rows[0]
    assert all(mark.chosen and mark.y > mark.x for mark in plot.marks)
    # Both values are kept, and no step of undo was made of it.
    assert room.ask(lambda library: len(library.where(Reading))) == 5
    assert not room.undo.canUndo()
    page.table.selectRow(1)
    page.open.click()
    assert room.readings == [page.model.records[1].reading_id]


def test_whoever_stops_keeps_what_was_read_and_goes_on_there(
    room: Comparing, page: AgainPage, go_on: threading.Semaphore
) -> None:
    page.start.click()
    go_on.release()
    room.qtbot.waitUntil(lambda: page.bar.value() == 1, timeout=PATIENCE_MS)
    page.stop.click()
    assert not page.stop.isEnabled()
    go_on.release()
    ended(room, page)
    assert [line.cells[1] for line in page.model.records] == ["one.jpg, A"]
    assert page.answer.text() == "Yes: 2 photos wait to be read again."
    for _ in range(2):
        go_on.release()
    page.start.click()
    ended(room, page)
    assert len(page.model.records) == 2


def test_nothing_comes_into_another_library_that_was_opened_meanwhile(
    room: Comparing, page: AgainPage, go_on: threading.Semaphore, tmp_path: Path
) -> None:
    other = tmp_path / "other" / "shades"
    other.parent.mkdir()
    with create_library(other) as library:
        older(library)
    page.start.click()
    room.qtbot.waitUntil(lambda: page.bar.maximum() == 3, timeout=PATIENCE_MS)
    room.desk.open(other)
    for _ in range(3):
        go_on.release()
    ended(room, page)
    assert room.desk.library is not None
    assert room.desk.library.folder == other
    assert room.ask(lambda library: len(library.where(Reading))) == 3
