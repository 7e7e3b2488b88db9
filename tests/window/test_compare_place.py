"""Kept shades are set beside each other: questions, their answers, plots that are pointed at."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from pypdf import PdfReader
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QImage, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QMessageBox,
)
from pytestqt.qtbot import QtBot

from dyeshade.insight.check_standard import LEAST_SESSIONS
from dyeshade.insight.drift import drift_of
from dyeshade.insight.fastness import TESTS
from dyeshade.insight.ph_series import PhSeries
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.window import look
from dyeshade.window.look import GROUND
from dyeshade.window.plot_panel import PDF, PNG
from dyeshade.work import kept_series
from dyeshade.work.ask_ph_series import SeriesAnswer
from tests.window.comparing import Comparing, comparing_with

_FITTED: dict[object, SeriesAnswer] = {}


@pytest.fixture(autouse=True)
def fitted_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each curve is fitted once in all these tests: their libraries hold the same readings."""
    fit = kept_series.answer_for

    def once(series: PhSeries, wanted: None) -> SeriesAnswer:
        key = kept_series.key_of(series)
        if key not in _FITTED:
            _FITTED[key] = fit(series, wanted)
        return _FITTED[key]

    monkeypatch.setattr(kept_series, "answer_for", once)


@pytest.fixture
def room(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Comparing]:
    yield from comparing_with(qtbot, qapp, tmp_path / "shades")


@pytest.fixture
def bare(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Comparing]:
    yield from comparing_with(qtbot, qapp, tmp_path / "shades", lambda library: None)


def on(room: Comparing, name: str):
    page = getattr(room.place, name)
    room.place.look_at(page)
    room.settle()
    return page


def pick(room: Comparing, box: QComboBox, words: str) -> None:
    assert box.findText(words) >= 0, [box.itemText(k) for k in range(box.count())]
    box.setCurrentIndex(box.findText(words))
    box.activated.emit(box.currentIndex())
    room.settle()


def spot_of(page, reading_id: int) -> int:
    ids = [spot.reading_id for spot in page.panel.view.spots]
    return ids.index(reading_id)


def test_a_piece_that_has_faded_is_said_to_move_with_its_treatment_marked(room: Comparing) -> None:
    page = on(room, "drift")
    page.piece.choose("W-001")
    room.settle()
    assert page.answer.text() == "Still moving: the last reading differs from the one before it."
    (plot,), (grades,) = page.panel.view.figure.rows
    assert [one.words for one in plot.uprights] == ["light"]
    assert all(mark.y_ends[0] <= mark.y <= mark.y_ends[1] for mark in plot.marks[1:])
    assert grades.marks[-1].y < 3.0 < grades.marks[0].y == 5.0
    assert page.model.records[-1].cells[1] == "after light"


def test_another_reading_can_be_the_one_that_others_are_set_beside(room: Comparing) -> None:
    page = on(room, "drift")
    page.piece.choose("W-001")
    room.settle()
    last = page.model.records[-1].reading_id
    pick(room, page.since, page.since.itemText(page.since.findData(last)))
    chosen = [mark for mark in page.panel.view.figure.rows[0][0].marks if mark.chosen]
    assert [mark.reading_id for mark in chosen] == [last]
    found = room.ask(lambda library: drift_of(library, "W-001", last))
    assert chosen[0].y == 0.0
    assert found.base_id == last
    # Another piece begins with its own first reading again.
    page.piece.choose("TILE")
    room.settle()
    assert page.panel.view.figure.rows[0][0].marks[0].chosen


def test_a_swatch_that_is_clicked_opens_its_reading(room: Comparing) -> None:
    page = on(room, "drift")
    page.piece.choose("W-001")
    room.settle()
    reading = page.model.records[-1].reading_id
    view = page.panel.view
    place = view.place_of(spot_of(page, reading)).toPoint()
    QTest.mouseMove(view, place)
    room.qtbot.waitUntil(lambda: "W-001" in page.panel.told.text())
    assert "after light" in page.panel.told.text()
    QTest.mouseClick(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, place)
    assert room.readings == [reading]
    QTest.mouseClick(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, QPoint(3, 3))
    assert room.readings == [reading]


def test_the_keyboard_walks_from_mark_to_mark_and_opens_one(room: Comparing) -> None:
    page = on(room, "check")
    page.piece.choose("TILE")
    room.settle()
    view = page.panel.view
    view.setFocus(Qt.FocusReason.TabFocusReason)
    first = page.model.records[0].reading_id
    QTest.keyClick(view, Qt.Key.Key_Home)
    while view.spots[view.current].reading_id != first:
        QTest.keyClick(view, Qt.Key.Key_Right)
    assert view.accessibleDescription() == view.spots[view.current].words
    assert "TILE" in view.accessibleDescription()
    QTest.keyClick(view, Qt.Key.Key_Return)
    assert room.readings == [first]
    QTest.keyClick(view, Qt.Key.Key_End)
    QTest.keyClick(view, Qt.Key.Key_Right)
    assert view.current == len(view.spots) - 1
    view.clearFocus()
    assert view.current == -1


