"""Baths: what was added, which pH was read when, and what exhausts what."""

from datetime import timedelta

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import (
    add_addition,
    add_bath,
    change_bath,
    exhaust_of,
    find_bath,
    last_bath,
    next_bath_code,
    read_bath_ph,
    remove_bath,
    whole_baths,
)
from dyeshade.library.dye_records import Addition, Bath, BathDyestuff, DyestuffLot
from dyeshade.library.library import Library
from tests.library.workshop import DAY, MADDER, WELD


def test_a_bath_keeps_its_dyestuffs_and_additions_in_order(library: Library):
    additions = [
        Addition(0, "washing soda", 1.0, "g", 7.9),
        Addition(0, "chalk", 3.0, "g"),
        Addition(0, "washing soda", 0.5, "g", 8.6),
    ]
    with library.edit("bath") as edit:
        bath = add_bath(edit, Bath("bath-001", DAY), [(WELD, 1.0), (MADDER, 0.1)], additions)
        add_addition(edit, Addition(bath, "vinegar", 10.0, "ml", 8.1))
    whole = whole_baths(library, [bath])[bath]
    assert [(lot.name, ratio) for lot, ratio in whole.dyestuffs] == [("weld", 1.0), ("madder", 0.1)]
    assert [one.substance for one in whole.additions] == [
        "washing soda",
        "chalk",
        "washing soda",
        "vinegar",
    ]
    # Nobody read the pH at the start, but after the last addition somebody did.
    assert (whole.ph("bath_start"), whole.ph("bath_end")) == (8.1, None)


def test_the_last_ph_of_a_kind_counts_and_one_kind_is_no_other(library: Library):
    with library.edit("bath") as edit:
        bath = add_bath(edit, Bath("bath-001"), [(WELD, 1.0)])
        read_bath_ph(edit, bath, "bath_end", 6.1, read=DAY + timedelta(hours=2))
        read_bath_ph(edit, bath, "bath_end", 6.6, read=DAY + timedelta(hours=1))
        read_bath_ph(edit, bath, "extraction", 5.2, read=DAY)
    whole = whole_baths(library, [bath])[bath]
    assert [whole.ph(which) for which in ("extraction", "bath_start", "bath_end")] == [
        5.2,
        None,
        6.1,
    ]


def test_an_exhaust_bath_counts_on_from_its_parent(workshop: Library):
    first = find_bath(workshop, "BATH-004")
    second = find_bath(workshop, "bath-005")
    assert (second.exhaust_number, second.parent_bath_id) == (1, first.id)
    third = exhaust_of(workshop, second)
    assert (third.exhaust_number, third.parent_bath_id) == (2, second.id)
    assert (third.code, third.vessel, third.water) == ("bath-006", "steel pot", "rain water")


def test_the_last_bath_is_offered(workshop: Library):
    offered = last_bath(workshop)
    assert offered is not None
    assert offered.code == "bath-005"
    assert next_bath_code(workshop) == "bath-006"


def test_two_baths_have_no_code_in_common(workshop: Library):
    with pytest.raises(DyeshadeError) as caught, workshop.edit("bath") as edit:
        change_bath(edit, Bath("Bath-001", id=find_bath(workshop, "bath-002").id))
    assert caught.value.code == "bath_code_taken"
    with pytest.raises(DyeshadeError) as caught:
        find_bath(workshop, "bath-099")
    assert caught.value.code == "bath_unknown"


def test_a_bath_that_nobody_was_in_can_go(library: Library):
    with library.edit("bath") as edit:
        soda = Addition(0, "washing soda", 1.0, "g", 7.9)
        bath = add_bath(edit, Bath("bath-001"), [(WELD, 1.0)], [soda])
        read_bath_ph(edit, bath, "bath_end", 7.0)
    with library.edit("remove") as edit:
        remove_bath(edit, bath)
    for kind in (Bath, Addition, BathDyestuff):
        assert library.where(kind) == []
    assert [lot.name for lot in library.where(DyestuffLot)] == ["weld"]
