"""Home fastness tests from the command line: set up, due, photographed, graded, ended."""

import json
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from dyeshade.library.library import Library, open_library
from dyeshade.library.shade_records import Reading
from tests.commands.conftest import Run
from tests.commands.test_asking import contract

Told = pytest.CaptureFixture[str]


@pytest.fixture
def folder(workshop: Library) -> Path:
    workshop.close()
    return workshop.folder


def records(run: Run, capsys: Told, folder: Path, *words: str) -> list[dict]:
    assert run("home-test", words[0], "--library", folder, "--json", *words[1:]) == 0
    found = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    for one in found:
        contract("fastness" if words[0] == "photo" else "home-test").validate(one)
    return found


def test_a_light_test_goes_from_set_up_to_its_grade(
    run: Run, capsys: Told, folder: Path, photos: tuple[Path, Path]
) -> None:
    begun = (datetime.now() - timedelta(days=9)).replace(microsecond=0)
    said = ["W-001", "light", "--begun", begun.isoformat(), "--bluewool", "3"]
    (made,) = records(run, capsys, folder, "set-up", *said)
    assert made["due"] == (begun + timedelta(days=1)).isoformat()
    assert (made["due_now"], made["blue_wools"], made["certificate"]) == (True, [3], False)
    assert run("home-test", "due", "--library", folder) == 0
    told = capsys.readouterr().out
    assert told.startswith("Photograph W-001, both halves, with blue wool 3, on the sheet (light;")
    read = ["--read", (begun + timedelta(days=8)).isoformat()]
    (kept,) = records(
        run, capsys, folder, "photo", "W-001", str(photos[0]), "--halves", "A:B", *read
    )
    (step,) = kept["steps"]
    assert step["in_one_photo"]
    assert step["grade"] in {"5", "4-5", "4", "3-4", "3", "2-3", "2", "1-2", "1"}
    with open_library(folder) as library:
        states = {one.sample: one.state for one in library.where(Reading, "photo_id IS NOT NULL")}
    assert states == {"A": "dry", "B": "after_light"}
    (after,) = records(run, capsys, folder, "list")
    assert after["due"] == (begun + timedelta(days=16)).isoformat()
    assert not after["due_now"]
    assert records(run, capsys, folder, "due") == []
    assert len(records(run, capsys, folder, "due", "--ahead", "8")) == 1
    assert run("fastness", "W-001", "--library", folder) == 0
    told = capsys.readouterr().out
    assert "day 8" in told
    assert "not a certificate" in told
    (ended,) = records(run, capsys, folder, "end", "W-001")
    assert (ended["due"], ended["ended"] is None) == (None, False)
    assert len(records(run, capsys, folder, "remove", "W-001")) == 1
    assert records(run, capsys, folder, "list") == []


def test_readings_in_the_library_can_be_a_test_as_well(
    run: Run, capsys: Told, folder: Path
) -> None:
    set_up = ["W-001", "alkaline_dip", "--ph", "10", "--with", "washing soda"]
    assert run("home-test", "set-up", "--library", folder, *set_up) == 0
    told = capsys.readouterr().out
    # Whoever handles washing soda is told so before.
    assert "burn skin and eyes" in told
    assert "not a certificate" in told
    wrong = ["photo", "--library", folder, "W-001", "--halves"]
    assert run("home-test", *wrong, "1:2") == 1
    assert "W-001 has no reading 2" in capsys.readouterr().err
    with pytest.raises(SystemExit, match="2"):
        run("home-test", *wrong, "A:B")
    assert "numbers of readings" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["set-up", "W-001", "wash", "--ph", "7"], "a dip needs --ph"),
        (["set-up", "W-001", "acid_dip"], "a dip needs --ph"),
        (["set-up", "W-001", "wash", "--bluewool", "4"], "a test of light"),
        (["set-up", "W-001", "light", "--days", "1,x"], "whole numbers"),
        (["photo", "W-001", "x.jpg", "--halves", "A"], "not two samples"),
        (["photo", "W-001", "--halves", "1:2", "--light", "window"], "--light needs a photo"),
        (["photo", "W-001", "--bluewool", "9=1:2"], "from 1 to 8"),
    ],
)
def test_what_does_not_go_together_is_wrong_usage(
    run: Run, capsys: Told, folder: Path, words: list[str], told: str
) -> None:
    with pytest.raises(SystemExit, match="2"):
        run("home-test", words[0], "--library", folder, *words[1:])
    assert told in capsys.readouterr().err


def test_a_photo_shows_what_the_test_was_set_up_with(
    run: Run, capsys: Told, folder: Path, photos: tuple[Path, Path]
) -> None:
    assert run("home-test", "set-up", "--library", folder, "W-001", "rubbing", "--white") == 0
    capsys.readouterr()
    place = ["photo", "--library", folder, "W-001", photos[0]]
    with pytest.raises(SystemExit, match="2"):
        run("home-test", *place, "--halves", "A:B", "--bluewool", "3=A:B")
    assert run("home-test", *place, "--white", "A:X") == 1
    assert "shows no sample X. It shows A and B." in capsys.readouterr().err
    assert run("home-test", *place, "--white", "A:B") == 0
    assert "staining of white cloth" in capsys.readouterr().out
    with open_library(folder) as library:
        pieces = {str(row[0]) for row in library.rows("SELECT code FROM piece")}
    assert "white cloth" in pieces


@pytest.mark.parametrize("kind", ["light", "wash", "acid_dip", "alkaline_dip", "rubbing"])
def test_how_each_test_is_done_is_told_before_it_begins(run: Run, capsys: Told, kind: str) -> None:
    assert run("home-test", "how", kind) == 0
    told = capsys.readouterr().out
    assert "not a certificate" in told
    assert ("bleach" in told) == (kind == "acid_dip")
    assert ("burn" in told) == (kind == "alkaline_dip")
