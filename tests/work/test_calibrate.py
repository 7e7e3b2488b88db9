"""Calibrations in the shade library: kept, listed, used, removed."""

from datetime import datetime

import numpy as np
import pytest

from dyeshade.cie.white import D65
from dyeshade.errors import DyeshadeError
from dyeshade.library.library import create_library
from dyeshade.library.shade_records import Calibration
from dyeshade.measure.calibrations import CameraCalibration, SheetCalibration
from dyeshade.measure.own_colours import OwnColours
from dyeshade.words.calibrations import list_lines
from dyeshade.work.calibrate import (
    calibrations_in,
    chart_named,
    keep_calibration,
    kept_calibrations,
    remove_calibration,
    use_calibration,
)

PLAIN = OwnColours(np.eye(3), 1, np.zeros((3, 2)))
CAMERA = CameraCalibration("Hollow Weir One", "JPEG", "window", "24", PLAIN, 1.2, 4.1, 24)
CAMERA_LINE = (
    "1  2026-04-01  camera Hollow Weir One, JPEG, daylight from a window: "
    "off by 4.1 before, 1.2 since"
)
SHEET = SheetCalibration(
    "K7QF-3M9G", "A4", "six", "card", np.array([0.88]), np.array([0.9 * D65]), 0.02
)


@pytest.fixture
def library(tmp_path):
    with create_library(tmp_path / "shades") as made:
        yield made


def test_what_is_kept_is_used_and_the_newest_first(library):
    first = keep_calibration(library, CAMERA, datetime(2026, 4, 1))
    second = keep_calibration(library, CAMERA, datetime(2026, 5, 1))
    sheet = keep_calibration(library, SHEET, datetime(2026, 5, 2))
    known = calibrations_in(library)
    assert [one.id for one in known.cameras] == [second, first]
    found = known.camera_for("Hollow Weir One", "JPEG", "outdoors-sun")
    assert found is not None
    assert found.id == second
    of_sheet = known.sheet_for("K7QF-3M9G", "A4", "six")
    assert of_sheet is not None
    assert of_sheet.id == sheet
    assert known.sheet_for("", "A4", "six") is None
    assert known.sheet_for("K7QF-3M9G", "A4", "one") is None


def test_the_list_tells_each_in_a_line(library):
    assert list_lines(kept_calibrations(library)) == ["No camera and no sheet has been calibrated."]
    keep_calibration(library, CAMERA, datetime(2026, 4, 1))
    keep_calibration(library, SHEET, datetime(2026, 4, 2))
    assert list_lines(kept_calibrations(library)) == [
        "2  2026-04-02  sheet K7QF-3M9G, from a card in a cell",
        CAMERA_LINE,
    ]


def test_what_a_newer_program_wrote_is_listed_and_not_used(library):
    with library.edit("calibrate") as edit:
        edit.add(Calibration("camera", "later", datetime(2026, 4, 1), {"format": 99}))
    assert calibrations_in(library).cameras == ()
    assert "newer" in list_lines(kept_calibrations(library))[0]


def test_removing_can_be_undone_and_needs_a_number_that_there_is(library):
    number = keep_calibration(library, CAMERA)
    assert remove_calibration(library, number).id == number
    assert kept_calibrations(library) == []
    library.undo()
    assert len(kept_calibrations(library)) == 1
    with pytest.raises(DyeshadeError) as refused:
        remove_calibration(library, 77)
    assert refused.value.code == "calibration_unknown"


def test_what_is_switched_off_stands_in_nobody_s_way(library):
    first = keep_calibration(library, CAMERA, datetime(2026, 4, 1))
    second = keep_calibration(library, CAMERA, datetime(2026, 5, 1))
    assert [one.replaced for one in kept_calibrations(library)] == [False, True]
    use_calibration(library, second, False)
    assert calibrations_in(library).ids == (first,)
    newer, older = kept_calibrations(library)
    assert (newer.in_use, older.in_use, older.replaced) == (False, True, False)
    assert list_lines([newer])[0].endswith("; not used")
    library.undo()
    assert calibrations_in(library).ids == (second, first)
    assert calibrations_in(library).newest == datetime(2026, 5, 1)


def test_charts_are_named_or_read():
    assert (chart_named("24").rows, chart_named("24").columns) == (4, 6)
    with pytest.raises(DyeshadeError) as refused:
        chart_named("no such file.txt")
    assert refused.value.code == "chart_missing"
