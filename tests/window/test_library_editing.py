"""Kept things put right, merged and taken away, each in one step of undo."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog
from pytestqt.qtbot import QtBot

from dyeshade.library.baths import find_bath
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.window.bath_editor import BathEditor
from dyeshade.window.library_place import BATHS, PIECES
from dyeshade.window.merge_dialog import MergeDialog
from dyeshade.window.piece_editor import PieceEditor
from dyeshade.window.reading_editor import ReadingEditor
from dyeshade.window.tables import choose_rows
from dyeshade.work.edit_bath import bath_form
from dyeshade.work.edit_piece import piece_form
from dyeshade.work.known import Known, known_to
from dyeshade.work.said import SaidBath
from tests.library.workshop import dump
from tests.window.shelf import Shelf, shelf_with


@pytest.fixture
def shelf(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> Iterator[Shelf]:
    yield from shelf_with(qtbot, qapp, tmp_path / "shades")


def choose(shelf: Shelf, code: str) -> None:
    choose_rows(shelf.place.shades.selection, [shelf.row(code)], shelf.row(code))
    shelf.settle()


def kept(shelf: Shelf, dialog: QDialog) -> None:
    """Press Keep, and wait until the form is gone."""
    dialog.accept()
    shelf.qtbot.waitUntil(lambda: dialog not in visible(shelf))
    shelf.settle()


def visible(shelf: Shelf) -> list[QDialog]:
    return [one for one in shelf.findChildren(QDialog) if one.isVisible()]


def taken_back(shelf: Shelf, before: list[str]) -> None:
    """Undo brings back all that was there."""
    shelf.undo.undo()
    shelf.settle()
    assert shelf.ask(dump) == before


def press(shelf: Shelf, key: Qt.Key) -> Callable[[], object]:
    return lambda: QTest.keyClick(shelf.place.shades.table, key)


def test_a_piece_is_put_right_from_the_keyboard(shelf: Shelf) -> None:
    before = shelf.ask(dump)
    choose(shelf, "W-003")
    editor = shelf.dialog(press(shelf, Qt.Key.Key_Return))
    assert isinstance(editor, PieceEditor)
    editor.name.setText("long skein")
    editor.weight.setText("48,5")
    editor.treatments.lines.add.click()
    added = editor.treatments.lines.rows[-1]
    added.kind.setCurrentIndex(added.kind.findData("afterbath"))
    added.what.setText("white vinegar")
    added.ph.setText("4,5")
    editor.treatments.lines.rows[3].up.click()
    kept(shelf, editor)
    form = shelf.ask(lambda library: piece_form(library, find_piece(library, "W-003").id))
    assert (form.name, form.weight_g) == ("long skein", 48.5)
    assert [one.kind for _, one in form.treatments] == ["mordant", "bath", "afterbath", "rinse"]
    assert shelf.undo.undoText() == "change the piece W-003"
    assert shelf.place.told.text() == "The piece W-003 was changed. Ctrl+Z takes that back."
    assert shelf.place.shades.current is not None
    assert shelf.place.shades.current.history.piece.name == "long skein"
    taken_back(shelf, before)
    assert shelf.place.told.text() == ""
    shelf.undo.redo()
    shelf.settle()
    assert shelf.place.shades.current.history.piece.name == "long skein"


def test_a_piece_kept_as_it_was_is_no_step_of_undo(shelf: Shelf) -> None:
    before = shelf.ask(dump)
    choose(shelf, "W-003")
    kept(shelf, shelf.dialog(shelf.place.shade_actions.edit_piece))
    assert not shelf.undo.canUndo()
    assert shelf.place.told.text() == "Nothing was changed."
    assert shelf.ask(dump) == before


def test_bad_typing_in_a_piece_is_answered_and_nothing_typed_is_lost(shelf: Shelf) -> None:
    before = shelf.ask(dump)
    choose(shelf, "W-003")
    editor = shelf.dialog(shelf.place.shade_actions.edit_piece)
    assert isinstance(editor, PieceEditor)
    rinse = editor.treatments.lines.rows[2]
    bath = editor.treatments.lines.rows[1]
    for field, typed, sentence in (
        (editor.weight, "-3", "The weight lies above 0; -3 does not."),
        (editor.code, "w-001", "Another piece is called w-001 already. Choose another id."),
        (editor.fibre, "", "Say which fibre it is."),
        (rinse.ph, "15", "The pH lies between 0 and 14; 15 does not."),
        (rinse.started, "yesterday", "The beginning is a day as 2026-03-12, or a day"),
        (bath.what, "bath-404", "There is no bath bath-404 in this library."),
    ):
        shown = field.text()
        field.setText(typed)
        editor.accept()
        assert editor.isVisible()
        assert field.accessibleDescription().startswith(sentence)
        assert field.text() == typed
        if field in rinse.fields:
            assert rinse.answers.isVisible()
            assert rinse.answers.text().startswith(sentence)
        field.setText(shown)
    editor.reject()
    shelf.settle()
    assert shelf.ask(dump) == before


def test_a_refusal_is_told_in_the_form_which_stays_open(shelf: Shelf) -> None:
    choose(shelf, "W-003")
    editor = shelf.dialog(shelf.place.shade_actions.edit_piece)
    assert isinstance(editor, PieceEditor)
    piece_id = shelf.ask(lambda library: find_piece(library, "W-003").id)
    shelf.place.jobs.remove_piece(piece_id, "W-003")
    shelf.settle()
    editor.name.setText("typed with care")
    editor.accept()
    shelf.settle()
    assert editor.isVisible()
    assert "is no longer in the library" in editor.trouble.text()
    assert editor.name.text() == "typed with care"
    editor.reject()


def test_a_fault_of_ours_leaves_the_form_as_it_was_typed(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    def mistaken(*_given: object) -> bool:
        raise ZeroDivisionError("our mistake")

    monkeypatch.setattr("dyeshade.window.library_jobs.put_piece_right", mistaken)
    choose(shelf, "W-003")
    editor = shelf.dialog(shelf.place.shade_actions.edit_piece)
    assert isinstance(editor, PieceEditor)
    editor.name.setText("typed with care")
    editor.accept()
    assert not editor.keeps.isEnabled()
    # Nobody leaves while the library is about to keep it.
    editor.reject()
    assert editor.isVisible()
    shelf.qtbot.waitUntil(lambda: bool(shelf.faults))
    assert editor.keeps.isEnabled()
    assert editor.name.text() == "typed with care"
    editor.reject()
    assert not visible(shelf)
    shelf.faults.clear()


def test_a_reading_is_put_right(shelf: Shelf) -> None:
    before = shelf.ask(dump)
    choose(shelf, "W-003")
    editor = shelf.dialog(press(shelf, Qt.Key.Key_F2))
    assert isinstance(editor, ReadingEditor)
    editor.piece.setText("W-404")
    editor.read_at.setText("")
    editor.accept()
    assert editor.piece.accessibleDescription() == "There is no piece W-404 in this library."
    assert editor.read_at.accessibleDescription() == "The day of the reading is needed."
    editor.piece.setText("w-001")
    editor.read_at.setText("2026-04-02 08:15")
    editor.state.setCurrentIndex(editor.state.findData("after_wash"))
    editor.note.setText("washed by hand")
    kept(shelf, editor)
    assert shelf.codes().count("W-001") == 2
    assert "W-003" not in shelf.codes()
    assert shelf.place.shades.current is not None
    reading = shelf.place.shades.current.reading
    assert (reading.state, reading.note) == ("after_wash", "washed by hand")
    assert f"{reading.read}" == "2026-04-02 08:15:00"
    taken_back(shelf, before)


def test_a_bath_is_put_right(shelf: Shelf) -> None:
    before = shelf.ask(dump)
    choose(shelf, "W-003")
    editor = shelf.dialog(shelf.place.shade_actions.edit_bath)
    assert isinstance(editor, BathEditor)
    editor.dyes.add.click()
    madder = editor.dyes.rows[1]
    madder.name.setText("madder")
    madder.ratio.setText("7,5 % wof")
    editor.additions.rows[0].away.click()
    editor.phs["extraction"].setText("6,1")
    editor.phs["bath_end"].setText("")
    kept(shelf, editor)
    said = shelf.ask(lambda library: bath_form(library, find_bath(library, "bath-002").id))
    assert [(dye.name, dye.form, dye.ratio) for dye in said.dyes] == [
        ("weld", "dried", 1.0),
        ("madder", "dried", 0.075),
    ]
    assert said.additions == ()
    assert said.phs == (("extraction", 6.1),)
    assert shelf.undo.undoText() == "change the bath bath-002"
    taken_back(shelf, before)


def test_an_exhaust_bath_is_begun_of_the_chosen_shade_s_bath(shelf: Shelf) -> None:
    choose(shelf, "W-003")
    editor = shelf.dialog(shelf.place.shade_actions.exhaust)
    assert isinstance(editor, BathEditor)
    assert (editor.code.text(), editor.exhaust_of.text()) == ("bath-006", "bath-002")
    assert editor.dyes.rows[0].name.text() == "weld"
    kept(shelf, editor)
    bath = shelf.ask(lambda library: find_bath(library, "bath-006"))
    assert bath.exhaust_number == 1
    # What nobody was in yet can go again.
    shelf.place.look_at(BATHS)
    shelf.settle()
    assert shelf.place.baths.current.whole.bath.code == "bath-006"
    QTest.keyClick(shelf.place.baths.table, Qt.Key.Key_Delete)
    shelf.settle()
    assert shelf.place.baths.model.rowCount() == 5
    QTest.keyClick(shelf.place.baths.table, Qt.Key.Key_Delete)
    shelf.settle()
    assert [error.code for error in shelf.refused] == ["still_used"]


def test_a_bath_editor_answers_what_no_bath_can_be(shelf: Shelf) -> None:
    known = shelf.ask(known_to)
    editor = BathEditor(SaidBath("bath-006"), known, shelf)
    dye = editor.dyes.rows[0]
    editor.additions.add.click()
    soda = editor.additions.rows[0]
    soda.substance.setText("washing soda")
    for field, typed, sentence in (
        (editor.code, "BATH-001", "Another bath is called BATH-001 already. Choose another id."),
        (editor.code, " ", "The id is needed."),
        (editor.exhaust_of, "bath-404", "There is no bath bath-404 in this library."),
        (editor.exhaust_of, "bath-006", "A bath does not exhaust itself."),
        (editor.liquor, "0", "The liquor ratio lies above 0; 0 does not."),
        (editor.minutes, "-5", "The time is not negative; -5 does not."),
        (dye.ratio, "x", "The ratio is a number, as 7.5 or 7,5; “x” is none."),
        (soda.amount, "", "The amount is needed."),
        (soda.unit, "", "The unit, as g or ml, is needed."),
        (soda.ph, "14,5", "The pH lies between 0 and 14; 14,5 does not."),
    ):
        shown = field.text()
        field.setText(typed)
        if field is dye.ratio:
            dye.name.setText("weld")
        assert field in editor.check()
        assert field.accessibleDescription() == sentence
        field.setText(shown)
    soda.amount.setText("2")
    soda.unit.setText("g")
    editor.accept()
    assert editor.said().dyes[0].name == "weld"
    assert editor.said().additions[0].amount == 2
    assert editor.result() == QDialog.DialogCode.Accepted
    editor.deleteLater()


def test_two_pieces_that_are_one_become_one(shelf: Shelf) -> None:
    before = shelf.ask(dump)
    choose(shelf, "W-003")
    dialog = shelf.dialog(shelf.place.shade_actions.merge)
    assert isinstance(dialog, MergeDialog)
    for typed, sentence in (
        ("W-003", "That is this piece itself."),
        ("W-404", "There is no piece W-404 in this library."),
    ):
        dialog.other.setText(typed)
        dialog.accept()
        assert dialog.other.accessibleDescription() == sentence
    dialog.other.setText("w-001")
    assert dialog.seen.text() == "W-001, wool, with alum"
    kept(shelf, dialog)
    assert shelf.codes().count("W-003") == 2
    assert "W-001" not in shelf.codes()
    taken_back(shelf, before)


def test_readings_and_pieces_go_at_a_key_and_come_back(shelf: Shelf) -> None:
    before = shelf.ask(dump)
    choose_rows(shelf.place.shades.selection, [0, 1], 0)
    QTest.keyClick(shelf.place.shades.table, Qt.Key.Key_Delete)
    shelf.settle()
    assert len(shelf.codes()) == 6
    assert shelf.undo.undoText() == "remove 2 readings"
    assert "Ctrl+Z" in shelf.place.told.text()
    taken_back(shelf, before)
    shelf.place.shade_actions.remove_piece()
    shelf.settle()
    assert len(shelf.codes()) == 7
    taken_back(shelf, before)
    shelf.place.look_at(PIECES)
    shelf.settle()
    QTest.keyClick(shelf.place.pieces.table, Qt.Key.Key_Delete)
    shelf.settle()
    assert shelf.place.pieces.model.rowCount() == 7
    taken_back(shelf, before)


def test_a_library_that_may_only_be_read_offers_no_changes(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    choose(shelf, "W-003")
    assert all(action.isEnabled() for action, _ in shelf.place.shade_actions._allowed)
    monkeypatch.setattr(type(shelf.desk), "can_write", property(lambda desk: False))
    shelf.place.shades.chosen.emit()
    assert not any(action.isEnabled() for action, _ in shelf.place.shade_actions._allowed)
    before = shelf.ask(dump)
    for key in (Qt.Key.Key_Return, Qt.Key.Key_F2, Qt.Key.Key_Delete):
        QTest.keyClick(shelf.place.shades.table, key)
    shelf.settle()
    assert shelf.dialogs == []
    assert shelf.ask(dump) == before
    # What changes nothing is still there.
    assert shelf.place.card.isEnabled()
    assert shelf.place.csv.isEnabled()


def test_names_typed_before_complete_what_is_typed(shelf: Shelf) -> None:
    choose(shelf, "W-003")
    editor = shelf.dialog(shelf.place.shade_actions.edit_piece)
    assert isinstance(editor, PieceEditor)

    def offered(field: object) -> list[str]:
        model = field.completer().model()  # type: ignore[attr-defined]
        return [model.index(i, 0).data() for i in range(model.rowCount())]

    assert offered(editor.fibre) == ["silk", "wool"]
    row = editor.treatments.lines.rows[2]
    assert "alum" in offered(row.what)
    row.kind.setCurrentIndex(row.kind.findData("overdye"))
    assert offered(row.what) == [f"bath-00{i}" for i in range(1, 6)]
    assert not row.ph.isEnabled()
    editor.reject()


def test_every_field_says_what_it_is_to_who_listens(shelf: Shelf) -> None:
    from PySide6.QtWidgets import QComboBox, QLineEdit, QToolButton, QWidget

    known: Known = shelf.ask(known_to)

    def bath_library(library: Library) -> SaidBath:
        return bath_form(library, find_bath(library, "bath-001").id)

    bath = BathEditor(shelf.ask(bath_library), known, shelf, new=False)
    choose(shelf, "W-003")
    piece = shelf.dialog(shelf.place.shade_actions.edit_piece)
    for form in (bath, piece, shelf.place):
        fields: list[QWidget] = []
        for kind in (QLineEdit, QComboBox, QToolButton):
            fields += form.findChildren(kind)
        own = [one for one in fields if not one.objectName().startswith("qt_")]
        nameless = [
            one
            for one in own
            if not one.accessibleName()
            and not (isinstance(one, QToolButton) and isinstance(one.parent(), QLineEdit))
        ]
        assert not nameless
    piece.reject()
    bath.deleteLater()
