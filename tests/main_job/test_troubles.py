"""Each trouble that a photo may have, at the end of its stated range: read truly, or said aloud.

The photographs are rendered by ``tests/render`` from published spectra (CIE 224:2017, as
colour-science carries them) and a measured camera (RAW to ACES data repository, Apache-2.0).
``tests/studies/one_trouble.py`` does the same for more lights, cameras and dull pieces;
``tests/studies/hunt.py`` for troubles mixed.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from dyeshade.errors import DyeshadeError
from tests.main_job.at_the_ends import RAISED, TROUBLES, Trouble, outcomes, scene_with

PIECES = {"A", "B", "E", "F"}

SAID_OUT = {
    "paper clipped": "paper_clipped",
    "paper clipped in red alone": "paper_clipped",
    "tilt of 35 degrees": "tilted",
    "white off by 20 %": "white_off",
    "corners curled up": "paper_curled",
    "yarn and a leaf over greys and marks": "marks_covered",
    "a shadow over part of the greys": "greys_hidden",
}
"""What a reader must hear of even where the number is right."""

BEYOND: dict[str, tuple[str, dict[str, object]]] = {
    "no sheet": ("no_sheet", {"fill": 30.0}),
    "three marks in sight": ("too_few_marks", {"fill": 2.6, "aim_mm": (-75.0, -110.0)}),
    "out of focus": ("too_blurred", {"blur_px": 9.0}),
    "the sheet far away": ("too_small", {"fill": 0.4}),
    "tilt of 55 degrees": ("too_tilted", {"tilt_deg": 55.0, "fill": 0.6, "long_side_px": 3000}),
}
"""Troubles beyond the stated range, and the reason by which each is refused."""


@pytest.mark.parametrize("name", TROUBLES)
def test_a_trouble_within_the_range_is_read_truly_or_told(name: str, tmp_path: Path) -> None:
    trouble = TROUBLES[name]
    measured, found = outcomes(scene_with(trouble), tmp_path)
    assert {one.name for one in found} == PIECES
    for one in found:
        told = one.codes & trouble.tells
        assert one.error <= one.u95 or told, f"{one.name}: {one.error:.1f}, and nothing said of it"
        # What these troubles do to a camera that does not embellish is far less than stated.
        # Of a piece that is itself cut off no more can be known than that.
        assert one.error < 5 or "clipped_sample" in one.codes
    if name in SAID_OUT:
        assert SAID_OUT[name] in {notice.code for notice in measured.notices}


@pytest.mark.parametrize("name", ["pieces 25 mm above the sheet", "pieces 50 mm above the sheet"])
def test_pieces_above_the_sheet_are_read_truly_or_something_is_said(
    name: str, tmp_path: Path
) -> None:
    _, found = outcomes(scene_with(RAISED[name]), tmp_path)
    assert {one.name for one in found} == PIECES
    for one in found:
        assert one.error <= one.u95 or one.codes
        assert one.error < 7


@pytest.mark.parametrize("name", BEYOND)
def test_a_trouble_beyond_the_range_is_refused_with_its_reason(name: str, tmp_path: Path) -> None:
    code, fields = BEYOND[name]
    with pytest.raises(DyeshadeError) as refused:
        outcomes(scene_with(Trouble(fields)), tmp_path)
    assert refused.value.code == code
