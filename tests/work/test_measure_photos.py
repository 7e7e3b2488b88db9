"""Many photos: each told in the order given, whatever becomes of the others."""

from pathlib import Path

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.work import measure_photos as work
from dyeshade.work.side_by_side import Crashed, Finished


def codes(outcomes):
    return [(one.path, one.found.code) for one in outcomes]


def test_outcomes_come_in_the_order_of_the_photos_with_their_progress(tmp_path):
    text = tmp_path / "notes.txt"
    text.write_text("alum 12 % wof", encoding="utf-8")
    paths = [str(tmp_path / "gone.jpg"), str(text), str(tmp_path)]
    seen = []
    found = work.measure_photos(paths, workers=2, progress=lambda *of: seen.append(of))
    reasons = ["photo_missing", "photo_kind_unknown", "photo_unreadable"]
    assert codes(found) == list(zip(paths, reasons, strict=True))
    assert seen == [(0, 3), (1, 3), (2, 3), (3, 3)]


def test_a_photo_that_crashes_its_reader_is_refused_and_the_rest_are_told(monkeypatch):
    def ended_out_of_order(job, paths, workers):
        yield Finished(1, work.PhotoOutcome("b", DyeshadeError("no_sheet")))
        yield Finished(0, Crashed())

    monkeypatch.setattr(work, "run_each", ended_out_of_order)
    assert codes(work.measure_photos(["a", "b"])) == [("a", "reader_crashed"), ("b", "no_sheet")]


def test_a_photo_too_large_for_the_memory_is_refused(monkeypatch, tmp_path):
    def no_memory_left(path, halved):
        raise MemoryError

    monkeypatch.setattr("dyeshade.measure.halved_first.read_photo", no_memory_left)
    outcome = work.measure_file(str(tmp_path / "large.tif"))
    assert isinstance(outcome.found, DyeshadeError)
    assert outcome.found.code == "not_enough_memory"


def test_a_kind_of_light_that_is_none_is_our_mistake():
    photo = Path(__file__).parents[2] / "example_images" / "ph_series_wool.jpg"
    with pytest.raises(ValueError, match="candle"):
        work.measure_file(str(photo), light="candle")