def test_a_line_of_the_table_opens_its_reading(room: Comparing) -> None:
    page = on(room, "drift")
    page.piece.choose("W-001")
    room.settle()
    page.table.setFocus()
    QTest.keyClick(page.table, Qt.Key.Key_Down)
    QTest.keyClick(page.table, Qt.Key.Key_Return)
    assert room.readings == [page.line.reading_id]


def test_swatches_lie_on_mid_grey_in_light_and_dark(room: Comparing, qapp: QApplication) -> None:
    page = on(room, "drift")
    page.piece.choose("W-001")
    room.settle()
    view = page.panel.view
    view.go_to(-1)
    reading = page.model.records[0].reading_id
    spot = view.spots[spot_of(page, reading)]
    grounds = []
    for name in ("light", "dark"):
        look.put_on(qapp, name)
        picture = view.grab().toImage()
        middle = view.place_of(spot_of(page, reading)).toPoint()
        seen = picture.pixelColor(middle)
        mark = next(m for m in view.figure.rows[0][0].marks if m.reading_id == reading)
        assert (seen.red(), seen.green(), seen.blue()) == mark.srgb
        grounds.append(picture.pixelColor(middle + QPoint(30, -30)))
    assert grounds == [GROUND, GROUND]
    assert spot.words.startswith("W-001")
    look.put_on(qapp, "light")


def test_the_ph_of_a_wanted_shade_is_found_and_nothing_is_said_beyond(room: Comparing) -> None:
    page = on(room, "ph")
    assert page.made.dyestuff.currentText() == "weld"
    # The middle of the turn of the invented weld is at pH 7 of the start, 6.8 of the end.
    page.wanted.choose("67.5,10,52.5")
    room.settle()
    assert page.answer.text().startswith("The wanted shade comes nearest at pH 6.")
    (plane, lightness), (strip,) = page.panel.view.figure.rows
    assert plane.equal
    assert any(mark.chosen and mark.reading_id is None for mark in plane.marks)
    assert lightness.bands
    # Nothing is drawn beyond the measured pH.
    measured = [mark.x for mark in lightness.marks]
    drawn = [x for curve in lightness.curves for x, _ in curve.points]
    assert (min(drawn), max(drawn)) == pytest.approx((min(measured), max(measured)))
    assert strip.patches[0].x[0] == pytest.approx(min(measured))


def test_a_series_goes_onto_a_shade_card_from_acid_to_alkaline(room: Comparing) -> None:
    page, wanted = on(room, "ph"), []
    page.card_wanted.connect(wanted.append)
    room.settle()
    page.card.click()
    (ids,) = wanted
    _, lightness = page.panel.view.figure.rows[0]
    by_ph = sorted((mark.x, mark.reading_id) for mark in lightness.marks if mark.reading_id)
    assert list(ids) == [reading_id for _, reading_id in by_ph]


def test_the_bath_for_a_wanted_shade_and_the_one_to_learn_from_are_dyed(room: Comparing) -> None:
    page = on(room, "ph")
    assert page.dye.isHidden()
    page.wanted.choose("s-005")
    room.settle()
    assert not page.next.isEnabled()
    # The piece is of silk, and the series on wool is the one that is shown.
    assert "Another series comes nearer: weld" in page.more.text()
    assert "on silk" in page.more.text()
    page.grams.setText("120")
    bath_before = page.baths[0]
    for button, bath in ((page.dye, page.baths[0]), (page.next, page.baths[1])):
        button.click()
        room.settle()
        typed = room.made[-1]
        assert bath is not None
        assert float(typed.target) == pytest.approx(bath.ph, abs=0.005)
        assert sum(float(one.weight.split()[0]) for one in typed.pieces) == pytest.approx(120)
    # With another series beside it, the one that comes nearest is the answer.
    pick(room, page.beside, page.beside.itemText(1))
    assert page.answer.text().endswith("away. That is on silk.")
    assert "Another series" not in page.more.text()
    assert page.baths[0] != bath_before


def test_a_piece_can_be_the_wanted_shade(room: Comparing) -> None:
    page = on(room, "ph")
    page.wanted.choose("s-005")
    room.settle()
    assert page.answer.text().startswith("The wanted shade comes nearest at pH")
    marks = page.panel.view.figure.rows[0][0].marks
    assert ", of piece S-005, sure to about" in marks[-1].words


