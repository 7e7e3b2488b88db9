"""A kept bath put right."""

from dataclasses import replace

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import find_bath, whole_baths
from dyeshade.library.dye_records import Bath, PhReading
from dyeshade.library.library import Library
from dyeshade.work.edit_bath import (
    add_bath_said,
    bath_form,
    listed_baths,
    put_bath_right,
    remove_kept_bath,
)
from dyeshade.work.said import SaidAddition, SaidBath, SaidDye
from tests.library.workshop import dump


def bath_id(library: Library, code: str) -> int:
    return find_bath(library, code).id


def test_a_form_kept_unchanged_changes_nothing(workshop: Library) -> None:
    before = dump(workshop)
    for listed in listed_baths(workshop):
        i = listed.whole.bath.id
        put_bath_right(workshop, i, bath_form(workshop, i))
    assert dump(workshop) == before
    assert workshop.undo_job is None


def test_everything_said_is_kept_and_undone_in_one_step(workshop: Library) -> None:
    before = dump(workshop)
    i = bath_id(workshop, "bath-001")
    said = SaidBath(
        "bath-1a",
        (SaidDye("weld", "tops", "fresh", 2.0), SaidDye("madder", "root", "extract", 0.1)),
        water="well water",
        vessel="enamel pot",
        liquor_ratio=40.0,
        temperature_c=70.0,
        minutes=45.0,
        additions=(SaidAddition("chalk", 1.0, "g", 7.4), SaidAddition("chalk", 2.0, "g", 8.0)),
        phs=(("extraction", 6.1), ("bath_end", 7.9)),
        note="windy",
    )
    put_bath_right(workshop, i, said)
    assert bath_form(workshop, i) == said
    workshop.undo()
    assert dump(workshop) == before


def test_blanks_take_away_what_was_written_down(workshop: Library) -> None:
    i = bath_id(workshop, "bath-001")
    put_bath_right(workshop, i, SaidBath("bath-001"))
    whole = whole_baths(workshop, [i])[i]
    assert whole.dyestuffs == whole.additions == whole.ph_readings == ()
    assert whole.bath == Bath("bath-001", id=i)


def test_only_the_last_ph_of_a_kind_is_corrected(workshop: Library) -> None:
    i = bath_id(workshop, "bath-001")
    with workshop.edit("read") as edit:
        edit.add(PhReading("bath_end", 5.5, bath_id=i, by="strip"))
    form = bath_form(workshop, i)
    put_bath_right(workshop, i, replace(form, phs=(("bath_end", 4.9),)))
    read = whole_baths(workshop, [i])[i].ph_readings
    assert sorted(one.ph for one in read) == [4.9, 5.5]


def test_an_exhaust_bath_counts_on_from_the_one_it_exhausts(workshop: Library) -> None:
    first, second = bath_id(workshop, "bath-004"), bath_id(workshop, "bath-005")
    form = bath_form(workshop, first)
    put_bath_right(workshop, first, replace(form, exhaust_of="bath-003"))
    assert workshop.the(Bath, first).exhaust_number == 1
    assert workshop.the(Bath, second).exhaust_number == 2
    put_bath_right(workshop, first, form)
    assert workshop.the(Bath, second).exhaust_number == 1


def test_no_bath_exhausts_itself_or_its_own_exhaust(workshop: Library) -> None:
    first = bath_id(workshop, "bath-004")
    before = dump(workshop)
    for code in ("bath-004", "bath-005"):
        with pytest.raises(DyeshadeError, match="bath_exhausts_itself"):
            put_bath_right(workshop, first, replace(bath_form(workshop, first), exhaust_of=code))
    assert dump(workshop) == before


def test_codes_are_free_or_refused(workshop: Library) -> None:
    with pytest.raises(DyeshadeError, match="bath_code_taken"):
        add_bath_said(workshop, SaidBath("BATH-001"))
    with pytest.raises(DyeshadeError, match="bath_unknown"):
        add_bath_said(workshop, SaidBath("bath-009", exhaust_of="bath-404"))
    i = bath_id(workshop, "bath-001")
    with pytest.raises(DyeshadeError, match="bath_code_taken"):
        put_bath_right(workshop, i, replace(bath_form(workshop, i), code="bath-002"))


def test_a_bath_that_pieces_were_in_stays(workshop: Library) -> None:
    with pytest.raises(DyeshadeError, match="still_used"):
        remove_kept_bath(workshop, bath_id(workshop, "bath-001"))
    add_bath_said(workshop, SaidBath("bath-009"))
    newest = listed_baths(workshop)[0]
    assert (newest.whole.bath.code, newest.pieces, newest.exhausts) == ("bath-009", 0, "")
    remove_kept_bath(workshop, newest.whole.bath.id)
    assert listed_baths(workshop)[0].whole.bath.code == "bath-005"
    assert listed_baths(workshop)[0].exhausts == "bath-004"
    assert listed_baths(workshop)[0].pieces == 1
