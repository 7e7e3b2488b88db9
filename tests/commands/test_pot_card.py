"""``dyeshade pot-card``: typed as a bath is, or like a kept piece."""

from __future__ import annotations

from pathlib import Path

import pytest

from dyeshade.library.library import create_library
from tests.commands.conftest import Run
from tests.library.workshop import fill
from tests.paper.reading_back import words_of

WELD = ("--fibre", "wool 240 g", "--dyestuff", "weld dried 2:1")


def test_a_bath_as_it_is_typed(
    run: Run, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "pot.pdf"
    said = ("--mordant", "alum 15 %", "--liquor", "30:1", "--heat", "180 °F", "--minutes", 45)
    more = ("--ph", "bath_end=8", "--add", "washing soda", "--step", "Soak; 30 °C; 12 h")
    assert run("pot-card", *WELD, *said, *more, "--units", "us", "--out", out) == 0
    captured = capsys.readouterr()
    assert (captured.out, captured.err) == (
        "",
        f"1 pot card is in {out}, on 1 page. Print at 100 %.\n",
    )
    told = words_of(out.read_bytes()).replace("\xa0", " ")
    for words in ("1 lb 0.9 oz (480 g)", "86 °F (30 °C)", "720 min", "pH 8.0 of the bath at end"):
        assert words in told


def test_a_kept_shade_again_on_other_fibre(
    run: Run, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with create_library(tmp_path / "shades") as library:
        fill(library)
    out = tmp_path / "pot.pdf"
    again = ("--like", "W-005", "--library", tmp_path / "shades")
    assert run("pot-card", "--fibre", "wool 300 g", *again, "--out", out) == 0
    told = words_of(out.read_bytes()).replace("\xa0", " ")
    for words in ("weld, dried", "300 g", "36 g", "9 L", "80 °C", "60 min", "as W-005"):
        assert words in told
    assert run("pot-card", "--fibre", "wool 300 g", "--like", "W-9", *again[2:], "--out", out) == 1
    assert "There is no piece W-9" in capsys.readouterr().err


def test_a_kept_bath_and_a_commission_bring_their_own_fibre(run: Run, tmp_path: Path) -> None:
    with create_library(tmp_path / "shades") as library:
        fill(library)
    out, where = tmp_path / "pot.pdf", ("--library", tmp_path / "shades")
    assert run("pot-card", "--bath", "bath-002", *where, "--out", out) == 0
    told = words_of(out.read_bytes())
    assert "50 g wool and 50 g silk" in told
    assert "Bath-002" in told
    assert run("commission", "agree", "W-005", "--weight", 400, *where) == 0
    students = ("--fibre", "wool 20 g", "--students", 12)
    card = ("pot-card", "--commission", "commission-001", *where, "--out", out)
    assert run(*card) == 0
    assert "400 g wool" in words_of(out.read_bytes())
    assert run(*card, *students) == 0
    assert "240 g (8.47 oz) of fibre together" in words_of(out.read_bytes())


@pytest.mark.parametrize(
    ("said", "told"),
    [
        (("--heat", "hot"), "--heat: "),
        (("--step", "Dye; 80"), '--step: In the step "Dye; 80", "80" is neither'),
        (("--liquor", "much"), "--liquor: There is no ratio"),
    ],
)
def test_what_cannot_be_read_is_told_with_its_option(
    run: Run, said: tuple[str, str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("pot-card", *WELD, *said, "--out", "x.pdf") == 2
    assert told in capsys.readouterr().err


def test_chrome_has_no_pot_card(run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("pot-card", *WELD, "--mordant", "chrome 2 %", "--out", "x.pdf") == 1
    assert "chrome has no place" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("said", "told"),
    [
        (("--fibre", "wool 1 g"), "tell what dyes"),
        ((*WELD, "--students", "0"), "1 to 200"),
        ((*WELD, "--ph", "8"), "WHICH=VALUE"),
    ],
)
def test_wrong_usage_is_told(
    run: Run, said: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        run("pot-card", *said, "--out", "x.pdf")
    assert ended.value.code == 2
    assert told in capsys.readouterr().err
