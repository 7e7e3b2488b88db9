"""The table of shades says what its numbers are, and holds them as they were read."""

import csv
import errno
import math
import os
from pathlib import Path

import pytest

from dyeshade.errors import DyeshadeError, Notice
from dyeshade.exchange.shades_csv import COLUMNS, write_shades_csv
from dyeshade.library.dye_records import Piece, Treatment
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.library import Library, create_library
from dyeshade.library.pieces import add_piece, find_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.treatments import add_treatment
from tests.exchange.test_text_cells import text_of_cell
from tests.library.workshop import SIX, a_photo, a_reading, fill


@pytest.fixture
def workshop(tmp_path: Path):
    with create_library(tmp_path / "shades") as library:
        fill(library)
        yield library


def read(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as opened:
        return list(csv.DictReader(opened))


def test_a_reading_is_a_line_with_its_bath(workshop: Library, tmp_path: Path):
    path = tmp_path / "shades.csv"
    write_shades_csv(workshop, find_shades(workshop, ShadeQuery(piece="W-008")), path)
    (line,) = read(path)
    expected = {
        "piece": "W-008",
        "fibre": "wool",
        "weight of fibre (g)": "50.0",
        "mordant": "alum",
        "mordant (% wof)": "12.0",
        "bath": "bath-005",
        "dyestuff": "madder",
        "form": "dried",
        "ratio (g dyestuff / g fibre)": "0.5",
        "exhaust number (0 = first bath)": "1",
        "pH of bath at end": "6.3",
        "pH of rinse water": "7.2",
        "which pH acted last": "rinse",
        "read (local time)": "2026-03-03T09:00:00",
        "L* (D65, 2 degrees)": "78.0",
        "u95 (CIEDE2000)": "2.1",
        "within sRGB": "yes",
        "photo": "",
    }
    assert {name: line[name] for name in expected} == expected
    assert float(line["C*ab (D65, 2 degrees)"]) == pytest.approx(math.hypot(6, 61), abs=1e-3)
    assert float(line["hab (degrees)"]) == pytest.approx(math.degrees(math.atan2(61, -6)), abs=1e-3)
    covariance = [float(line[name]) for name in line if name.startswith("covariance of photo")]
    assert covariance == list(SIX)


def test_names_with_commas_quotes_and_other_scripts_come_back_whole(
    workshop: Library, tmp_path: Path
):
    piece = find_piece(workshop, "W-001")
    name = 'weld, "réséda" 木犀草\nsecond line'
    with workshop.edit("vinegar") as edit:
        add_treatment(edit, Treatment(piece.id, "dip", substance=name), ph=3.5)
        photo = edit.add(a_photo())
        keep_reading(
            edit,
            a_reading(
                piece.id,
                photo_id=photo,
                method_version=1,
                in_gamut=False,
                notices=(Notice("darker_than_greys"), Notice("patchy")),
            ),
        )
    path = tmp_path / "shades.csv"
    write_shades_csv(workshop, find_shades(workshop, ShadeQuery(piece="W-001")), path)
    line = read(path)[-1]
    assert line["afterbaths and dips"] == f"dip ({name})"
    assert (line["photo"], line["within sRGB"]) == ("IMG_0001.jpg", "no")
    assert line["flags"] == "darker_than_greys patchy"
    assert len(line["SHA-256 of photo"]) == 64


def test_no_name_is_a_formula_and_all_come_back(workshop: Library, tmp_path: Path):
    names = ["=1+1", "-3.2", "+49", "@weld", "'quoted'", "'=odd", "\tweld", "=", "plain", "'"]
    path = tmp_path / "shades.csv"
    with workshop.edit("name") as edit:
        for number, name in enumerate(names):
            keep_reading(edit, a_reading(add_piece(edit, Piece(f"-{number}", name=name))))
    write_shades_csv(workshop, find_shades(workshop, ShadeQuery()), path)
    lines = read(path)
    assert not [one for one in lines if one["piece name"].startswith(("=", "+", "-", "@", "\t"))]
    assert {text_of_cell(one["piece name"]) for one in lines} >= set(names)
    assert {text_of_cell(one["piece"]) for one in lines} >= {"-0", "-9"}
    # Numbers are none of it: a* of these is below 0.
    assert any(float(one["a* (D65, 2 degrees)"]) < 0 for one in lines)


def test_a_full_disk_leaves_the_table_that_was_there(
    workshop: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    path = tmp_path / "shades.csv"
    path.write_text("of last week")

    def full(_file: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(DyeshadeError, match="cannot_write"):
        write_shades_csv(workshop, find_shades(workshop, ShadeQuery()), path)
    assert [one.name for one in tmp_path.iterdir() if one.is_file()] == ["shades.csv"]
    assert path.read_text() == "of last week"


def test_every_number_has_its_unit_in_the_header():
    headers = [header for header, _ in COLUMNS]
    assert len(set(headers)) == len(headers)
    for header in headers:
        if header.startswith(("L*", "a*", "b*", "C*", "hab", "weight", "ratio", "u95", "cov")):
            assert "(" in header, header


def test_a_table_that_cannot_be_written_says_so(workshop: Library, tmp_path: Path):
    with pytest.raises(DyeshadeError) as caught:
        write_shades_csv(workshop, [], tmp_path / "nowhere" / "shades.csv")
    assert caught.value.code == "cannot_write"
