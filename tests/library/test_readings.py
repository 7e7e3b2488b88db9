"""A photo's samples are kept once for each way of measuring, and the newest is shown."""

from dataclasses import replace
from datetime import datetime, timedelta, timezone

import numpy as np
import pytest

from dyeshade.errors import Notice
from dyeshade.library.changes import Changes
from dyeshade.library.dye_records import Piece
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.library import Library
from dyeshade.library.photos import keep_photo
from dyeshade.library.pieces import add_piece, find_piece
from dyeshade.library.readings import Assigned, readings_in, readings_of, save_measurement
from dyeshade.library.shade_records import Calibration, Reading, SheetReading, matrix_of
from dyeshade.measure.result import Measurement, Sample, Shade, ShadeShare, SheetSeen
from tests.library.workshop import a_photo, dump

COVARIANCE = np.array([[0.2, 0.01, -0.02], [0.01, 0.3, 0.05], [-0.02, 0.05, 0.4]])


def a_sample(name: str = "A1", lab: tuple[float, float, float] = (78.0, -6.0, 61.0)) -> Sample:
    shade = Shade(np.array(lab), COVARIANCE, 2 * COVARIANCE, 2.1)
    facts = {"share": np.float64(0.25), "levels": np.int64(3)}
    return Sample(
        name,
        shade,
        (214, 200, 74),
        False,
        (ShadeShare(np.array(lab), 1.0),),
        (Notice("darker_than_greys", facts),),
        np.array([[10.0, 20.0], [30.5, 20.25], [30.0, 44.0]]),
    )


def measured(*samples: Sample) -> Measurement:
    taken = datetime(2026, 3, 3, 10, 15, 7, tzinfo=timezone(timedelta(hours=1)))
    sheet = SheetSeen("A4", "six", "K7QF-3M9T", 1, np.float64(0.012))
    return Measurement("weld.jpg", taken, "a camera", sheet, "window", samples)


def save(
    library: Library,
    measurement: Measurement,
    piece_id: int,
    version: int = 1,
    calibration_id: int | None = None,
    now: datetime | None = None,
) -> Changes:
    names = [sample.name for sample in measurement.samples]
    with library.edit("save_readings") as edit:
        save_measurement(
            edit,
            measurement,
            keep_photo(edit, a_photo()),
            {name: Assigned(piece_id) for name in names},
            version,
            {"greys": [0.1, 0.5]},
            calibration_id,
            now or datetime(2026, 3, 3, 12, version),
        )
    return edit.changes


@pytest.fixture
def piece_id(library: Library) -> int:
    with library.edit("add") as edit:
        return add_piece(edit, Piece("W-001"))


def test_a_reading_holds_what_measuring_told(library: Library, piece_id: int):
    save(library, measured(a_sample()), piece_id)
    (reading,) = library.where(Reading)
    assert reading.lab == (78.0, -6.0, 61.0)
    np.testing.assert_array_equal(reading.shade.covariance_photo, COVARIANCE)
    np.testing.assert_array_equal(matrix_of(reading.covariance_common), 2 * COVARIANCE)
    assert (reading.u95, reading.srgb, reading.in_gamut) == (2.1, "#d6c84a", False)
    assert reading.read == datetime(2026, 3, 3, 10, 15, 7)
    assert reading.notices == (Notice("darker_than_greys", {"share": 0.25, "levels": 3}),)
    assert reading.outline_px == ((10.0, 20.0), (30.5, 20.25), (30.0, 44.0))
    assert reading.shades == (((78.0, -6.0, 61.0), 1.0),)
    (sheet,) = library.where(SheetReading)
    assert (sheet.serial, sheet.residual, sheet.light) == ("K7QF-3M9T", 0.012, "window")
    assert sheet.signals == {"greys": [0.1, 0.5]}
    assert reading.sheet_reading_id == sheet.id


def test_the_same_photo_read_twice_makes_no_double(library: Library, piece_id: int):
    save(library, measured(a_sample("A1"), a_sample("B2")), piece_id)
    before = dump(library)
    changes = save(library, measured(a_sample("A1"), a_sample("B2")), piece_id, now=datetime.now())
    assert not changes
    assert dump(library) == before


