"""The demo library holds what the program measures in photos of an invented workshop."""

import json
from collections import Counter
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest

import dyeshade
from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.check_standard import LEAST_SESSIONS
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.library import open_library
from dyeshade.library.shade_records import SheetReading
from dyeshade.measure.photo_to_shade import measure_photo
from dyeshade.photo.read import read_photo
from dyeshade.resources import example_photos, resource_path
from dyeshade.work import measure_photos
from dyeshade.work.demo_library import make_demo_library
from dyeshade.work.home_test_photo import keep_test_photo
from dyeshade.work.home_tests import parts_of
from dyeshade.work.home_tests_kept import running_tests
from dyeshade.work.piece_story import story_of
from dyeshade.work.pieces_file import read_pieces
from tests.measured_once import measuring_here

IMAGES = Path(dyeshade.__file__).resolve().parent.parent / "example_images"
WHOLE_TRUTH = json.loads((IMAGES / "truth.json").read_text(encoding="utf-8"))
TRUTH, HALF_COVERED = WHOLE_TRUTH["photos"], WHOLE_TRUTH["home_test"]
DRY, RINSED = (IMAGES / name for name in ("hw27_1_dry.jpg", "hw27_2_vinegar.jpg"))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory, measured_before: Path) -> Path:
    """A demo library of the piece before and after its vinegar rinse, the later photo first."""
    folder = tmp_path_factory.mktemp("demo") / "library"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(measure_photos, "run_each", measuring_here(measured_before))
        assert make_demo_library(folder, photos=[RINSED]).readings == 1
        # The piece, and the check standard beside it.
        assert make_demo_library(folder, photos=[DRY, RINSED]).readings == 2
    return folder


def test_a_photo_that_is_kept_is_not_measured_again(folder: Path) -> None:
    again = make_demo_library(folder, photos=[DRY, RINSED])
    assert (again.outcomes, again.readings) == ((), 0)


def test_numbers_are_those_that_measuring_gives(folder: Path) -> None:
    sample, _ = measure_photo(read_photo(DRY), light="window").samples
    with open_library(folder) as library:
        reading = find_shades(library, ShadeQuery(piece="HW-27"))[0].reading
        assert library.check() == ()
        assert all(one.signals["patches"]["name"] for one in library.where(SheetReading))
    assert reading.lab == tuple(sample.shade.lab)
    assert np.allclose(reading.shade.covariance, sample.shade.covariance, rtol=1e-12)
    assert reading.u95 == sample.shade.u95


def test_the_vinegar_rinse_shows_as_a_drift(folder: Path) -> None:
    with open_library(folder) as library:
        dry, rinsed = find_shades(library, ShadeQuery(piece="HW-27"))
        entries = story_of(library, rinsed.reading.id).entries
    assert (dry.conditions.acted, rinsed.conditions.acted) == ("bath_end", "rinse")
    (drift,) = (one.drift for one in entries if one.drift is not None)
    before, after = (TRUTH[path.name]["samples"]["B"]["lab"] for path in (DRY, RINSED))
    assert drift.change.size.significant
    assert abs(drift.change.size.value - float(ciede2000(before, after))) < 1.5
    assert drift.change.ways[0] == "yellower"


def test_a_home_test_waits_for_its_photo_and_both_halves_in_it_tell_what_is_true(
    folder: Path, measured_before: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The truth is the renderer's; camera, sheet and light are the same to both halves."""
    name = "home_test/half_covered_day_8.jpg"
    true = HALF_COVERED[name]["samples"]
    monkeypatch.setattr(measure_photos, "run_each", measuring_here(measured_before))
    (outcome,) = measure_photos.measure_photos([str(IMAGES / name)], light="window")
    with open_library(folder) as library:
        (test,) = running_tests(library)
        assert (test.piece, test.due) == ("W-030", datetime(2025, 10, 9, 9, 0))
        spots = dict(zip(parts_of(test.record), "ABCDEF", strict=True))
        kept = keep_test_photo(library, test.record.id, IMAGES / name, outcome.found, spots)
        library.undo()
    (step,) = kept.result.steps
    for change, (one, other) in ((step.change, "AB"), (step.blue_wools[3], "CD")):
        size = float(ciede2000(true[one]["lab"], true[other]["lab"]))
        assert change.size.low <= size <= change.size.high
        assert change.size.significant
    assert kept.test.due == datetime(2025, 10, 17, 9, 0)


def test_every_piece_in_the_photos_is_described() -> None:
    described = read_pieces(resource_path("demo/hollow_weir.json"))
    told = {(one.photo, one.sample) for one in described.samples}
    seen = {(photo, name) for photo, of in TRUTH.items() for name in of["samples"]}
    assert told == seen
    assert {path.name for path in example_photos()} == set(TRUTH)
    # The pH that the renderer was given is the one that is told.
    baths = {bath.code: dict(bath.phs) for bath in described.baths}
    for one in described.samples:
        what = TRUTH[one.photo]["samples"][one.sample]["what"]
        _, found, ph = what.partition(", pH ")
        if found:
            assert baths[one.said.bath]["bath_start"] == float(ph)
            assert one.said.fibre in what


def test_it_answers_how_well_the_workshop_repeats_and_whether_its_set_up_has_moved() -> None:
    described = read_pieces(resource_path("demo/hollow_weir.json"))
    of = {(one.photo, one.sample): one.said for one in described.samples}
    sessions = [photo for (photo, _), said in of.items() if said.piece == "TILE-1"]
    assert len(set(sessions)) >= LEAST_SESSIONS
    # One tile, so one shade, in each of its photos.
    shades = {tuple(TRUTH[photo]["samples"]["E"]["lab"]) for photo in sessions}
    assert len(shades) == 1
    # Pieces of one bath, baths alike, and pieces read twice: all three spreads have something.
    repeats = [(place, said) for place, said in of.items() if place[0].startswith("repeats")]
    dyed = [said for _, said in repeats if said.bath]
    baths = {bath.code: bath for bath in described.baths}
    told = {said.bath for said in dyed}
    assert len(told) == 3
    assert len({replace(baths[one], code="", started=None) for one in told}) == 1
    assert len(dyed) > len(told)
    counts = Counter(said.piece for _, said in repeats)
    assert all(count == 2 for count in counts.values())


def test_it_says_that_it_is_invented() -> None:
    text = resource_path("demo/hollow_weir.json").read_text(encoding="utf-8")
    assert "invented" in json.loads(text)["note"]
