"""``dyeshade tags``: tags and labels of pieces, and a class's pieces with their tags."""

from __future__ import annotations

from pathlib import Path

import pytest

from dyeshade.library.dye_records import Piece
from dyeshade.library.library import create_library, open_library
from dyeshade.sheet.tag import tag_text
from tests.commands.conftest import Run
from tests.library.workshop import fill
from tests.paper.reading_back import codes_on, words_of


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with create_library(tmp_path / "shades") as library:
        fill(library)
    return tmp_path / "shades"


def codes(folder: Path) -> set[str]:
    with open_library(folder, read_only=True) as library:
        return {one.code for one in library.where(Piece)}


def test_a_class_gets_its_pieces_and_tags_in_one_go(
    run: Run, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, out = tmp_path / "new", tmp_path / "tags.pdf"
    said = ("--fibre", "wool", "--weight", "20", "--name", "Ida Example")
    assert run("tags", "--library", folder, "--new", 12, *said, "--out", out) == 0
    told = capsys.readouterr().err
    assert f"12 tags are in {out}, on 1 page." in told
    assert "12 new pieces: W-001 to W-012." in told
    assert codes(folder) == {f"W-{n:03d}" for n in range(1, 13)}
    assert sorted(codes_on(out.read_bytes())[0]) == sorted(tag_text(code) for code in codes(folder))
    assert "Ida Example" in words_of(out.read_bytes())


def test_nothing_is_made_where_the_tags_cannot_be_written(
    run: Run, folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = codes(folder)
    out = tmp_path / "no such folder" / "tags.pdf"
    assert run("tags", "--library", folder, "--new", 3, "--out", out) == 1
    assert "could not be written" in capsys.readouterr().err
    assert codes(folder) == before


def test_labels_and_tags_of_pieces_that_are_there(
    run: Run, folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "labels.pdf"
    said = ("--label", "--content", "wool=100 % wool", "--maker", "Hollow Weir")
    assert run("tags", "--library", folder, "--piece", "W-005", *said, "--out", out) == 0
    assert "1 label is in" in capsys.readouterr().err
    assert "100 % wool" in words_of(out.read_bytes())
    asked = ("--piece", "W-005", "--piece", "S-002", "--copies", 3, "--size", "large")
    assert run("tags", "--library", folder, *asked, "--out", out) == 0
    assert "6 tags are in" in capsys.readouterr().err


def test_a_piece_that_is_not_there_is_told(
    run: Run, folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "tags.pdf"
    assert run("tags", "--library", folder, "--piece", "W-05", "--out", out) == 1
    assert "There is no piece W-05" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("", "tell which pieces"),
        ("--piece A --new 3", "tell which pieces"),
        ("--new 0", "1 to 500"),
        ("--piece A --fibre wool", "--fibre is of new pieces"),
        ("--new 1 --name a --name b", "more names"),
        ("--new 1 --wof 12", "--wof needs --mordant"),
        ("--piece A --maker me", "--maker stands on labels"),
        ("--piece A --label --copies 2", "--copies is of tags"),
        ("--piece A --copies 0", "--copies are 1 to 100"),
    ],
)
def test_wrong_usage_is_told(
    run: Run, said: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        run("tags", "--out", "x.pdf", *said.split())
    assert ended.value.code == 2
    assert told in capsys.readouterr().err
