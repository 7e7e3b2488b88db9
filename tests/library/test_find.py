"""Shades are found by how they were dyed."""

import subprocess
import sys
from datetime import date, timedelta

import pytest

from dyeshade.library.dye_records import DyestuffLot, FibreLot, Treatment
from dyeshade.library.find import FoundShade, ShadeQuery, _fits, find_shades, repeats_of
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading, readings_of
from dyeshade.library.treatments import add_treatment
from tests.library.workshop import DAY, SILK, WOOL, a_bath, a_dyed_piece, a_reading


def codes(found: list[FoundShade]) -> list[str]:
    return sorted(one.history.piece.code for one in found)


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        (ShadeQuery(), 8),
        (ShadeQuery(dyestuff="Weld"), 6),
        (ShadeQuery(dyestuff="weld", fibre="silk"), 3),
        (ShadeQuery(dyestuff="weld", form="fresh"), 0),
        (ShadeQuery(dyestuff="weld", part="tops", mordant="alum"), 6),
        (ShadeQuery(mordant=""), 0),
        (ShadeQuery(ratio_least=0.4, ratio_most=0.6), 2),
        (ShadeQuery(exhaust_number=0), 7),
        (ShadeQuery(exhaust_number=1), 1),
        (ShadeQuery(piece="w-003"), 1),
        (ShadeQuery(state="wet"), 0),
        (ShadeQuery(from_day=date(2026, 3, 3), to_day=date(2026, 3, 3)), 8),
        (ShadeQuery(from_day=date(2026, 3, 4)), 0),
    ],
)
def test_shades_are_asked_for_by_conditions(workshop: Library, query: ShadeQuery, expected: int):
    assert len(find_shades(workshop, query)) == expected


def test_which_ph_is_never_pooled(workshop: Library):
    def asked(which: str | None, least: float, most: float) -> list[str]:
        query = ShadeQuery(dyestuff="weld", ph_which=which, ph_least=least, ph_most=most)
        return codes(find_shades(workshop, query))

    # Each bath was brought to pH 5, 7 or 9 and had lost 0.2 by its end; the rinse was at 7.2.
    assert asked("bath_start", 7.0, 7.0) == ["S-004", "W-003"]
    assert asked("bath_end", 7.0, 7.0) == []
    assert asked("bath_end", 6.8, 6.8) == ["S-004", "W-003"]
    assert len(asked("rinse", 7.2, 7.2)) == 6
    assert asked("extraction", 0, 14) == []


def test_unless_told_the_ph_that_acted_last_counts(workshop: Library):
    piece = find_piece(workshop, "W-005")
    dip = Treatment(piece.id, "dip", substance="vinegar", started=DAY + timedelta(days=3))
    with workshop.edit("dip") as edit:
        add_treatment(edit, dip, ph=3.4)
        later = a_reading(piece.id, sample="B1", read=DAY + timedelta(days=4))
        keep_reading(edit, later)
    acid = find_shades(workshop, ShadeQuery(ph_least=3.0, ph_most=4.0))
    assert [one.reading.sample for one in acid] == ["B1"]
    # What was read before the dip stays with the bath that it came from.
    before, after = find_shades(workshop, ShadeQuery(piece="W-005"))
    assert (before.conditions.acted, after.conditions.acted) == ("rinse", "after")
    assert before.conditions.ph("bath_end") == after.conditions.ph("bath_end") == 8.8


def test_a_dip_of_unknown_ph_hides_the_ph_of_the_bath(workshop: Library):
    piece = find_piece(workshop, "W-005")
    with workshop.edit("dip") as edit:
        add_treatment(edit, Treatment(piece.id, "dip", substance="vinegar"))
    found = find_shades(workshop, ShadeQuery(piece="W-005"))[0]
    assert found.conditions.acted is None
    assert found.conditions.ph() is None


def test_equal_conditions_are_repeats_and_other_fibres_and_ph_are_not(workshop: Library):
    with workshop.edit("again") as edit:
        again = a_bath(edit, "bath-020", 7.1)
        a_dyed_piece(edit, "W-020", WOOL, again)
        a_dyed_piece(edit, "S-021", SILK, again)
        a_dyed_piece(edit, "W-022", WOOL, a_bath(edit, "bath-021", 7.1, ratio=1.5))
    reading = readings_of(workshop, find_piece(workshop, "W-003").id)[0]
    assert codes(repeats_of(workshop, reading.id)) == ["W-020"]


def test_an_exhaust_bath_is_no_repeat_of_its_first_bath(workshop: Library):
    first = readings_of(workshop, find_piece(workshop, "W-007").id)[0]
    assert repeats_of(workshop, first.id) == []


