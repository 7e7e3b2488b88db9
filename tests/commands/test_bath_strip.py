"""``dyeshade bath strip``: a strip in a photo, its kind kept, its pH in a bath's log."""

import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from dyeshade.bath.strip_scale import StripPlace
from dyeshade.cli import main
from dyeshade.errors import Notice
from dyeshade.library.bath_room import bath_room
from dyeshade.library.baths import find_bath
from dyeshade.library.library import create_library, open_library
from dyeshade.resources import resource_path
from dyeshade.work import read_strip
from dyeshade.work.keep_plan import keep_plan
from dyeshade.work.read_strip import StripAsked, StripFound, StripLook
from dyeshade.work.strip_kinds import ScaleColours
from tests.bath.strip_photo import ROWS, kept_photo
from tests.bath.strips import pad_labs
from tests.work.bathing import WELD_BATH

PHOTO = kept_photo()
SCHEMA = json.loads(resource_path("schemas/bath_strip.schema.json").read_text(encoding="utf-8"))
BLOCKS = "4 5 6 / 7 8 9"
COLOURS = ScaleColours(pad_labs(np.arange(4.0, 10.0)), np.eye(18), np.zeros((6, 3, 3)))
READ = StripPlace(7.4, 7.1, 7.8, 1.2, True, False)


def look(asked: StripAsked) -> StripLook:
    """What reading the photo gave, without reading it: the numbers are looked at elsewhere."""
    assert asked.pad is not None
    stained = np.abs(asked.pad - PHOTO.pads[6.1]).max() < 1
    place = StripPlace(4.0, 4.0, 4.4, 28.0, False, True) if stained else READ
    notices = (Notice("strip_stained", {"distance": 28}),) if stained else ()
    here = asked.scale is not None
    colours = COLOURS if here else asked.colours
    assert colours is not None
    assert asked.rows == ROWS
    return StripLook(
        asked,
        StripFound(place, colours, here, (*notices, Notice("strip_liquor_colours")), "JPEG"),
    )


def place(corners) -> str:
    return ",".join(f"{one:g}" for one in corners.ravel())


def ask(*arguments: str) -> int:
    return main(["bath", "strip", str(PHOTO.path), "--light", "window", *arguments])


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A library with a bath."""
    monkeypatch.setattr(read_strip, "look_at_strip", look)
    with create_library(tmp_path / "lib") as library:
        keep_plan(library, WELD_BATH)
    return tmp_path / "lib"


def test_a_kind_is_marked_once_and_the_ph_goes_into_the_log(folder: Path, capsys):
    shelf = ["--library", str(folder), "--kind", "narrow strips"]
    marked = ["--scale", place(PHOTO.scale), "--blocks", BLOCKS]
    first = ["--pad", place(PHOTO.pads[7.4]), *marked, *shelf, "--log", "BATH-001"]
    assert ask(*first) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "pH 7.4, between 7.1 and 7.8 (95 times in 100)"
    assert any("stains the pad" in line for line in lines)
    with open_library(folder) as library:
        (read,) = bath_room(library, find_bath(library, "bath-001").id).readings
    assert (read.ph, read.error) == (7.4, 0.4)
    assert read.photo_id is not None

    assert ask("--pad", place(PHOTO.pads[6.1]), *shelf, "--json") == 1
    told = json.loads(capsys.readouterr().out)
    jsonschema.validate(told, SCHEMA)
    assert told["on_scale"] is False
    assert told["scale_in_photo"] is False
    assert "ph" not in told


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--pad", "1,2,3,4"], "--kind"),
        (["--pad", "1,2,3", "--scale", "0,0,9,9", "--blocks", BLOCKS], "--pad 1,2,3"),
        (["--pad", "1,2,3,4", "--scale", "0,0,9,9"], "--blocks"),
        (["--pad", "1,2,3,4", "--kind", "a", "--blocks", BLOCKS], "--scale"),
    ],
)
def test_what_is_missing_is_asked_for(arguments, told, capsys):
    with pytest.raises(SystemExit) as ended:
        ask(*arguments)
    assert ended.value.code == 2
    assert told in capsys.readouterr().err


@pytest.mark.parametrize(
    ("blocks", "told"),
    [("4 5", "at least 3"), ("4 5 5", "pH 5"), ("4 5 6 / 7", "another 1"), ("4 5 99", "99")],
)
def test_blocks_that_are_none_are_answered_in_a_sentence(blocks, told, capsys):
    assert ask("--pad", "1,2,3,4", "--scale", "0,0,9,9", "--blocks", blocks) == 1
    answer = capsys.readouterr().err.strip()
    assert told in answer
    assert answer.endswith(".")


def test_a_kind_that_nobody_marked_is_answered(folder: Path, capsys):
    assert ask("--pad", "1,2,3,4", "--kind", "wide", "--library", str(folder)) == 1
    assert "None is marked yet." in capsys.readouterr().err
