"""A wanted shade picked from a photo: of a sample, or of a spot, with its uncertainty."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading, readings_of
from dyeshade.library.shade_records import KeptPhoto, SheetReading
from dyeshade.measure.method import METHOD_VERSION
from dyeshade.measure.result import Measurement, Sample, Shade, SheetSeen
from dyeshade.work.ask_nearest import ask_nearest
from dyeshade.work.commissions import SaidCommission, agree
from dyeshade.work.keep_readings import ToKeep, keep_readings
from dyeshade.work.pick_shade import SPOT, area_of, picked, spot_at
from dyeshade.work.said import Said
from dyeshade.work.wanted_colour import wanted_colour
from tests.library.workshop import DAY
from tests.work.saving import photo_file

OWN, COMMON = 0.06 * np.eye(3), 9.0 * np.eye(3)
# A sheet of A4 that is 4 pixels to the millimetre in the photo.
PAGE = 4.0 * np.array([[0, 0], [210, 0], [210, 297], [0, 297]])


def measured_photo(camera: str = "a camera") -> Measurement:
    """A photo with a sample A of the shade of piece W-001, and B of another."""
    samples = tuple(
        Sample(name, Shade(np.array(lab), OWN, COMMON, 7.0), (1, 2, 3), True, ())
        for name, lab in (("A", (78.0, -6.0, 61.0)), ("B", (50.0, 20.0, 5.0)))
    )
    sheet = SheetSeen("A4", "six", "S-1", 1, 0.01, PAGE)
    return Measurement("x.jpg", DAY, camera, sheet, "window", samples, file_format="JPEG")


def by_the_same_camera(library: Library, code: str) -> None:
    """A reading of the piece, of the shade it has, by the camera and the sheet of the photo."""
    with library.edit("read") as edit:
        (old,) = readings_of(edit, find_piece(edit, code).id)
        photo = edit.add(KeptPhoto("a" * 64, ".jpg", "y.jpg", "JPEG", DAY, "a camera"))
        sheet = edit.add(SheetReading(photo, METHOD_VERSION, "window", "A4", "six", "S-1"))
        spread = {"covariance_photo": (0.06, 0, 0, 0.06, 0, 0.06)}
        common = {"covariance_common": (9.0, 0, 0, 9.0, 0, 9.0)}
        made = {"method_version": METHOD_VERSION, "photo_id": photo, "sheet_reading_id": sheet}
        later = replace(old, id=0, sample="later", read=DAY.replace(day=20), **made)
        keep_reading(edit, replace(later, **spread, **common))


def test_what_one_camera_and_sheet_err_alike_leaves_the_difference(workshop: Library) -> None:
    by_the_same_camera(workshop, "W-001")
    near = {}
    for camera in ("a camera", "another camera"):
        wanted = wanted_colour(workshop, picked(measured_photo(camera), "A", "some/x.jpg"))
        assert wanted.reading_id is None
        (near[camera],) = (
            one.near
            for one in ask_nearest(workshop, wanted)
            if one.shade.history.piece.code == "W-001"
        )
    assert near["a camera"].difference.value == near["another camera"].difference.value == 0.0
    assert near["a camera"].difference.high < 0.6 * near["another camera"].difference.high
    assert near["a camera"].chance > near["another camera"].chance


def test_a_commission_of_a_picked_shade_keeps_how_unsure_it_is(workshop: Library) -> None:
    kept = agree(workshop, SaidCommission(picked(measured_photo(), "a", "x.jpg")))
    assert kept.commission.reading_id is None
    assert kept.commission.lab == (78.0, -6.0, 61.0)
    assert kept.commission.covariance[0] == pytest.approx(9.06)


def test_a_sample_that_is_not_in_the_photo_is_told_with_those_that_are() -> None:
    with pytest.raises(DyeshadeError) as caught:
        picked(measured_photo(), "F", "some/x.jpg")
    assert caught.value.code == "sample_not_in_photo"
    assert caught.value.facts == {"sample": "F", "photo": "x.jpg", "samples": ["A", "B"]}


def test_a_spot_is_as_wide_as_told_on_the_page() -> None:
    spot = spot_at((400.0, 500.0), measured_photo(), 10.0)
    assert spot.name == SPOT
    assert spot.corners.mean(axis=0) == pytest.approx([400.0, 500.0])
    assert np.ptp(spot.corners, axis=0) == pytest.approx([40.0, 40.0])
    # Turned and half as large in the photo: half as many pixels.
    turned = replace(
        measured_photo(), sheet=replace(measured_photo().sheet, outline_px=PAGE[:, ::-1] / 2)
    )
    assert np.ptp(spot_at((0, 0), turned, 10.0).corners, axis=0) == pytest.approx([20.0, 20.0])
    assert area_of(PAGE) == pytest.approx(840 * 1188)


def test_a_spot_needs_a_sheet_to_have_a_size() -> None:
    with pytest.raises(DyeshadeError) as caught:
        spot_at((0, 0), replace(measured_photo(), sheet=None))
    assert caught.value.code == "no_sheet_for_spot"


def test_a_photo_without_a_time_can_be_picked_from(workshop: Library) -> None:
    timeless = replace(measured_photo(), taken=None)
    wanted = wanted_colour(workshop, picked(timeless, "B", "x.jpg"))
    assert wanted.measured is not None
    assert isinstance(wanted.measured.reading.read, datetime)
    assert list(wanted.lab) == [50.0, 20.0, 5.0]


def test_a_sample_that_the_library_keeps_is_its_piece(library: Library, tmp_path: Path) -> None:
    file = photo_file(tmp_path, "x.jpg")
    said = {"A": Said("W-001"), "B": Said("W-002")}
    keep_readings(library, [ToKeep(file, measured_photo(), said)])
    wanted = wanted_colour(library, picked(measured_photo(), "B", str(file)))
    assert (wanted.piece, wanted.picked) == ("W-002", None)
    assert wanted.reading_id is not None
    # Measured otherwise by now, or another file of that name: it is what the photo shows.
    other = picked(measured_photo(), "A", str(file))
    moved = replace(other, sample="B")
    assert wanted_colour(library, moved).picked is moved
    file.write_bytes(b"another photo")
    assert wanted_colour(library, other).picked is other
