"""Forms: Enter keeps what was typed, and names that are offered hold no mouse up."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from dyeshade.window.assigning import NOTHING_KNOWN
from dyeshade.window.bath_editor import BathEditor
from dyeshade.window.completing import Completer
from dyeshade.work.said import SaidBath

LEFT, PLAIN = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier


def test_enter_in_a_field_keeps_the_bath_and_does_not_throw_it_away(
    qtbot: QtBot, qapp: QApplication
) -> None:
    below = QWidget()
    qtbot.addWidget(below)
    below.show()
    editor = BathEditor(SaidBath("bath-001"), NOTHING_KNOWN, below)
    editor.open()
    (dye,) = editor.dyes.rows
    QTest.keyClicks(dye.name, "cochineal")
    QTest.keyClicks(dye.ratio, "1:10")
    QTest.keyClick(dye.ratio, Qt.Key.Key_Return)
    assert not editor.isVisible()
    assert editor.result() == BathEditor.DialogCode.Accepted
    (said,) = editor.said().dyes
    assert (said.name, said.ratio) == ("cochineal", 0.1)


def test_enter_on_cancel_cancels(qtbot: QtBot, qapp: QApplication) -> None:
    below = QWidget()
    qtbot.addWidget(below)
    below.show()
    editor = BathEditor(SaidBath("bath-001"), NOTHING_KNOWN, below)
    editor.open()
    cancel = editor.buttons.button(editor.buttons.StandardButton.Cancel)
    cancel.setFocus()
    QTest.keyClick(cancel, Qt.Key.Key_Return)
    assert not editor.isVisible()
    assert editor.result() == BathEditor.DialogCode.Rejected


def test_a_bath_begins_in_its_first_field_and_tab_goes_as_the_eye_does(
    qtbot: QtBot, qapp: QApplication
) -> None:
    below = QWidget()
    qtbot.addWidget(below)
    below.show()
    editor = BathEditor(SaidBath("bath-001"), NOTHING_KNOWN, below)
    editor.open()
    (dye,) = editor.dyes.rows
    first = editor.focusWidget()
    assert isinstance(first, QLineEdit)
    assert first.text() == "bath-001"
    chain: list[QWidget] = [first]
    one = first.nextInFocusChain()
    while one is not first:
        chain.append(one)
        one = one.nextInFocusChain()
    seen = [dye.name, dye.ratio, editor.dyes.add, editor.additions.add, editor.keeps]
    # What the dialog is for comes before what leaves it.
    seen.append(editor.buttons.button(editor.buttons.StandardButton.Cancel))
    assert sorted(seen, key=chain.index) == seen


def test_a_click_beside_the_offered_names_goes_where_it_was_meant_to(
    qtbot: QtBot, qapp: QApplication
) -> None:
    both = QWidget()
    qtbot.addWidget(both)
    column = QVBoxLayout(both)
    fibre, mordant = QLineEdit(), QLineEdit()
    # The other one first: offered names hang below their field.
    column.addWidget(mordant)
    column.addWidget(fibre)
    fibre.setCompleter(Completer(["wool", "woollen cloth"], fibre))
    both.show()
    qtbot.waitExposed(both)
    fibre.setFocus()
    QTest.keyClicks(fibre, "wool")
    popup = fibre.completer().popup()
    assert popup.isVisible()
    there = popup.mapFromGlobal(mordant.mapToGlobal(mordant.rect().center()))
    QTest.mouseClick(popup, LEFT, PLAIN, there)
    qapp.processEvents()
    assert not popup.isVisible()
    assert mordant.hasFocus()
    QTest.keyClicks(QApplication.focusWidget(), "alum")
    assert (fibre.text(), mordant.text()) == ("wool", "alum")
