"""Pieces by the dozen: free codes, alike, all of them or none."""

from pathlib import Path

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import FibreLot, Mordant, Piece
from dyeshade.library.library import Library
from dyeshade.work.make_pieces import make_pieces, make_pieces_with
from dyeshade.work.said import Said

CLASS = Said(fibre="wool", mordant="alum", mordant_percent_wof=12, weight_g=20)


def test_a_class_gets_the_next_free_codes_with_what_holds_for_all(workshop: Library) -> None:
    made = make_pieces(workshop, 12, CLASS, ["Ida", "Bo"])
    assert made.codes == tuple(f"W-{number:03d}" for number in range(9, 21))
    pieces = [workshop.where(Piece, "code = ?", (code,))[0] for code in made.codes]
    assert [one.name for one in pieces[:3]] == ["Ida", "Bo", ""]
    assert {one.weight_g for one in pieces} == {20}
    (lot,) = {one.fibre_lot_id for one in pieces}
    (mordant,) = {one.mordant_id for one in pieces}
    assert workshop.the(FibreLot, lot or 0).name == "wool"
    assert workshop.the(Mordant, mordant or 0).percent_wof == 12


def test_one_step_of_undo_takes_all_of_them_back(workshop: Library) -> None:
    before = len(workshop.where(Piece))
    make_pieces(workshop, 12, CLASS)
    workshop.undo()
    assert len(workshop.where(Piece)) == before


def test_pieces_whose_tags_cannot_be_written_are_not_made(
    workshop: Library, tmp_path: Path
) -> None:
    before = len(workshop.where(Piece))

    def fails(codes: object) -> None:
        raise DyeshadeError("cannot_write", path="tags.pdf", reason="no")

    with pytest.raises(DyeshadeError, match="cannot_write"):
        make_pieces_with(workshop, 3, CLASS, (), fails)
    assert workshop.redo_job is None
    assert workshop.redo() is None
    assert len(workshop.where(Piece)) == before


@pytest.mark.parametrize(("count", "names"), [(0, 0), (501, 0), (2, 3)])
def test_no_piece_or_a_thousand_is_our_mistake(workshop: Library, count: int, names: int) -> None:
    with pytest.raises(ValueError, match="pieces"):
        make_pieces(workshop, count, CLASS, ["x"] * names)
