"""``dyeshade measure`` keeps readings with what is said of their pieces."""

import json
from pathlib import Path

import pytest

from dyeshade.library.find import FoundShade, find_shades
from dyeshade.library.library import create_library, open_library
from dyeshade.work.known import said_of_bath, said_of_piece
from tests.commands.conftest import Run


def kept(folder: Path) -> list[FoundShade]:
    with open_library(folder) as library:
        return find_shades(library)


def test_all_that_can_be_said_is_kept(
    run: Run, photos: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "lib"
    options = "--piece A=W-014 --piece B --fibre wool --mordant alum --wof 12 --bath bath-007 "
    options += "--dyestuff weld --part tops --form fresh --ratio 2 --exhaust-of bath-006 "
    options += "--ph bath_start=8.5 --ph rinse=6 --treatment scour --state wet "
    options += "--read 2026-03-05T09:00"
    said = [*options.split(), "--vessel", "steel pot", "--treatment", "rinse=white vinegar"]
    assert run("measure", photos[0], "--save", folder, *said) == 0
    captured = capsys.readouterr()
    assert captured.err.splitlines() == [
        f"Saved in {folder}: 2 readings.",
        "  one.jpg, A: piece W-014, new",
        "  one.jpg, B: piece W-015, new",
        "  New: baths bath-006, bath-007",
    ]
    assert captured.out.startswith(f"{photos[0]}\n")
    with open_library(folder) as library:
        piece, bath = said_of_piece(library, "W-014"), said_of_bath(library, "bath-007")
    assert piece is not None
    assert bath is not None
    assert (piece.fibre, piece.mordant, piece.mordant_percent_wof) == ("wool", "alum", 12.0)
    assert [(t.kind, t.substance, t.ph) for t in piece.treatments] == [
        ("scour", "", None),
        ("bath", "", None),
        ("rinse", "white vinegar", 6.0),
    ]
    (dye,) = bath.dyes
    assert (dye.name, dye.part, dye.form, dye.ratio) == ("weld", "tops", "fresh", 2.0)
    assert (bath.exhaust_of, bath.vessel, bath.phs) == (
        "bath-006",
        "steel pot",
        (("bath_start", 8.5),),
    )
    first = kept(folder)[0]
    assert (first.reading.state, first.reading.read.hour) == ("wet", 9)
    assert first.conditions.last_bath is not None
    assert first.conditions.last_bath.exhaust_number == 1


def test_the_same_photo_makes_no_double_and_says_so(
    run: Run, photos: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = ("--save", tmp_path / "lib", "--piece", "A=W-1", "--bath", "bath-1")
    assert run("measure", photos[0], *said) == run("measure", photos[0], *said) == 0
    assert "All of it was there already." in capsys.readouterr().err
    assert len(kept(tmp_path / "lib")) == 1


def test_two_photos_of_one_piece_are_two_readings(
    run: Run, photos: tuple[Path, Path], tmp_path: Path
) -> None:
    assert run("measure", *photos, "--save", tmp_path / "lib", "--piece", "A=W-1") == 0
    assert [one.history.piece.code for one in kept(tmp_path / "lib")] == ["W-1", "W-1"]


def test_the_library_of_the_environment_is_meant_unless_one_is_named(
    run: Run, photos: tuple[Path, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DYESHADE_LIBRARY", str(tmp_path / "mine"))
    assert run("measure", photos[0], "--piece", "A=W-1") == 0
    assert len(kept(tmp_path / "mine")) == 1


def test_saving_leaves_the_json_lines_as_they_are(
    run: Run, photos: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run("measure", photos[0], "--json")
    plain = capsys.readouterr().out
    run("measure", photos[0], "--json", "--save", tmp_path / "lib", "--piece", "A=W-1")
    assert capsys.readouterr().out == plain
    told = json.loads(plain)["samples"][0]
    assert told["lab"] == [round(x, 4) for x in kept(tmp_path / "lib")[0].reading.lab]


def test_what_is_measured_is_kept_where_other_photos_are_refused(
    run: Run, photos: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = ("--piece", "A=W-1", "--piece", "X=W-2")
    folder = tmp_path / "lib"
    assert run("measure", tmp_path / "gone.jpg", photos[0], "--save", folder, *said) == 1
    assert "no sample X was measured in any of the photos" in capsys.readouterr().err
    assert [one.history.piece.code for one in kept(folder)] == ["W-1"]
    assert run("measure", tmp_path / "gone.jpg", "--save", folder, "--piece", "A=W-9") == 1
    assert f"Nothing was saved in {folder}." in capsys.readouterr().err


def test_a_contradiction_is_told_and_nothing_kept(
    run: Run, photos: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = ("--save", tmp_path / "lib", "--piece", "A=W-1")
    assert run("measure", photos[0], *said, "--fibre", "wool") == 0
    assert run("measure", photos[1], *said, "--fibre", "silk") == 1
    told = capsys.readouterr().err
    assert "Piece W-1 is kept with another fibre: wool, not silk. Nothing was saved." in told
    assert len(kept(tmp_path / "lib")) == 1


def test_a_library_that_is_in_use_or_none_is_told(
    run: Run, photos: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("measure", photos[0], "--save", tmp_path, "--piece", "A=W-1") == 1
    assert "is not a shade library" in capsys.readouterr().err
    create_library(tmp_path / "lib").close()
    assert run("measure", photos[0], "--save", tmp_path / "lib", "--piece", "A=W-1") == 0


def test_pieces_are_described_in_a_file(
    run: Run, photos: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "pieces.json"
    samples = [
        {"sample": "A", "piece": "W-1", "bath": "bath-1"},
        {"sample": "A", "photo": "two.jpg", "piece": "W-2", "bath": "bath-2"},
        {"sample": "C", "photo": "two.jpg"},
    ]
    baths = [{"code": "bath-2", "exhaust_of": "bath-1"}]
    file.write_text(json.dumps({"samples": samples, "baths": baths}), encoding="utf-8")
    assert run("measure", *photos, "--save", tmp_path / "lib", "--pieces", file) == 1
    assert "no sample C was measured in two.jpg" in capsys.readouterr().err
    codes = [(one.history.piece.code, one.bath_code) for one in kept(tmp_path / "lib")]
    assert codes == [("W-1", "bath-1"), ("W-2", "bath-2")]
    assert run("measure", *photos, "--pieces", tmp_path / "none.json") == 2
    assert "There is no pieces file" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("--piece A=W-1 --piece A=W-2", "names a sample twice"),
        ("--piece =W-1", "a name is missing"),
        ("--piece A=W-1 --dyestuff weld", "--dyestuff needs --bath"),
        ("--piece A=W-1 --bath b --ratio 1", "--ratio needs --dyestuff"),
        ("--piece A=W-1 --wof 12", "--wof needs --mordant"),
        ("--piece A=W-1 --ph bath_end=8", "--ph bath_end needs --bath"),
        ("--piece A=W-1 --ph rinse=8", "--ph rinse needs --treatment rinse"),
        ("--piece A=W-1 --ph after=8", "--ph after needs --treatment afterbath"),
        ("--piece A=W-1 --bath b --ph bath_end=8 --ph bath_end=7", "the same pH twice"),
        ("--piece A=W-1 --ph 8", "give it as WHICH=VALUE"),
        ("--piece A=W-1 --ph rinse=15", "15 is not 0 to 14"),
        ("--piece A=W-1 --ph rinse=nan", "nan is not a number"),
        ("--piece A=W-1 --treatment boil", "--treatment boil: give one of scour"),
        ("--piece A=W-1 --ratio 0", "0 is not above 0"),
        ("--piece A=W-1 --read yesterday", "yesterday is not a time"),
        ("--piece A=W-1 --pieces p.json", "--pieces and --piece do not go together"),
        ("--pieces p.json --fibre wool", "--pieces and --fibre do not go together"),
    ],
)
def test_wrong_usage_is_told(
    run: Run, said: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        run("measure", "x.jpg", *said.split())
    assert ended.value.code == 2
    assert told in capsys.readouterr().err
