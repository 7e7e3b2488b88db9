"""``dyeshade card``: asked for by baths, told what came of it."""

from datetime import timedelta
from io import BytesIO

import pypdf
import pytest

from dyeshade import cli
from dyeshade.library.library import create_library, open_library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading
from tests.library.workshop import DAY, a_reading, fill


def run(*arguments) -> int:
    return cli.main(["card", *map(str, arguments)])


@pytest.fixture
def folder(tmp_path):
    with create_library(tmp_path / "shades") as library:
        fill(library)
    return tmp_path / "shades"


def words_of(path) -> str:
    pages = pypdf.PdfReader(BytesIO(path.read_bytes())).pages
    return "\n".join(page.extract_text() for page in pages).replace("\xa0", " ")


def test_a_card_of_weld_in_an_alkaline_bath(folder, tmp_path, capsys):
    out = tmp_path / "card.pdf"
    asked = ("--library", folder, "--dyestuff", "weld", "--ph", "8:9.5", "--which-ph", "bath_end")
    looks = ("--order", "hue", "--paper", "Letter", "--title", "Weld", "--tie", "--back")
    assert run(*asked, *looks, "--out", out) == 0
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err == f"The shade card with 2 shades is in {out}. Print it at 100 %.\n"
    document = pypdf.PdfReader(BytesIO(out.read_bytes()))
    assert float(document.pages[0].mediabox.width) == pytest.approx(8.5 * 72, abs=0.1)
    assert len(document.pages) == 2
    assert {code for code in ("W-005", "S-006", "W-003") if code in words_of(out)} == {
        "W-005",
        "S-006",
    }


def test_a_piece_comes_once_unless_all_its_readings_are_asked_for(folder, tmp_path, capsys):
    with open_library(folder) as library, library.edit("again") as edit:
        piece = find_piece(edit, "W-001").id
        keep_reading(edit, a_reading(piece, read=DAY + timedelta(days=40)))
    out = tmp_path / "card.pdf"
    for more, count in (((), 8), (("--all-readings",), 9), (("--piece", "W-001"), 2)):
        assert run("--library", folder, *more, "--out", out) == 0
        assert f"with {count} shades" in capsys.readouterr().err


def test_pieces_picked_by_hand_stand_in_their_order(folder, tmp_path, capsys):
    out = tmp_path / "card.pdf"
    picked = ("--pick", "S-006", "--pick", "w-001", "--order", "given")
    assert run("--library", folder, *picked, "--out", out) == 0
    assert "with 2 shades" in capsys.readouterr().err
    told = words_of(out)
    assert told.index("S-006") < told.index("W-001")
    assert "W-003" not in told
    with pytest.raises(SystemExit):
        run("--library", folder, *picked, "--dyestuff", "weld", "--out", out)
    assert run("--library", folder, "--pick", "W-99", "--out", out) == 1
    assert "no piece W-99" in capsys.readouterr().err


def test_nothing_found_makes_no_card_and_says_so(folder, tmp_path, capsys):
    out = tmp_path / "card.pdf"
    assert run("--library", folder, "--dyestuff", "woad", "--out", out) == 1
    assert "no such shades" in capsys.readouterr().err
    assert not out.exists()


def test_a_library_that_is_not_there_is_told(tmp_path, capsys):
    assert run("--library", tmp_path / "none", "--out", tmp_path / "card.pdf") == 1
    assert "no shade library" in capsys.readouterr().err


@pytest.mark.parametrize("ph", ["9:8", ":", "acid"])
def test_what_is_no_ph_is_wrong_usage(ph, capsys):
    with pytest.raises(SystemExit) as ended:
        run("--ph", ph, "--out", "card.pdf")
    assert ended.value.code == 2
    assert "--ph" in capsys.readouterr().err
