"""Piece sheets: history in order, photos where they are, drift of each reading."""

from pathlib import Path

import pytest
from PIL import Image

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.library.pieces import add_piece
from dyeshade.words.piece_sheet import piece_sheet
from dyeshade.work import make_piece_sheet as module
from dyeshade.work.make_piece_sheet import make_piece_sheets, piece_told
from tests.paper.reading_back import codes_on, words_of


@pytest.fixture(autouse=True)
def no_processes(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A photo is what it would be; reading one is looked at by the tests of cut-outs."""

    def cut(*_: object) -> bytes:
        path = tmp_path / "cut.jpg"
        Image.new("RGB", (60, 40), (200, 180, 60)).save(path)
        return path.read_bytes()

    monkeypatch.setattr(module, "cut_out", cut)


def test_a_sheet_tells_what_the_piece_went_through(workshop: Library, tmp_path: Path) -> None:
    out = tmp_path / "piece.pdf"
    made = make_piece_sheets(workshop, ["W-005", "S-002"], out, piece_sheet, "Letter")
    assert (made.count, made.pages) == (2, 2)
    told = words_of(out.read_bytes()).replace("\xa0", " ")
    for words in ("W-005", "wool, 4-ply yarn", "alum 12", "weld", "washing soda", "L* 78.0"):
        assert words in told
    assert all(len(codes) == 1 for codes in codes_on(out.read_bytes()))


def test_photos_that_are_gone_leave_a_sheet_without_them(workshop: Library) -> None:
    assert piece_told(workshop, "W-005").looks == ()


def test_a_piece_that_was_never_read_has_a_sheet_as_well(workshop: Library, tmp_path: Path) -> None:
    with workshop.edit("test") as edit:
        add_piece(edit, Piece("X-1", "a new one"))
    told = piece_told(workshop, "x-1")
    assert (told.latest, told.entries) == (None, ())
    make_piece_sheets(workshop, ["X-1"], tmp_path / "x.pdf", piece_sheet)
    assert "a new one" in words_of((tmp_path / "x.pdf").read_bytes())


def test_an_unknown_piece_has_none(workshop: Library, tmp_path: Path) -> None:
    with pytest.raises(DyeshadeError, match="piece_unknown"):
        make_piece_sheets(workshop, ["W-999"], tmp_path / "x.pdf", piece_sheet)
