"""``dyeshade piece-sheet``."""

from __future__ import annotations

from pathlib import Path

import pytest

from dyeshade.library.library import create_library
from tests.commands.conftest import Run
from tests.library.workshop import fill
from tests.paper.reading_back import sizes_mm, words_of


def test_two_pieces_are_two_pages(
    run: Run, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, out = tmp_path / "shades", tmp_path / "pieces.pdf"
    with create_library(folder) as library:
        fill(library)
    asked = ("--library", folder, "--piece", "W-005", "--piece", "S-002")
    assert run("piece-sheet", *asked, "--out", out) == 0
    assert capsys.readouterr().err == (
        f"2 piece sheets are in {out}, on 2 pages. Print at 100 %.\n"
    )
    assert len(sizes_mm(out.read_bytes())) == 2
    assert "W-005" in words_of(out.read_bytes())
    assert run("piece-sheet", "--library", folder, "--piece", "W-9", "--out", out) == 1
    assert "There is no piece W-9" in capsys.readouterr().err
