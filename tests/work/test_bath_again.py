"""A shade is made again by the bath that its piece was in."""

from __future__ import annotations

from pathlib import Path

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import add_bath, read_bath_ph
from dyeshade.library.dye_records import Bath, DyestuffLot, FibreLot, Mordant, Piece, Treatment
from dyeshade.library.library import create_library
from dyeshade.library.pieces import add_piece, keep_lot
from dyeshade.library.readings import keep_reading
from dyeshade.library.treatments import add_treatment
from dyeshade.work.bath_again import bath_again
from tests.library.workshop import DAY, a_reading


@pytest.mark.parametrize("weight_g", [None, 50.0])
def test_the_bath_is_scaled_to_the_wanted_weight(tmp_path: Path, weight_g: float | None) -> None:
    with create_library(tmp_path / "library") as library:
        with library.edit("dye") as edit:
            wool = keep_lot(edit, FibreLot("wool"))
            alum = keep_lot(edit, Mordant("alum", 12.0))
            piece = add_piece(
                edit, Piece("W-001", fibre_lot_id=wool, mordant_id=alum, weight_g=weight_g)
            )
            weld = [(DyestuffLot("weld"), 1.0)]
            bath = add_bath(edit, Bath("bath-001", liquor_ratio=30), weld)
            read_bath_ph(edit, bath, "bath_start", 8.5, 0.1, DAY, "meter")
            add_treatment(edit, Treatment(piece, "bath", bath))
            reading = keep_reading(edit, a_reading(piece))
        typed = bath_again(library, reading, 350)
    assert typed.code == ""
    assert [one.weight for one in typed.pieces] == ["350 g"]
    assert [(one.name, one.ratio) for one in typed.dyes] == [("weld", "1:1")]
    # Of the piece and of what was read, since nobody planned this bath.
    assert [(one.name, one.share) for one in typed.substances] == [("alum", "12 %")]
    assert typed.target == "8.5"


def test_a_piece_of_no_bath_is_told(tmp_path: Path) -> None:
    with create_library(tmp_path / "library") as library:
        with library.edit("keep") as edit:
            reading = keep_reading(edit, a_reading(add_piece(edit, Piece("W-001"))))
        with pytest.raises(DyeshadeError) as told:
            bath_again(library, reading, 350)
    assert (told.value.code, told.value.facts) == ("no_bath_to_repeat", {"piece": "W-001"})
