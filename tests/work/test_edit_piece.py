"""A kept piece or reading put right."""

from dataclasses import replace
from datetime import datetime

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import PhReading
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import readings_of
from dyeshade.library.shade_records import Reading
from dyeshade.library.treatments import treatments_of
from dyeshade.work.edit_piece import (
    PieceForm,
    ReadingForm,
    merge_two_pieces,
    piece_form,
    put_piece_right,
    put_reading_right,
    remove_kept_piece,
    remove_readings,
)
from dyeshade.work.said import SaidTreatment
from tests.library.workshop import dump


def piece_id(library: Library, code: str) -> int:
    return find_piece(library, code).id


def test_a_form_kept_unchanged_changes_nothing(workshop: Library) -> None:
    before = dump(workshop)
    i = piece_id(workshop, "W-001")
    put_piece_right(workshop, i, piece_form(workshop, i))
    assert dump(workshop) == before


def test_everything_said_is_kept_and_undone_in_one_step(workshop: Library) -> None:
    before = dump(workshop)
    i = piece_id(workshop, "W-001")
    mordant, bath, rinse = piece_form(workshop, i).treatments
    form = PieceForm(
        "S-001", "long skein", "silk", "cloth", "iron", 2.0, 20.0, "for the show",
        (
            bath,
            (mordant[0], replace(mordant[1], substance="iron", amount=2.0)),
            (0, SaidTreatment("afterbath", substance="white vinegar", amount=10.0, unit="ml/l",
                              started=datetime(2026, 3, 4), ph=4.5, note="cold")),
            (rinse[0], replace(rinse[1], ph=6.9)),
        ),
    )  # fmt: skip
    put_piece_right(workshop, i, form)
    kept = piece_form(workshop, i)
    assert [one for _, one in kept.treatments] == [one for _, one in form.treatments]
    assert replace(kept, treatments=()) == replace(form, treatments=())
    # The others are still of wool.
    assert len(find_shades(workshop, ShadeQuery(fibre="wool"))) == 4
    workshop.undo()
    assert dump(workshop) == before


def test_a_treatment_that_goes_takes_its_ph_along(workshop: Library) -> None:
    i = piece_id(workshop, "W-001")
    form = piece_form(workshop, i)
    put_piece_right(workshop, i, replace(form, treatments=form.treatments[:2]))
    assert [one.kind for one in treatments_of(workshop, i)] == ["mordant", "bath"]
    assert not workshop.check()


@pytest.mark.parametrize(("kind", "ph", "which"), [("dip", 4.0, ["after"]), ("wash", None, [])])
def test_a_treatment_of_another_kind_has_another_ph(
    workshop: Library, kind: str, ph: float | None, which: list[str]
) -> None:
    i = piece_id(workshop, "W-001")
    form = piece_form(workshop, i)
    number, rinse = form.treatments[2]
    changed = (*form.treatments[:2], (number, replace(rinse, kind=kind, ph=ph)))
    put_piece_right(workshop, i, replace(form, treatments=changed))
    read = workshop.where(PhReading, "treatment_id = ?", (number,))
    assert [one.which for one in read] == which
    assert piece_form(workshop, i).treatments[2][1].ph == ph


def test_refusals_change_nothing(workshop: Library) -> None:
    before = dump(workshop)
    i = piece_id(workshop, "W-001")
    form = piece_form(workshop, i)
    with pytest.raises(DyeshadeError, match="piece_code_taken"):
        put_piece_right(workshop, i, replace(form, code="w-003"))
    unknown = ((0, SaidTreatment("overdye", "bath-404")),)
    with pytest.raises(DyeshadeError, match="bath_unknown"):
        put_piece_right(workshop, i, replace(form, treatments=form.treatments + unknown))
    assert dump(workshop) == before


def test_a_reading_can_go_to_the_piece_that_it_is_of(workshop: Library) -> None:
    i, other = piece_id(workshop, "W-001"), piece_id(workshop, "W-003")
    reading = readings_of(workshop, i)[0]
    last = treatments_of(workshop, i)[-1].id
    form = ReadingForm("W-001", "after_rinse", datetime(2026, 4, 1, 8), last, "in the shade")
    put_reading_right(workshop, reading.id, form)
    kept = workshop.the(Reading, reading.id)
    assert (kept.state, kept.read, kept.note) == (form.state, form.read, form.note)
    assert kept.after_treatment_id == last
    put_reading_right(workshop, reading.id, replace(form, piece="W-003"))
    kept = workshop.the(Reading, reading.id)
    # The treatment was one of the other piece's.
    assert (kept.piece_id, kept.after_treatment_id) == (other, None)
    with pytest.raises(DyeshadeError, match="piece_unknown"):
        put_reading_right(workshop, reading.id, replace(form, piece="W-404"))


def test_pieces_are_merged_and_removed(workshop: Library) -> None:
    before = dump(workshop)
    i = piece_id(workshop, "W-001")
    merge_two_pieces(workshop, i, "w-003")
    assert len(readings_of(workshop, i)) == 2
    remove_readings(workshop, [one.id for one in readings_of(workshop, i)])
    assert not readings_of(workshop, i)
    remove_kept_piece(workshop, i)
    assert len(find_shades(workshop)) == 6
    for _ in range(3):
        workshop.undo()
    assert dump(workshop) == before
