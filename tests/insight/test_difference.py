"""Which errors of two readings cancel, and which do not."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from dyeshade.insight.difference import Measured, measured, set_up_of, stored_difference
from dyeshade.library.library import Library
from dyeshade.library.readings import keep_reading, readings_of
from dyeshade.library.shade_records import SheetReading
from tests.library.workshop import DAY, a_photo, a_reading

WIDE = (4.0, 0.0, 0.0, 4.0, 0.0, 4.0)
ONE = Measured(
    a_reading(1, covariance_common=WIDE, photo_id=1, method_version=1),
    "a camera",
    "JPEG",
    "S-1",
    "window",
)
LATER = replace(ONE, reading=replace(ONE.reading, photo_id=2, read=DAY + timedelta(days=90)))


def size(difference):
    return float(np.sqrt(np.trace(difference.covariance)))


def test_within_one_photo_only_what_differs_within_it_is_left():
    found = stored_difference(ONE, replace(ONE, reading=replace(ONE.reading, sample="B1")))
    assert found.how == "one_photo"
    # Twice the photo's own part: 2 x 0.04 in each of three.
    assert np.diag(found.covariance) == pytest.approx([0.08, 0.08, 0.08])


def test_with_one_camera_and_sheet_another_day_brings_another_light():
    found = stored_difference(ONE, LATER)
    assert found.how == "one_set_up"
    same_photo = stored_difference(ONE, replace(LATER, reading=replace(LATER.reading, photo_id=1)))
    assert (
        size(same_photo) < size(found) < size(stored_difference(ONE, replace(LATER, serial="S-2")))
    )


@pytest.mark.parametrize(
    ("other", "apart"),
    [
        (replace(LATER, camera="another"), ("camera",)),
        (replace(LATER, camera=None), ("camera",)),
        (replace(LATER, serial=None), ("sheet",)),
        (replace(LATER, serial="S-2", light="led"), ("sheet", "light")),
        (replace(LATER, file_format="TIFF"), ("file_format",)),
        (replace(LATER, reading=replace(LATER.reading, method_version=2)), ("method",)),
        (replace(LATER, reading=replace(LATER.reading, calibration_id=5)), ("calibration",)),
    ],
)
def test_with_anything_else_both_errors_stay_whole(other, apart):
    found = stored_difference(ONE, other)
    assert (found.how, found.apart) == ("separate", apart)
    # 2 x (0.04 + 4) in each of three.
    assert np.diag(found.covariance) == pytest.approx([8.08, 8.08, 8.08])


def test_two_unknown_cameras_are_not_taken_for_one():
    nobody = replace(ONE, camera=None)
    assert stored_difference(nobody, replace(LATER, camera=None)).how == "separate"


def test_the_further_a_piece_has_moved_the_less_cancels():
    near, far = (
        replace(ONE, reading=replace(ONE.reading, lab_b=61.0 - fade)) for fade in (3.0, 30.0)
    )
    assert size(stored_difference(ONE, near)) < size(stored_difference(ONE, far))


def test_readings_are_joined_with_what_took_them(workshop: Library):
    with workshop.edit("photo") as edit:
        photo = edit.add(a_photo())
        sheet = edit.add(SheetReading(photo, 1, "led", "A4", "six", "S-7", 1, 0.004))
        reading = a_reading(1, photo_id=photo, sheet_reading_id=sheet, method_version=1)
        keep_reading(edit, reading)
    found = measured(workshop, readings_of(workshop, 1))
    assert [(one.camera, one.serial, one.light) for one in found] == [
        (None, None, None),
        ("a camera", "S-7", "led"),
    ]


def test_readings_that_nothing_keeps_apart_have_one_set_up():
    assert set_up_of(ONE) == set_up_of(LATER)
    for other in (replace(LATER, serial="S-2"), replace(LATER, camera=None)):
        assert set_up_of(ONE) != set_up_of(other)
    nobody = replace(ONE, camera=None)
    assert set_up_of(nobody) != set_up_of(replace(LATER, camera=None))
    same_photo = replace(nobody, reading=replace(ONE.reading, sample="B1"))
    assert set_up_of(nobody) == set_up_of(same_photo)