def test_two_fibres_stand_side_by_side(room: Comparing) -> None:
    page = on(room, "ph")
    assert page.series.count() == 2
    other = next(
        page.beside.itemText(k) for k in range(page.beside.count()) if page.beside.itemData(k)
    )
    pick(room, page.beside, other)
    assert page.answer.text().startswith("They differ most at pH")
    assert page.model.fields[1].head == "ΔE00 between them (95 %)"
    curves = page.panel.view.figure.rows[0][1].curves
    assert {curve.dashed for curve in curves if not curve.thin} == {True, False}
    # Another first series, and the one beside it goes along.
    pick(room, page.series, other)
    assert page.beside.findText(other) == -1


def test_a_dyestuff_with_too_few_ph_says_what_to_dye_next(room: Comparing) -> None:
    page = on(room, "ph")
    pick(room, page.which, "of the rinse water")
    assert "Dye one more piece at another pH" in page.answer.text() + page.more.text()
    pick(room, page.which, "of the extraction")
    assert page.answer.text().startswith("No such shade has a pH of the extraction.")
    assert not page.panel.isVisible()


def test_the_nearest_shade_is_made_again_for_another_weight(room: Comparing) -> None:
    page = on(room, "nearest")
    assert page.answer.text().startswith("Give a colour")
    assert not page.again.isVisible()
    page.colour.choose("75,-5,60")
    room.settle()
    assert page.model.records[0].cells[0].startswith("W-00")
    assert not page.again.isEnabled()
    page.grams.setText("350")
    page.again.click()
    assert room.baths == [(page.model.records[0].reading_id, 350.0)]
    page.grams.setText("much")
    page.again.click()
    assert len(room.baths) == 1
    assert page.wrong.isVisible()


def test_fewer_shades_are_looked_through_where_asked(room: Comparing) -> None:
    page = on(room, "nearest")
    page.colour.choose("75,-5,60")
    pick(room, page.made.fibre, "silk")
    assert {line.cells[0][0] for line in page.model.records} == {"S"}
    page.tolerance.setText("5")
    page.tolerance.editingFinished.emit()
    room.settle()
    assert all(line.cells[2].endswith("within ΔE00 5") for line in page.model.records)


def test_what_is_no_colour_is_answered_on_the_page(room: Comparing) -> None:
    page = on(room, "nearest")
    page.colour.choose("#12345")
    room.settle()
    assert "is no colour" in page.answer.text()
    assert not page.panel.isVisible()
    assert not room.window().findChildren(QMessageBox)


def test_repeats_tell_the_smallest_difference_that_can_be_claimed(room: Comparing) -> None:
    page = on(room, "repeats")
    assert page.answer.text().startswith("The smallest difference that you can claim")
    spread, sets = page.panel.view.figure.rows[0]
    assert spread.marks
    assert {mark.words.split(":")[0] for mark in sets.marks} == {"weld on wool", "weld on silk"}
    pick(room, page.made.fibre, "silk")
    sets = page.panel.view.figure.rows[0][1]
    assert {mark.words.split(":")[0] for mark in sets.marks} == {"weld on silk"}


def test_the_check_standard_warns_where_it_jumped(room: Comparing) -> None:
    page = on(room, "check")
    # It was read again and again, and never dyed.
    assert page.piece.code == "TILE"
    assert page.answer.text().startswith("The latest session warns")
    (lightness,), _, _ = page.panel.view.figure.rows
    assert lightness.marks[-1].chosen
    assert not lightness.marks[0].chosen
    assert [level.dashed for level in lightness.levels] == [True, False, True]
    page.piece.choose("W-002")
    room.settle()
    assert "5 are needed for a chart" in page.answer.text()


def test_a_light_test_is_graded_and_called_a_home_test(room: Comparing) -> None:
    page = on(room, "fastness")
    page.piece.choose("W-001")
    room.settle()
    assert page.answer.text().startswith("Home test of W-001: light: grade")
    assert "not a certificate" in page.more.text()
    assert [line.cells[-1] for line in page.model.records] == ["one photo", "one photo"]


def test_readings_can_be_named_for_rubbing(room: Comparing) -> None:
    page = on(room, "fastness")
    page.piece.choose("W-001")
    pick(room, page.kind, "rubbing")
    pick(room, page.before, page.before.itemText(1))
    pick(room, page.after, page.after.itemText(page.after.count() - 1))
    assert page.answer.text().startswith("Home test of W-001: rubbing: grade")