def test_saving_a_sample_again_for_another_piece_moves_it(library: Library, piece_id: int):
    save(library, measured(a_sample()), piece_id)
    with library.edit("add") as edit:
        other = add_piece(edit, Piece("W-002"))
    changes = save(library, measured(a_sample()), other)
    assert (changes.added("reading"), len(changes.changed("reading"))) == ((), 1)
    assert readings_of(library, piece_id) == []
    assert len(readings_of(library, other)) == 1


def test_samples_that_belong_to_no_piece_are_not_kept(library: Library, piece_id: int):
    with library.edit("save") as edit:
        photo = keep_photo(edit, a_photo())
        both = measured(a_sample("A1"), a_sample("B2"))
        save_measurement(edit, both, photo, {"B2": Assigned(piece_id)}, 1)
    assert [one.sample for one in readings_in(library, photo.id)] == ["B2"]
    with pytest.raises(ValueError, match="C3"), library.edit("save") as edit:
        save_measurement(edit, both, photo, {"C3": Assigned(piece_id)}, 1)


def test_a_newer_method_keeps_both_values_and_shows_its_own(library: Library, piece_id: int):
    save(library, measured(a_sample(lab=(78.0, -6.0, 61.0))), piece_id, version=1)
    save(library, measured(a_sample(lab=(77.5, -5.0, 60.0))), piece_id, version=2)
    assert [one.lab_l for one in readings_of(library, piece_id)] == [77.5]
    both = readings_of(library, piece_id, every_version=True)
    assert sorted(one.lab_l for one in both) == [77.5, 78.0]
    assert [one.reading.lab_l for one in find_shades(library)] == [77.5]
    assert len(find_shades(library, ShadeQuery(every_version=True))) == 2


def test_an_older_method_run_later_does_not_hide_the_newer(library: Library, piece_id: int):
    save(library, measured(a_sample(lab=(77.5, -5.0, 60.0))), piece_id, version=2)
    late = datetime(2027, 1, 1)
    save(library, measured(a_sample(lab=(78.0, -6.0, 61.0))), piece_id, version=1, now=late)
    assert [one.lab_l for one in readings_of(library, piece_id)] == [77.5]


def test_a_calibrated_camera_reads_anew_beside_the_old_value(library: Library, piece_id: int):
    save(library, measured(a_sample()), piece_id)
    with library.edit("calibrate") as edit:
        made = edit.add(Calibration("camera", "a camera, window", datetime(2026, 4, 1)))
    later = datetime(2026, 4, 1, 12, 0)
    save(library, measured(a_sample(lab=(76.0, -5.0, 60.0))), piece_id, 1, made, later)
    assert [one.lab_l for one in readings_of(library, piece_id)] == [76.0]
    assert len(readings_of(library, piece_id, every_version=True)) == 2


def test_undo_of_saving_takes_readings_and_photo_record_back(library: Library, piece_id: int):
    before = dump(library)
    save(library, measured(a_sample("A1"), a_sample("B2")), piece_id)
    after = dump(library)
    library.undo()
    assert dump(library) == before
    library.redo()
    assert dump(library) == after


def test_a_state_nobody_knows_is_our_mistake(workshop: Library):
    reading = readings_of(workshop, find_piece(workshop, "W-001").id)[0]
    with pytest.raises(ValueError, match="state"):
        replace(reading, state="damp")


def test_what_is_saved_last_is_shown_though_it_came_out_the_same(library: Library, piece_id: int):
    with library.edit("calibrate") as edit:
        camera = edit.add(Calibration("camera", "a camera", datetime(2026, 3, 3, 11)))
    plain, calibrated = measured(a_sample()), measured(a_sample(lab=(79.0, -5.0, 62.0)))
    for hour, (found, by) in enumerate(((plain, None), (calibrated, camera), (plain, None)), 12):
        save(library, found, piece_id, calibration_id=by, now=datetime(2026, 3, 3, hour))
    (shown,) = readings_of(library, piece_id)
    assert (shown.lab, shown.calibration_id) == ((78.0, -6.0, 61.0), None)
