"""With a better way of measuring, all kept photos are read again; both values stay."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

import dyeshade
from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.library import Library
from dyeshade.library.photos import photo_path
from dyeshade.library.readings import readings_in
from dyeshade.library.shade_records import Calibration, KeptPhoto, Reading, SheetReading
from dyeshade.measure.calibrations import Calibrations, CameraCalibration, SheetCalibration
from dyeshade.measure.method import METHOD_VERSION
from dyeshade.measure.own_colours import OwnColours
from dyeshade.measure.photo_to_shade import solve_photo
from dyeshade.measure.regions import DrawnOnSheet, HandGrey, HandSample, Regions
from dyeshade.measure.result import Measurement
from dyeshade.photo.read import read_photo
from dyeshade.work import read_again as module
from dyeshade.work.calibrate import keep_calibration, use_calibration
from dyeshade.work.keep_readings import ToKeep, keep_readings
from dyeshade.work.measure_photos import PhotoOutcome
from dyeshade.work.read_again import (
    HowRead,
    NotRead,
    PhotoToRead,
    all_read_anew,
    keep_again,
    measure_again,
    measure_kept,
    photos_to_read,
    read_again,
)
from dyeshade.work.said import Said
from dyeshade.work.side_by_side import Crashed, Finished
from tests.library.workshop import DAY, a_reading
from tests.work.saving import TAKEN, measured, to_keep

BETTER = HowRead(method_version=99)
SHEET_PHOTO = Path(dyeshade.__file__).parents[1] / "example_images" / "hw27_1_dry.jpg"


@pytest.fixture(autouse=True)
def here(monkeypatch: pytest.MonkeyPatch) -> None:
    """Photos are measured in this process; that processes do is looked at in test_side_by_side."""

    def run(
        job: Callable[[PhotoToRead], PhotoOutcome],
        photos: Sequence[PhotoToRead],
        workers: int | None = None,
    ) -> Iterator[Finished[PhotoOutcome]]:
        return (Finished(number, job(photo)) for number, photo in enumerate(photos))

    monkeypatch.setattr(module, "run_each", run)


def darker(photo: PhotoToRead) -> PhotoOutcome:
    """A way of measuring that finds every piece darker than before."""
    return PhotoOutcome(photo.path, measured("A", "B", l_star=58.0))


def two_photos(library: Library, folder: Path) -> None:
    keep_readings(library, [to_keep(folder, "one.jpg", A=Said("W-001"), B=Said("W-002"))])
    keep_readings(library, [to_keep(folder, "two.jpg", A=Said("W-001", note="by the window"))])
    library.forget_undo()


def test_what_the_newest_way_has_read_is_left_alone(library: Library, tmp_path: Path) -> None:
    two_photos(library, tmp_path)
    assert photos_to_read(library) == ()
    assert list(read_again(library, job=darker)) == []


def test_both_values_stay_and_the_newer_is_shown(library: Library, tmp_path: Path) -> None:
    two_photos(library, tmp_path)
    before = library.where(Reading)
    told = list(read_again(library, BETTER, job=darker))
    assert [one.name for one in told] == ["one.jpg", "two.jpg"]
    assert library.where(Reading)[: len(before)] == before
    shown = find_shades(library)
    assert {one.reading.lab_l for one in shown} == {58.0}
    assert len(shown) == len(before) == 3
    assert len(find_shades(library, ShadeQuery(every_version=True))) == 6
    # What was said of the samples goes with them.
    for old, new in zip(before, library.where(Reading)[3:], strict=True):
        said = (old.piece_id, old.state, old.read, old.after_treatment_id, old.note)
        assert (new.piece_id, new.state, new.read, new.after_treatment_id, new.note) == said


def test_the_change_is_listed_with_whether_it_was_within_what_was_stated(
    library: Library, tmp_path: Path
) -> None:
    two_photos(library, tmp_path)
    told = [one for photo in read_again(library, BETTER, job=darker) for one in photo.anew]
    first = told[0]
    assert (first.piece, first.photo, first.new.sample) == ("W-001", "one.jpg", "A")
    assert (first.old.lab_l, first.new.lab_l) == (62.0, 58.0)
    # L* 62 to 58 is 3.5 by CIEDE2000 (lightness alone: 4 / S_L), and 2.1 were stated.
    assert first.delta_e == pytest.approx(4 / (1 + 0.015 * 100 / np.sqrt(120)), rel=1e-3)
    assert first.beyond
    assert not replace(first, old=replace(first.old, u95=4.0)).beyond
    again = all_read_anew(library)
    assert [(one.old.id, one.new.id) for one in again] == [(one.old.id, one.new.id) for one in told]


def test_whoever_stops_goes_on_where_it_was_stopped(library: Library, tmp_path: Path) -> None:
    two_photos(library, tmp_path)
    work = read_again(library, BETTER, job=darker)
    next(work)
    work.close()
    assert [one.name for one in photos_to_read(library, BETTER)] == ["two.jpg"]
    assert [one.name for one in read_again(library, BETTER, job=darker)] == ["two.jpg"]
    assert photos_to_read(library, BETTER) == ()


def test_reading_again_leaves_the_steps_of_undo_alone(library: Library, tmp_path: Path) -> None:
    two_photos(library, tmp_path)
    with library.edit("change_piece") as edit:
        edit.change(replace(edit.the(Piece, 1), name="the first"))
    list(read_again(library, BETTER, job=darker))
    assert library.undo_job == "change_piece"


def test_a_photo_that_is_gone_is_told_and_the_others_are_read(
    library: Library, tmp_path: Path
) -> None:
    two_photos(library, tmp_path)
    photo_path(library, library.where(KeptPhoto)[0]).unlink()
    gone, read = list(read_again(library, BETTER, job=darker))
    assert gone.error is not None
    assert (gone.name, gone.error.code, gone.anew) == ("one.jpg", "photo_gone", ())
    assert (read.name, len(read.anew)) == ("two.jpg", 1)


def test_a_photo_that_cannot_be_measured_keeps_its_readings(
    library: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    two_photos(library, tmp_path)
    before = library.where(Reading)

    def refused(photo: PhotoToRead) -> PhotoOutcome:
        return PhotoOutcome(photo.path, DyeshadeError("too_few_marks", marks_seen=1, needed=4))

    told = list(read_again(library, BETTER, job=refused))
    assert {one.error.code for one in told if one.error} == {"too_few_marks"}
    crashed: list[Finished[PhotoOutcome]] = [Finished(0, Crashed()), Finished(1, Crashed())]
    monkeypatch.setattr(module, "run_each", lambda *_: iter(crashed))
    told = list(read_again(library, BETTER))
    assert {one.error.code for one in told if one.error} == {"reader_crashed"}
    assert library.where(Reading) == before


def test_a_sample_that_is_not_found_again_is_told(library: Library, tmp_path: Path) -> None:
    two_photos(library, tmp_path)
    only = [one.id for one in library.where(KeptPhoto)][:1]

    def one_missing(photo: PhotoToRead) -> PhotoOutcome:
        return PhotoOutcome(photo.path, measured("A", l_star=58.0))

    (told,) = read_again(library, BETTER, job=one_missing, photo_ids=only)
    assert told.not_seen == ("B",)
    assert {one.sample: one.lab_l for one in readings_in(library, only[0])} == {
        "A": 58.0,
        "B": 62.0,
    }


def test_what_was_removed_or_given_to_another_piece_meanwhile_is_heeded(
    library: Library, tmp_path: Path
) -> None:
    two_photos(library, tmp_path)
    one, _ = library.where(KeptPhoto)

    def meanwhile(photo: PhotoToRead) -> PhotoOutcome:
        a, b = readings_in(library, one.id)
        with library.edit("meanwhile") as edit:
            edit.change(replace(a, piece_id=b.piece_id))
            edit.remove(Reading, b.id)
        return darker(photo)

    (told,) = read_again(library, BETTER, job=meanwhile, photo_ids=[one.id])
    assert [(new.piece, new.new.sample) for new in told.anew] == [("W-002", "A")]
    assert told.not_seen == ()


def test_a_calibration_reads_again_and_stays_when_reading_without_it(
    library: Library, tmp_path: Path
) -> None:
    two_photos(library, tmp_path)
    with library.edit("calibrate") as edit:
        own = edit.add(Calibration("camera", "a camera", TAKEN))
    with_it = HowRead(calibration_id=own)
    told = [one for photo in read_again(library, with_it, job=darker) for one in photo.anew]
    assert {one.new.calibration_id for one in told} == {own}
    assert {one.reading.lab_l for one in find_shades(library)} == {58.0}
    assert photos_to_read(library, with_it) == ()
    assert photos_to_read(library, BETTER) == ()


def test_what_was_read_before_its_camera_was_calibrated_is_read_again_with_that(
    library: Library, tmp_path: Path
) -> None:
    two_photos(library, tmp_path)
    plain = OwnColours(np.eye(3), 1, np.zeros((3, 2)))
    later = max(one.measured for one in library.where(Reading)) + timedelta(minutes=1)
    for camera, light in (("another", "window"), ("a camera", "led")):
        other = CameraCalibration(camera, "JPEG", light, "24", plain, 1.0, 4.0, 24)
        keep_calibration(library, other, later)
    assert photos_to_read(library) == ()
    value = CameraCalibration("a camera", "JPEG", "outdoors-sun", "24", plain, 1.0, 4.0, 24)
    own = keep_calibration(library, value, later)
    assert photos_to_read(library, calibrated=False) == ()
    due = photos_to_read(library)
    assert len(due) == 2
    for one in due:
        assert isinstance(one, PhotoToRead)
        assert one.known.ids == (own,)

    def left_out(photo: PhotoToRead) -> PhotoOutcome:
        # As where the print has changed: the second photo is read without it after all.
        used = None if photo.name == "two.jpg" else own
        return PhotoOutcome(photo.path, replace(measured("A", "B"), calibration_id=used))

    now = later + timedelta(minutes=1)
    for photo, found in measure_again(
        [one for one in due if isinstance(one, PhotoToRead)], job=left_out
    ):
        keep_again(library, photo, found, now=now)
    assert [one.calibration_id for one in library.where(Reading)[3:]] == [own, own]
    # Both were tried with it: neither is due for ever.
    assert photos_to_read(library) == ()
    use_calibration(library, own, False)
    assert photos_to_read(library) == ()


def kept(library: Library, path: Path, measurement: Measurement, *names: str) -> None:
    said = {name: Said(f"W-{k:03d}") for k, name in enumerate(names, 1)}
    keep_readings(library, [ToKeep(path, measurement, said)], now=TAKEN + timedelta(days=1))


def labs(readings: Sequence[Reading]) -> dict[str, tuple[float, float, float]]:
    return {one.sample: one.lab for one in readings}


def test_cells_and_drawn_outlines_of_a_sheet_are_read_as_before(library: Library) -> None:
    spot = np.array([[1500.0, 700.0], [1560, 700], [1565, 760], [1500, 755]])
    drawn = DrawnOnSheet((HandSample("spot 1", spot),), frozenset("ACDEF"))
    found = solve_photo(read_photo(SHEET_PHOTO), drawn, "window").measurement
    kept(library, SHEET_PHOTO, found, "B", "spot 1")
    (wanted,) = photos_to_read(library, BETTER)
    assert isinstance(wanted, PhotoToRead)
    assert wanted.light == "window"
    assert wanted.without == frozenset("ACDEF")
    (told,) = read_again(library, BETTER)
    assert {one.new.sample for one in told.anew} == {"B", "spot 1"}
    for one in told.anew:
        assert one.new.lab == pytest.approx(one.old.lab, abs=0.02)
        assert one.new.method_version == 99
    # The signals are kept with the new reading as they were with the old.
    assert all(
        one.signals["samples"].keys() == {"B", "spot 1"} for one in library.where(SheetReading)
    )


def test_greys_drawn_by_hand_are_taken_as_they_were_seen(library: Library, tmp_path: Path) -> None:
    picture = np.full((640, 900, 3), 200, np.uint8)
    greys = {40: 0.09, 118: 0.2, 220: 0.7}
    regions = []
    for k, (level, reflectance) in enumerate(greys.items()):
        picture[50:150, 50 + 150 * k : 150 + 150 * k] = level
        x = 50.0 + 150 * k
        corners = np.array([[x, 50.0], [x + 100, 50], [x + 100, 150], [x, 150]])
        regions.append(HandGrey(corners, reflectance))
    rng = np.random.default_rng(3)
    picture[250:400, 200:400] = np.clip(rng.normal((170, 90, 60), 6, (150, 200, 3)), 0, 255)
    path = tmp_path / "by hand.png"
    Image.fromarray(picture).save(path)
    patch = HandSample("cloth", np.array([[210.0, 260.0], [390, 260], [390, 390], [210, 390]]))
    found = solve_photo(read_photo(path), Regions(tuple(regions), (patch,))).measurement
    kept(library, path, found, "cloth")
    (wanted,) = photos_to_read(library, BETTER)
    assert isinstance(wanted, PhotoToRead)
    # Nobody named the light, and that is said again.
    assert wanted.light is None
    outcome = measure_kept(wanted)
    assert isinstance(outcome.found, Measurement)
    assert next(one.code for one in outcome.found.notices) == "light_assumed"
    (told,) = read_again(library, BETTER)
    assert labs([told.anew[0].new])["cloth"] == pytest.approx(told.anew[0].old.lab, abs=0.05)


def test_greys_that_were_not_kept_are_asked_for(library: Library, tmp_path: Path) -> None:
    drawn = replace(measured("spot 1"), sheet=None)
    path = tmp_path / "old.jpg"
    path.write_bytes(b"an old photo")
    kept(library, path, drawn, "spot 1")
    (refused,) = photos_to_read(library, BETTER)
    assert isinstance(refused, NotRead)
    assert refused.error.code == "greys_not_kept"


def test_what_was_read_with_its_sheet_s_calibration_is_due_again_once_its_camera_has_one() -> None:
    sheet = SheetCalibration(
        "K7QF-3M9T", "A4", "six", "card", np.array([0.88]), np.full((1, 3), 0.9), 0.01, id=1
    )
    camera = CameraCalibration(
        "a camera",
        "JPEG",
        "window",
        "24",
        OwnColours(np.eye(3), 1, np.zeros((3, 2))),
        1.0,
        4.0,
        24,
        id=2,
    )
    known = Calibrations(
        (replace(camera, made=DAY + timedelta(days=9)),), (replace(sheet, made=DAY),)
    )
    for day, due in ((3, True), (9, False), (10, False)):
        reading = a_reading(
            1,
            measured=DAY + timedelta(days=day),
            calibration_id=1 if day < 9 else 2,
            method_version=METHOD_VERSION,
        )
        assert HowRead().is_due(reading, known) is due