def test_a_wet_reading_is_no_repeat_of_a_dry_one(workshop: Library):
    piece = find_piece(workshop, "W-003")
    with workshop.edit("wet") as edit:
        keep_reading(edit, a_reading(piece.id, state="wet", sample="wet"))
        keep_reading(edit, a_reading(piece.id, sample="dry again"))
    dry = readings_of(workshop, piece.id)[0]
    found = repeats_of(workshop, dry.id)
    assert [one.reading.sample for one in found] == ["dry again"]


def test_a_reading_is_keyed_by_the_treatment_it_names(workshop: Library):
    piece = find_piece(workshop, "W-001")
    with workshop.edit("overdye") as edit:
        madder = a_bath(edit, "bath-030", 6.0)
        later = DAY + timedelta(days=5)
        over = add_treatment(edit, Treatment(piece.id, "overdye", madder, started=later))
        keep_reading(edit, a_reading(piece.id, sample="after", after_treatment_id=over))
    found = {one.reading.sample: one for one in find_shades(workshop, ShadeQuery(piece="W-001"))}
    assert [bath.kind for bath in found["after"].conditions.baths] == ["bath", "overdye"]
    assert found["after"].bath_code == "bath-030"
    assert [bath.kind for bath in found["A1"].conditions.baths] == ["bath"]


def test_what_another_window_saved_is_found(workshop: Library):
    find_shades(workshop)
    script = (
        "import sqlite3, sys; c = sqlite3.connect(sys.argv[1]);"
        "c.execute(\"UPDATE fibre_lot SET name = 'linen' WHERE name = 'wool'\"); c.commit()"
    )
    subprocess.run([sys.executable, "-c", script, workshop.folder / "shades.sqlite"], check=True)
    assert len(find_shades(workshop, ShadeQuery(fibre="linen"))) == 5
    assert {one.conditions.fibre for one in find_shades(workshop)} == {"linen", "silk"}
    assert workshop.changed_elsewhere()
    assert not workshop.changed_elsewhere()


@pytest.mark.parametrize(
    "query",
    [
        ShadeQuery(exhaust_number=1),
        ShadeQuery(ph_most=6.0),
        ShadeQuery(ph_least=8.7),
        ShadeQuery(ph_which="bath_start", ph_least=6.9, ph_most=7.1),
        ShadeQuery(ph_which="bath_end", ph_least=6.3, ph_most=6.3),
        ShadeQuery(ph_which="after", ph_most=4.0),
        ShadeQuery(ph_which="rinse", ph_least=7.2),
        ShadeQuery(ph_which="extraction"),
        ShadeQuery(dyestuff="weld", ratio_most=1.0, exhaust_number=0, ph_least=5.0),
    ],
)
def test_looking_up_by_index_leaves_nothing_out(workshop: Library, query: ShadeQuery):
    with workshop.edit("dip") as edit:
        piece = find_piece(workshop, "S-002").id
        add_treatment(edit, Treatment(piece, "dip", substance="vinegar"), ph=3.5)
        over = a_bath(edit, "bath-040", 8.9)
        add_treatment(edit, Treatment(find_piece(workshop, "W-001").id, "overdye", over))
    expected = [one for one in find_shades(workshop) if _fits(one.conditions, query)]
    assert find_shades(workshop, query) == expected
    assert expected or query.ph_which == "extraction"


def test_a_reading_that_names_its_treatment_dates_that_for_those_found_before(workshop: Library):
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("wash") as edit:
        wash = add_treatment(edit, Treatment(piece, "wash"))
    query = ShadeQuery(piece="W-001")
    (before,) = find_shades(workshop, query)
    assert before.history.before(before.reading)[-1].treatment.id == wash
    with workshop.edit("read") as edit:
        later = a_reading(piece, sample="B1", read=DAY + timedelta(days=9), after_treatment_id=wash)
        keep_reading(edit, later)
    found = find_shades(workshop, query)
    told = [one.history.before(one.reading)[-1].treatment.kind for one in found]
    assert told == ["rinse", "wash"]


def test_names_are_the_same_in_upper_and_lower_case_in_any_script(workshop: Library):
    lot = DyestuffLot("Färberkamille", "blüten")
    with workshop.edit("dye") as edit:
        a_dyed_piece(edit, "L-011", FibreLot("Ökowolle"), a_bath(edit, "bath-011", 7.0, lot))
    for asked in (
        ShadeQuery(dyestuff="FÄRBERKAMILLE"),
        ShadeQuery(fibre="ökowolle"),
        ShadeQuery(part="Blüten", fibre="ÖKOWOLLE"),
    ):
        assert codes(find_shades(workshop, asked)) == ["L-011"]
