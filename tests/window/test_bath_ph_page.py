"""Reaching a pH in the window: what is logged, by eye or by a photo, and what bounds it.

Pieces and baths are invented.
"""

from __future__ import annotations

from typing import cast

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from dyeshade.bath.strip_scale import StripPlace
from dyeshade.errors import Notice
from dyeshade.window import ph_log
from dyeshade.window.bath_rows import choose
from dyeshade.window.have_row import HaveRow
from dyeshade.window.strip_dialog import StripDialog
from dyeshade.work.read_strip import StripAsked, StripFound, StripLook
from dyeshade.work.strip_kinds import ScaleColours, strip_kinds
from tests.bath.strip_photo import kept_photo
from tests.bath.strips import pad_labs
from tests.window.bath_window import Room, shown

ENTER = Qt.Key.Key_Return
STRIP = kept_photo()
COLOURS = ScaleColours(pad_labs(np.arange(4.0, 10.0)), np.eye(18), np.zeros((6, 3, 3)))
READ = StripPlace(7.4, 7.1, 7.8, 1.2, True, False)
OFF = StripPlace(4.0, 4.0, 4.4, 28.0, False, True)


def look(asked: StripAsked, _warm: object) -> StripLook:
    """What reading the strip gave, without reading it: the numbers are looked at elsewhere."""
    found = None
    if asked.whole:
        assert asked.pad is not None
        stained = np.array_equal(asked.pad, STRIP.pads[6.1])
        notices = (Notice("strip_stained", {"distance": 28}),) if stained else ()
        found = StripFound(
            OFF if stained else READ,
            COLOURS if asked.scale is not None else cast(ScaleColours, asked.colours),
            asked.scale is not None,
            (*notices, Notice("strip_liquor_colours")),
            "JPEG",
        )
    return StripLook(asked, found, (1200, 1600), STRIP.path.read_bytes())


def test_a_spoon_of_nothing_is_answered_beside_it(room: Room):
    room.plan_weld()
    room.place.go(1)
    ph = room.place.ph
    ph.form.target.setText("7.5")
    row = cast(HaveRow, ph.form.have.rows[0])
    choose(row.additive, "soda_anhydrous")
    choose(row.by, "quarter_teaspoon")
    row.step.setText("0 g")
    room.place.keep.click()
    assert "above 0" in row.answers.text()
    row.step.setText("1.1 g")
    ph.log.amount.setText("0")
    ph.log.added.click()
    assert "is nothing" in ph.log.answers.text()
    assert ph.log.amount.text() == "0"
    ph.log.amount.setText("2")
    ph.log.added.click()
    room.until(lambda: "2.2 g washing soda" in ph.log_told.text())


def test_a_check_of_the_instrument_is_no_reading_of_the_bath(room: Room):
    room.plan_weld()
    room.place.go(1)
    log = room.place.ph.log
    log.ph.setText("7.3")
    log.known.setText("7")
    QTest.keyClick(log.known, ENTER)
    room.until(lambda: "read 7.3 in something of pH 7.0" in room.place.ph.log_told.text())
    assert "as it was" not in room.place.ph.log_told.text()


def test_what_holds_a_ph_is_told_with_its_capacity(room: Room):
    ph = room.place.ph
    room.place.go(1)
    ph.form.hold.ask.click()
    room.until(lambda: "water" in ph.form.hold.held.text())
    room.plan_weld()
    ph.form.target.setText("9.4")
    ph.form.hold.ask.click()
    room.until(lambda: "hydrogen carbonate" in ph.form.hold.held.text())
    assert "washing soda (anhydrous)" in ph.form.hold.held.text()
    assert "mmol in a litre" in ph.form.hold.held.text()


def test_a_bound_beyond_common_practice_is_asked_for(room: Room):
    room.plan_weld()
    ph = room.place.ph
    room.place.go(1)
    ph.form.ceiling.setText("8")
    assert not ph.form.raised.isVisible()
    ph.form.ceiling.setText("11")
    assert ph.form.raised.isVisible()
    assert "bears pH 3.5 to 9.5" in ph.form.bears.text()
    ph.form.raised.setChecked(True)
    assert "to 11.0" in ph.form.bears.text()


def marked(room: Room, pad: float, with_scale: bool = True) -> StripDialog:
    """The dialog with a strip's photo, read."""
    room.place.ph.log.photo.click()
    room.until(lambda: any(one.isVisible() for one in room.window.findChildren(StripDialog)))
    dialog = next(one for one in room.window.findChildren(StripDialog) if one.isVisible())
    room.settle()
    if with_scale:
        dialog.form.blocks.setText("4 5 6 / 7 8 9")
    dialog.take_photo(str(STRIP.path))
    if with_scale:
        dialog.view.drawn.emit("scale", STRIP.scale)
    dialog.view.drawn.emit("pad", STRIP.pads[pad])
    room.until(lambda: bool(dialog.form.result.text()) and not room.place.ph.log.strips.busy)
    return dialog


def test_a_strip_in_a_photo_is_marked_once_and_logged_with_its_photo(
    room: Room, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(ph_log, "look_at_strip", look)
    room.plan_weld()
    room.place.go(1)
    dialog = marked(room, 7.4)
    assert dialog.form.result.text() == "pH 7.4, between 7.1 and 7.8 (95 times in 100)"
    assert "stains the pad" in dialog.form.notes.text()
    dialog.form.name.setText("narrow strips")
    dialog.logs.click()
    room.until(lambda: not dialog.isVisible())
    room.settle()
    assert "The liquor as it was: pH 7.4 (strip in strip.jpg)" in shown(room.place.ph)
    (kind,) = room.library(strip_kinds)
    assert (kind.name, kind.rows) == ("narrow strips", ((4.0, 5.0, 6.0), (7.0, 8.0, 9.0)))
    assert kind.colours is not None

    # From then on its pad alone is marked; a stained one is no reading.
    second = marked(room, 7.4, with_scale=False)
    assert second.form.chosen is not None
    assert second.logs.isEnabled()
    assert not second.keeps.isEnabled()
    second.view.drawn.emit("pad", STRIP.pads[6.1])
    room.until(lambda: "Off the scale" in second.form.result.text())
    assert not second.logs.isEnabled()
    assert "28 CIEDE2000 off" in second.form.notes.text()
    second.reject()


def test_what_is_no_scale_is_answered_beside_it_and_stays(room: Room):
    room.plan_weld()
    room.place.go(1)
    room.place.ph.log.photo.click()
    room.until(lambda: bool(room.window.findChildren(StripDialog)))
    dialog = room.window.findChildren(StripDialog)[0]
    room.settle()
    dialog.form.blocks.setText("4 5 99")
    assert not dialog.form.check_blocks()
    assert "There is no pH 99" in dialog.form.block_answers.text()
    assert dialog.form.blocks.text() == "4 5 99"
    assert not dialog.form.mark_scale.isEnabled()
    dialog.form.blocks.setText("4 5 9")
    assert not dialog.form.block_answers.text()
    dialog.reject()
