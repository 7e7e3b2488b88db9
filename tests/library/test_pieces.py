"""Pieces: their ids, their treatments in order, and two that turn out to be one."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.bath_records import BathPiece
from dyeshade.library.baths import find_bath
from dyeshade.library.drafts import drafts, drop_draft, keep_draft
from dyeshade.library.dye_records import (
    Bath,
    DyestuffLot,
    FibreLot,
    PhReading,
    Piece,
    Treatment,
)
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.library import Library
from dyeshade.library.pieces import (
    add_piece,
    change_piece,
    find_piece,
    keep_lot,
    known_names,
    merge_pieces,
    next_piece_code,
    remove_piece,
)
from dyeshade.library.readings import keep_reading, readings_of
from dyeshade.library.shade_records import Reading
from dyeshade.library.treatments import (
    add_treatment,
    move_treatment,
    read_ph,
    remove_treatment,
    treatments_of,
)
from tests.library.workshop import DAY, a_reading, dump


def kinds(library: Library, piece_id: int) -> list[str]:
    return [one.kind for one in treatments_of(library, piece_id)]


def test_a_new_piece_gets_a_letter_for_its_fibre_and_the_next_number(workshop: Library):
    assert next_piece_code(workshop, "wool") == "W-009"
    assert next_piece_code(workshop, "silk", ahead=2) == "S-011"
    assert next_piece_code(workshop) == "P-009"
    with workshop.edit("add") as edit:
        add_piece(edit, Piece("grandmother's shawl"))
        add_piece(edit, Piece("W-2026-000000000000007"))
    assert next_piece_code(workshop, "wool") == "W-009"


def test_codes_are_the_same_in_upper_and_lower_case(workshop: Library):
    assert find_piece(workshop, " w-001 ").code == "W-001"
    with pytest.raises(DyeshadeError) as caught, workshop.edit("add") as edit:
        add_piece(edit, Piece("w-001"))
    assert caught.value.code == "piece_code_taken"
    with workshop.edit("rename") as edit:
        change_piece(edit, replace(find_piece(workshop, "W-001"), code="w-001"))
    assert find_piece(workshop, "W-001").code == "w-001"


def test_codes_are_the_same_in_upper_and_lower_case_of_any_script(workshop: Library):
    with workshop.edit("more") as edit:
        kept = add_piece(edit, Piece("Žluť-1"))
        with pytest.raises(DyeshadeError, match="piece_code_taken"):
            add_piece(edit, Piece("žLUŤ-1"))
        change_piece(edit, replace(edit.the(Piece, kept), code="žluť-1"))
        keep_reading(edit, a_reading(kept, sample="Z"))
    assert find_piece(workshop, "ŽLUŤ-1").id == kept
    (found,) = find_shades(workshop, ShadeQuery(piece="ŽluŤ-1"))
    assert found.history.piece.id == kept


def test_an_unknown_piece_is_told_with_those_that_look_like_it(workshop: Library):
    with pytest.raises(DyeshadeError) as caught:
        find_piece(workshop, "W-01")
    assert caught.value.code == "piece_unknown"
    assert "W-001" in caught.value.facts["near"]


def test_a_lot_that_says_the_same_is_the_same(library: Library):
    with library.edit("lots") as edit:
        first = keep_lot(edit, DyestuffLot("weld", "tops", lot_date=date(2025, 7, 1)))
        assert keep_lot(edit, DyestuffLot("Weld", "tops", lot_date=date(2025, 7, 1))) == first
        assert keep_lot(edit, DyestuffLot("weld", "tops", lot_date=date(2026, 7, 1))) != first
        assert keep_lot(edit, DyestuffLot("weld", "tops", "fresh")) != first
    assert {name.lower() for name in known_names(library, DyestuffLot)} == {"weld"}
    assert known_names(library, FibreLot) == ()


def test_treatments_keep_their_order(workshop: Library):
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("treat") as edit:
        scour = add_treatment(edit, Treatment(piece, "scour"), place=1)
        add_treatment(edit, Treatment(piece, "rest"))
    assert kinds(workshop, piece) == ["scour", "mordant", "bath", "rinse", "rest"]
    with workshop.edit("move") as edit:
        move_treatment(edit, scour, 3)
    assert kinds(workshop, piece) == ["mordant", "bath", "scour", "rinse", "rest"]


def test_a_treatment_that_is_removed_leaves_readings_after_the_one_before(workshop: Library):
    piece = find_piece(workshop, "W-001").id
    _, bath, rinse = treatments_of(workshop, piece)
    with workshop.edit("read") as edit:
        reading = keep_reading(edit, a_reading(piece, sample="B1", after_treatment_id=rinse.id))
    with workshop.edit("remove") as edit:
        remove_treatment(edit, rinse.id)
    assert workshop.the(Reading, reading).after_treatment_id == bath.id
    assert workshop.where(PhReading, "treatment_id = ?", (rinse.id,)) == []


def test_the_ph_of_a_dye_bath_belongs_to_the_bath(workshop: Library):
    piece = find_piece(workshop, "W-001").id
    bath = treatments_of(workshop, piece)[1]
    with pytest.raises(ValueError, match="pH of its own"), workshop.edit("read") as edit:
        read_ph(edit, bath, 5.0)
    with pytest.raises(ValueError, match="belongs to a bath"):
        PhReading("bath_end", 5.0, treatment_id=bath.id)
    with pytest.raises(ValueError, match="is no first"):
        Bath("bath-100", parent_bath_id=find_bath(workshop, "bath-001").id)


def test_removing_a_piece_leaves_bath_and_lots(workshop: Library):
    lots, baths = workshop.where(FibreLot), workshop.where(Bath)
    piece = find_piece(workshop, "W-001")
    before = dump(workshop)
    with workshop.edit("remove") as edit:
        remove_piece(edit, piece.id)
    assert edit.changes.removed("piece") == (piece.id,)
    assert len(edit.changes.removed("reading")) == 1
    assert (workshop.where(FibreLot), workshop.where(Bath)) == (lots, baths)
    assert workshop.check() == ()
    workshop.undo()
    assert dump(workshop) == before


def test_two_pieces_that_are_one_become_one_with_both_histories(workshop: Library):
    kept = find_piece(workshop, "W-001")
    bath = find_bath(workshop, "bath-001").id
    with workshop.edit("twin") as edit:
        twin = add_piece(edit, Piece("X", "half of a skein", weight_g=20.0, note="found later"))
        add_treatment(edit, Treatment(twin, "bath", bath, started=DAY))
        light = add_treatment(edit, Treatment(twin, "light", minutes=6000))
        keep_reading(
            edit,
            a_reading(twin, sample="Z", read=DAY + timedelta(days=90), after_treatment_id=light),
        )
    before = dump(workshop)
    with workshop.edit("merge") as edit:
        merge_pieces(edit, kept.id, twin)
    # The bath is the same one, so it is not told twice.
    assert kinds(workshop, kept.id) == ["mordant", "bath", "rinse", "light"]
    assert [one.sample for one in readings_of(workshop, kept.id)] == ["A1", "Z"]
    merged = workshop.the(Piece, kept.id)
    assert (merged.weight_g, merged.name, merged.note) == (50.0, "half of a skein", "found later")
    assert workshop.get(Piece, twin) is None
    assert workshop.check() == ()
    workshop.undo()
    assert dump(workshop) == before


def test_two_equal_dips_stay_two_dips_when_pieces_are_merged(workshop: Library):
    kept = find_piece(workshop, "W-001").id
    with workshop.edit("dips") as edit:
        twin = add_piece(edit, Piece("X"))
        dips = [add_treatment(edit, Treatment(twin, "dip", substance="vinegar")) for _ in "12"]
        add_treatment(edit, Treatment(kept, "dip", substance="vinegar"))
        keep_reading(edit, a_reading(twin, sample="Z", after_treatment_id=dips[0]))
        merge_pieces(edit, kept, twin)
    assert kinds(workshop, kept) == ["mordant", "bath", "rinse", "dip", "dip"]
    first_dip = treatments_of(workshop, kept)[3].id
    reading = next(one for one in readings_of(workshop, kept) if one.sample == "Z")
    assert reading.after_treatment_id == first_dip


def test_what_another_window_removed_is_told(workshop: Library):
    with pytest.raises(DyeshadeError) as caught, workshop.edit("remove") as edit:
        remove_piece(edit, 999)
    assert (caught.value.code, caught.value.facts["kind"]) == ("record_gone", "piece")


def test_unsaved_work_is_kept_and_is_no_step_to_undo(library: Library):
    keep_draft(library, "a photo", {"samples": [1]}, DAY)
    keep_draft(library, "a photo", {"samples": [1, 2]}, DAY)
    assert [one.payload for one in drafts(library)] == [{"samples": [1, 2]}]
    assert library.undo_job is None
    drop_draft(library, "a photo")
    assert drafts(library) == []


def test_a_ph_that_only_the_other_piece_s_step_has_is_kept_when_they_are_merged(workshop: Library):
    kept, other = (find_piece(workshop, code).id for code in ("W-001", "W-003"))
    with workshop.edit("dips") as edit:
        add_treatment(edit, Treatment(kept, "dip", substance="vinegar"))
        add_treatment(edit, Treatment(other, "dip", substance="vinegar"), ph=4.0)
        merge_pieces(edit, kept, other)
    (dip,) = (one for one in treatments_of(workshop, kept) if one.kind == "dip")
    (read,) = workshop.where(PhReading, "treatment_id = ?", (dip.id,))
    assert read.ph == 4.0


def test_steps_with_other_ph_are_two_steps_when_pieces_are_merged(workshop: Library):
    kept, other = (find_piece(workshop, code).id for code in ("W-001", "W-003"))
    with workshop.edit("dips") as edit:
        add_treatment(edit, Treatment(kept, "dip"), ph=4.0)
        add_treatment(edit, Treatment(other, "dip"), ph=9.0)
        merge_pieces(edit, kept, other)
    dips = [one.id for one in treatments_of(workshop, kept) if one.kind == "dip"]
    read = [workshop.where(PhReading, "treatment_id = ?", (one,))[0].ph for one in dips]
    assert read == [4.0, 9.0]


def test_a_planned_bath_knows_its_piece_by_a_new_code_and_by_that_it_was_merged_into(
    workshop: Library,
):
    with workshop.edit("plan") as edit:
        bath = find_bath(edit, "bath-001").id
        for code in ("w-001", "W-003"):
            edit.add(BathPiece(bath, code, "wool", 50.0))
        change_piece(edit, replace(find_piece(edit, "W-001"), code="W-101"))
        kept, other = (find_piece(edit, code).id for code in ("S-002", "W-003"))
        merge_pieces(edit, kept, other)
    assert [one.code for one in workshop.where(BathPiece)] == ["W-101", "S-002"]
