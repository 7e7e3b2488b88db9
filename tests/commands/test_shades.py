"""``dyeshade shades`` gives shades by the conditions of their baths."""

import csv
import json
from pathlib import Path

import jsonschema
import pytest

from dyeshade.library.library import Library
from dyeshade.resources import resource_path
from tests.commands.conftest import Run

VALID = jsonschema.Draft202012Validator(
    json.loads(resource_path("schemas/shades.schema.json").read_text(encoding="utf-8"))
)


@pytest.fixture
def folder(workshop: Library) -> Path:
    """A library that a window has open."""
    workshop.close()
    return workshop.folder


def asked(run: Run, capsys: pytest.CaptureFixture[str], folder: Path, words: str) -> list[dict]:
    assert run("shades", "--library", folder, "--json", *words.split()) == 0
    told = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    for one in told:
        VALID.validate(one)
    return told


@pytest.mark.parametrize(
    ("words", "pieces"),
    [
        ("", ["W-001", "S-002", "W-003", "S-004", "W-005", "S-006", "W-007", "W-008"]),
        ("--dyestuff weld --fibre silk", ["S-002", "S-004", "S-006"]),
        # The rinse water acted last; which pH is meant can be named.
        ("--dyestuff weld --fibre wool --ph 8:9.5", []),
        ("--dyestuff weld --fibre wool --ph 8:9.5 --which-ph bath_start", ["W-005"]),
        ("--ph 7: --fibre silk", ["S-002", "S-004", "S-006"]),
        ("--ph :4", []),
        ("--dyestuff madder --ratio 0.4:0.6 --exhaust 1", ["W-008"]),
        ("--form fresh", []),
        ("--mordant ALUM --part root --form dried --exhaust 0", ["W-007"]),
        ("--piece w-003 --state dry --from 2026-03-01 --to 2026-03-31", ["W-003"]),
        ("--to 2026-02-28", []),
        ("--ratio 1", ["W-001", "S-002", "W-003", "S-004", "W-005", "S-006"]),
    ],
)
def test_conditions_narrow_what_is_given(
    run: Run, capsys: pytest.CaptureFixture[str], folder: Path, words: str, pieces: list[str]
) -> None:
    assert [one["piece"] for one in asked(run, capsys, folder, words)] == pieces


def test_a_shade_is_told_with_its_conditions(
    run: Run, capsys: pytest.CaptureFixture[str], folder: Path
) -> None:
    (one,) = asked(run, capsys, folder, "--piece W-008")
    assert one["baths"] == [
        {
            "kind": "bath",
            "exhaust_number": 1,
            "dyestuffs": [{"name": "madder", "part": "root", "form": "dried", "ratio": 0.5}],
        }
    ]
    assert one["ph"] == {"bath_end": 6.3, "rinse": 7.2}
    assert one["ph_acted_last"] == "rinse"
    assert (one["fibre"], one["fibre_make"], one["mordant"]) == ("wool", "4-ply yarn", "alum")
    assert one["srgb"] == [0xD6, 0xC8, 0x4A]
    assert one["lab"] == [78.0, -6.0, 61.0]


def test_people_get_a_table(run: Run, capsys: pytest.CaptureFixture[str], folder: Path) -> None:
    assert run("shades", "--library", folder, "--piece", "W-008") == 0
    head, row, terms = capsys.readouterr().out.splitlines()
    assert head.split()[:2] == ["piece", "read"]
    assert "madder, 50 % wof, exhaust bath 1" in row
    assert "wool, alum 12 %" in row
    assert "7.2 (rinse)" in row
    assert row.endswith("78.0   -6.0   61.0   61.3   95.6  #d6c84a   about 2")
    assert terms.startswith("1 shade. White D65")
    assert len(head) <= 150
    assert run("shades", "--library", folder, "--piece", "X") == 0
    assert capsys.readouterr().out == "No shade was found.\n"


def test_spreadsheets_get_a_file(
    run: Run, capsys: pytest.CaptureFixture[str], folder: Path, tmp_path: Path
) -> None:
    file = tmp_path / "shades.csv"
    assert run("shades", "--library", folder, "--fibre", "silk", "--csv", file) == 0
    captured = capsys.readouterr()
    assert (captured.out, captured.err) == ("", f"3 shades are in {file}.\n")
    with file.open(encoding="utf-8-sig", newline="") as opened:
        assert [row["piece"] for row in csv.DictReader(opened)] == ["S-002", "S-004", "S-006"]


def test_no_library_is_told_and_none_is_made(
    run: Run, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert run("shades", "--library", tmp_path / "none") == 1
    assert "There is no shade library" in capsys.readouterr().err
    assert not (tmp_path / "none").exists()


@pytest.mark.parametrize(
    "words",
    [
        "--ph 9:8",
        "--ph :",
        "--ph x",
        "--ratio a:b",
        "--from 1.3.2026",
        "--json --csv f",
        "--fibre=",
    ],
)
def test_wrong_usage_ends_with_2(run: Run, words: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        run("shades", *words.split())
    assert ended.value.code == 2
    assert capsys.readouterr().err.startswith("usage: dyeshade")
