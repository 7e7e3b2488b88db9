"""Commissions in the window: agreed on, judged, put right, dyed again, and taken back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from dyeshade.library.library import Library
from dyeshade.library.trial_records import Commission, CommissionResult
from dyeshade.window.commission_dialogs import CommissionDialog, JudgeDialog
from dyeshade.window.compare_commissions import CommissionsPage
from dyeshade.window.pick_piece import PickPiece
from dyeshade.work.commissions import SaidCommission, agree, commission
from tests.window.comparing import Comparing, comparing_with, fill


def agreed(library: Library) -> None:
    """The invented workshop with a commission of the shade of W-003, and one of typed numbers."""
    fill(library)
    agree(library, SaidCommission("W-003", 2.0, "shawl", "shawl", "the mill shop"))
    agree(library, SaidCommission("20,0,0", 2.0, "black"))


@pytest.fixture
def room(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Comparing]:
    yield from comparing_with(qtbot, qapp, tmp_path / "shades", agreed)


@pytest.fixture
def page(room: Comparing) -> CommissionsPage:
    room.place.look_at(room.place.commissions)
    room.settle()
    return room.place.commissions


def dialogs(page: CommissionsPage, kind: type) -> list:
    return [one for one in page.findChildren(kind) if one.isVisible()]


def choose(room: Comparing, page: CommissionsPage, code: str) -> None:
    rows = [line.cells[0] for line in page.model.records]
    page.table.selectRow(rows.index(code))
    room.settle()


def results(page: CommissionsPage) -> dict[str, str]:
    return {line.cells[0]: line.cells[-1] for line in page.model.records}


def test_a_shade_picked_from_a_piece_is_agreed_on_and_undone(
    room: Comparing, page: CommissionsPage
) -> None:
    page.new.click()
    (dialog,) = dialogs(page, CommissionDialog)
    dialog.accept()
    # Nothing was said of the shade yet.
    assert "shade that was agreed on" in dialog.trouble.text()
    dialog.shade.from_piece.trigger()
    room.settle()
    (pieces,) = dialog.findChildren(PickPiece)
    QTest.keyClicks(pieces.words, "s-003")
    QTest.keyClick(pieces.words, Qt.Key.Key_Return)
    assert dialog.shade.words == "S-003"
    dialog.for_whom.setText("a choir")
    dialog.due.setText("2020-01-02")
    dialog.weight.setText("350,5")
    dialog.accept()
    room.settle()
    (made,) = room.ask(lambda library: library.where(Commission, "for_whom = 'a choir'"))
    assert (made.weight_g, made.tolerance, f"{made.due}") == (350.5, 2.0, "2020-01-02")
    assert made.reading_id is not None
    assert "overdue: 1" in page.answer.text()
    # What is due first stands first.
    assert page.model.records[0].cells[0] == made.code
    room.undo.undo()
    room.settle()
    assert set(results(page)) == {"shawl", "black"}


def test_the_unit_of_the_tolerance_is_seen_whole(room: Comparing, page: CommissionsPage) -> None:
    page.new.click()
    (dialog,) = dialogs(page, CommissionDialog)
    (label,) = [one for one in dialog.findChildren(QLabel) if one.buddy() is dialog.tolerance]
    picture = label.grab().toImage()
    ground = picture.pixel(picture.width() - 1, 0)
    right = [picture.pixel(picture.width() - 2, y) for y in range(picture.height())]
    assert set(right) == {ground}
    dialog.reject()


def test_a_dyeing_is_judged_and_the_result_is_shown_and_undone(
    room: Comparing, page: CommissionsPage
) -> None:
    choose(room, page, "shawl")
    assert page.more.text().endswith("No dyeing was judged yet.")
    page.judge.click()
    (dialog,) = dialogs(page, JudgeDialog)
    dialog.piece.choose("W-004")
    room.settle()
    assert dialog.reading.count() == 2
    dialog.accept()
    room.settle()
    kept = room.ask(lambda library: commission(library, "shawl"))
    assert [one.piece for one in kept.judged] == ["W-004"]
    assert page.chosen is not None
    assert page.chosen.commission.code == "shawl"
    assert "by W-004" in results(page)["shawl"]
    mark = page.panel.view.figure.rows[0][0].marks[-1]
    assert (mark.reading_id, mark.y) == (kept.judged[0].reading.id, kept.judged[0].result.delta_e)
    room.undo.undo()
    room.settle()
    assert room.ask(lambda library: library.where(CommissionResult)) == []
    assert results(page)["shawl"] == "open"


def test_those_that_are_open_can_be_told_apart(room: Comparing, page: CommissionsPage) -> None:
    choose(room, page, "shawl")
    page.judge.click()
    (dialog,) = dialogs(page, JudgeDialog)
    dialog.piece.choose("W-003")
    dialog.accept()
    room.settle()
    for state, codes in (("open", {"black"}), ("met", {"shawl"}), (None, {"shawl", "black"})):
        page.which.setCurrentIndex(page.which.findData(state))
        page.which.activated.emit(page.which.currentIndex())
        room.settle()
        assert set(results(page)) == codes


def test_terms_are_put_right_and_what_the_library_refuses_is_said(
    room: Comparing, page: CommissionsPage
) -> None:
    choose(room, page, "shawl")
    page.put_right.click()
    (dialog,) = dialogs(page, CommissionDialog)
    dialog.tolerance.setText("zero")
    dialog.accept()
    assert dialog.isVisible()
    dialog.tolerance.setText("3.5")
    dialog.code.setText("black")
    dialog.accept()
    room.settle()
    assert "black" in dialog.trouble.text()
    dialog.code.setText("wrap")
    dialog.accept()
    room.settle()
    kept = room.ask(lambda library: commission(library, "wrap"))
    # The shade stays that of the piece, since nothing was typed for it.
    assert (kept.commission.tolerance, kept.agreed_piece) == (3.5, "W-003")


def test_an_agreed_shade_is_dyed_again_for_its_weight(
    room: Comparing, page: CommissionsPage
) -> None:
    choose(room, page, "shawl")
    assert not page.again.isEnabled()
    page.grams.setText("240")
    page.again.click()
    room.settle()
    (typed,) = room.made
    assert sum(float(one.weight.split()[0]) for one in typed.pieces) == pytest.approx(240)
    page.nearest.click()
    room.settle()
    assert room.place.nearest.colour.words == "W-003"


def test_a_commission_is_removed_and_brought_back(room: Comparing, page: CommissionsPage) -> None:
    choose(room, page, "black")
    page.remove.click()
    room.settle()
    assert set(results(page)) == {"shawl"}
    room.undo.undo()
    room.settle()
    assert set(results(page)) == {"shawl", "black"}