def test_the_saved_plot_is_the_one_that_is_shown(room: Comparing, tmp_path: Path) -> None:
    page = on(room, "drift")
    page.piece.choose("W-001")
    room.settle()
    panel = page.panel
    for suffix in (PDF, PNG):
        panel.save_to(tmp_path / "plot", suffix)
        room.qtbot.waitUntil(lambda suffix=suffix: panel.saved == tmp_path / f"plot{suffix}")
    assert str(tmp_path / "plot.png") in panel.told.text()
    (pdf_page,) = PdfReader(tmp_path / "plot.pdf").pages
    text = pdf_page.extract_text()
    for words in ("W-001", "Still moving", "light", "2026-03-03"):
        assert words in text
    picture = QImage(str(tmp_path / "plot.png"))
    with pypdfium2.PdfDocument(tmp_path / "plot.pdf") as pdf:
        printed = pdf[0].render(scale=200 / 72).to_numpy()[:, :, ::-1]
    assert abs(picture.width() - printed.shape[1]) <= 1
    swatches = {m.srgb for row in panel.view.figure.rows for plot in row for m in plot.marks}
    drawn = {
        QColor(picture.pixel(x, y)).getRgb()[:3]
        for x in range(0, picture.width(), 6)
        for y in range(0, picture.height(), 6)
    }
    assert swatches <= drawn
    assert swatches <= {tuple(one) for one in printed[::6, ::6].reshape(-1, 3).tolist()}
    assert tuple(printed[0, 0]) == QColor(picture.pixel(0, 0)).getRgb()[:3] == (255, 255, 255)
    seen = np.array(
        [QColor(picture.pixel(x, 800)).red() for x in range(0, picture.width(), 40)], float
    )
    theirs = printed[800, ::40, 0].astype(float)[: len(seen)]
    assert np.mean(np.abs(seen - theirs) < 40) > 0.9


def test_a_plot_that_cannot_be_saved_says_why(room: Comparing, tmp_path: Path) -> None:
    page = on(room, "drift")
    page.panel.save_to(tmp_path / "none" / "plot.pdf", PDF)
    room.qtbot.waitUntil(lambda: bool(room.findChildren(QMessageBox)))
    (box,) = room.findChildren(QMessageBox)
    assert "could not be written" in box.text()
    box.close()


def test_an_empty_library_says_what_to_do_first(bare: Comparing) -> None:
    said = [on(bare, n).answer.text() for n in ("drift", "ph", "nearest", "repeats", "check")]
    assert said[0].startswith("Nothing was read yet.")
    assert said[1].startswith("No dyestuff is written down yet.")
    assert said[3].startswith("Nothing was dyed twice")
    assert all(not page.panel.isVisible() for page in bare.place.pages)


def test_what_is_changed_elsewhere_is_asked_anew_when_looked_at(room: Comparing) -> None:
    page = on(room, "drift")
    page.piece.choose("W-001")
    room.settle()
    count = len(page.model.records)
    last = page.model.records[-1].reading_id

    def take_away(library: Library) -> None:
        with library.edit("remove") as edit:
            edit.remove(Reading, last)

    room.desk.change("remove a reading", take_away)
    room.settle()
    assert len(page.model.records) == count - 1
    room.undo.undo()
    room.settle()
    assert len(page.model.records) == count


_TAKEN = "FBEPLHW"
"""Letters of the window's menus, and of the list of questions."""


def _words_of(page) -> list[str]:
    labels = [label.text() for label in page.findChildren(QLabel) if label.buddy()]
    return labels + [button.text() for button in page.findChildren(QAbstractButton)]


def test_every_field_has_a_name_for_screen_readers_and_no_words_are_cut(room: Comparing) -> None:
    for name in ("drift", "ph", "nearest", "commissions", "fastness", "repeats", "check", "again"):
        page = on(room, name)
        for field in page.findChildren(QComboBox) + page.findChildren(QLineEdit):
            if field.isVisible():
                assert field.accessibleName(), (name, field)
        for label in page.findChildren(QLabel):
            if label.isVisible() and not label.wordWrap():
                assert label.width() >= label.sizeHint().width(), label.text()
        letters = [QKeySequence.mnemonic(words) for words in _words_of(page)]
        letters += [QKeySequence(f"Alt+{letter}") for letter in _TAKEN]
        told = [key.toString() for key in letters if not key.isEmpty()]
        assert len(told) == len(set(told)), (name, sorted(told))
    assert room.place.questions.accessibleName()
    assert room.place.questions.count() == len(room.place.pages)


def test_what_is_offered_is_what_can_be_asked(room: Comparing) -> None:
    # Written down in the window once more, since what knows it is slow to import.
    assert room.place.check.learn.itemData(0) == LEAST_SESSIONS
    kind = room.place.fastness.kind
    assert tuple(kind.itemData(k) for k in range(1, kind.count())) == TESTS


def test_the_window_begins_without_what_answers_questions() -> None:
    """It takes a second, and is wanted later."""
    told = "import sys, dyeshade.window.main_window; print('scipy.stats' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"
