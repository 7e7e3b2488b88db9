"""``dyeshade measure --save`` without names: the tags in the photo tell which piece is which."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

import dyeshade
from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.library.dye_records import Piece
from dyeshade.library.find import find_shades
from dyeshade.library.library import create_library, open_library
from dyeshade.resources import resource_path
from dyeshade.work.demo_library import TAGGED
from dyeshade.work.keep_pieces import keep_piece
from dyeshade.work.said import Said
from tests.commands.conftest import Run

IMAGES = Path(dyeshade.__file__).resolve().parent.parent / "example_images"
NAME = "tagged/six_tagged_skeins.jpg"
# Written by the renderer of the photo, not by what reads it.
TRUTH = json.loads((IMAGES / "truth.json").read_text(encoding="utf-8"))["tagged"][NAME]["samples"]


def kept(folder: Path) -> dict[str, tuple[str, tuple[float, float, float], float]]:
    with open_library(folder, read_only=True) as library:
        return {
            one.reading.sample: (one.history.piece.code, one.reading.lab, one.reading.u95)
            for one in find_shades(library)
        }


def test_six_tagged_skeins_are_saved_to_the_right_pieces_without_typing(
    run: Run, tmp_path: Path, photos_measured_once: None, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "shades"
    with create_library(folder) as library, library.edit("test") as edit:
        for code, name in TAGGED[:5]:
            keep_piece(edit, code, Said(name=name, fibre="wool"))
    # The sixth piece is not there yet: it is offered, and made only when that is asked for.
    assert run("measure", IMAGES / NAME, "--save", folder, "--light", "window") == 1
    told = capsys.readouterr()
    assert "Tags: A is W-019, B is W-020" in told.out
    assert "F. Its tag says W-024, a piece that the library does not have." in told.err
    assert set(kept(folder)) == set("ABCDE")
    assert run("measure", IMAGES / NAME, "--save", folder, "--light", "window", "--new-pieces") == 0
    found = kept(folder)
    assert {cell: code for cell, (code, _, _) in found.items()} == {
        cell: facts["piece"] for cell, facts in TRUTH.items()
    }
    for cell, (_, lab, u95) in found.items():
        # A tag on the cloth is left out of its shade.
        assert float(ciede2000(lab, TRUTH[cell]["lab"])) < min(u95, 4.0)
    with open_library(folder, read_only=True) as library:
        assert len(library.where(Piece)) == 6


def test_json_tells_the_tags_as_the_contract_has_them(
    run: Run, photos_measured_once: None, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("measure", IMAGES / NAME, "--json", "--light", "window") == 0
    line = json.loads(capsys.readouterr().out)
    schema = json.loads(resource_path("schemas/measure.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(schema).validate(line)
    assert {one["name"]: one["tag"] for one in line["samples"]} == {
        cell: facts["piece"] for cell, facts in TRUTH.items()
    }


def test_a_photo_without_tags_saves_nothing_and_says_what_to_do(
    run: Run, photos: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("measure", photos[0], "--save", tmp_path / "lib") == 1
    told = capsys.readouterr().err
    assert "Nothing was saved" in told
    assert "No tag of it was read; tell which piece it is with --piece A=ID." in told


def test_new_pieces_go_by_tags_alone(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        run("measure", "x.jpg", "--piece", "A=W-1", "--new-pieces")
    assert ended.value.code == 2
    assert "--new-pieces goes by tags" in capsys.readouterr().err
