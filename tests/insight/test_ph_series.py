"""Which shades make a pH series, and which pH they are laid along."""

from dataclasses import replace
from datetime import timedelta

import pytest

from dyeshade.insight.ph_series import PH_SD_UNKNOWN, find_series, ph_of
from dyeshade.library.dye_records import Treatment
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.treatments import add_treatment
from tests.library.workshop import DAY, SILK, WELD, WOOL, a_bath, a_dyed_piece, a_reading

WELD_SHADES = ShadeQuery(dyestuff="weld")


def codes(series):
    return [point.shade.history.piece.code for point in series.points]


def test_each_fibre_has_a_series_of_its_own(workshop: Library):
    found = find_series(workshop, WELD_SHADES, "bath_start")
    assert [(one.conditions.fibre, codes(one)) for one in found] == [
        ("wool", ["W-001", "W-003", "W-005"]),
        ("silk", ["S-002", "S-004", "S-006"]),
    ]
    assert [point.ph for point in found[0].points] == [5.0, 7.0, 9.0]
    assert [one.baths for one in found] == [3, 3]


def test_which_ph_is_never_pooled(workshop: Library):
    # The baths ended 0.2 below their start; no extraction was read; all were rinsed at pH 7.2.
    ends = find_series(workshop, WELD_SHADES, "bath_end")
    assert [point.ph for point in ends[0].points] == [4.8, 6.8, 8.8]
    assert find_series(workshop, WELD_SHADES, "extraction") == []


def test_along_the_rinse_water_baths_must_agree(workshop: Library):
    # Three baths of other pH: three series of one pH each, for each fibre.
    found = find_series(workshop, WELD_SHADES, "rinse")
    assert [len(one.points) for one in found] == [1] * 6


@pytest.mark.parametrize("other", ["ratio", "exhaust", "dip", "rinse"])
def test_what_was_done_otherwise_is_no_part_of_the_series(workshop: Library, other: str):
    with workshop.edit("other") as edit:
        bath = a_bath(edit, "bath-020", 6.0, ratio=2.0 if other == "ratio" else 1.0)
        piece = a_dyed_piece(edit, "W-020", WOOL, bath)
        if other == "exhaust":
            kept = edit.the(type(find_bath_of(workshop, piece)), bath)
            edit.change(replace(kept, exhaust_number=1))
        if other == "dip":
            dip = Treatment(piece, "dip", substance="vinegar", started=DAY + timedelta(hours=3))
            add_treatment(edit, dip, ph=3.5)
        if other == "rinse":
            rinse = Treatment(piece, "rinse", started=DAY + timedelta(hours=4))
            add_treatment(edit, rinse, ph=9.5)
    wool = find_series(workshop, replace(WELD_SHADES, fibre="wool"), "bath_start")
    assert codes(wool[0]) == ["W-001", "W-003", "W-005"]
    assert codes(wool[1]) == ["W-020"]


def find_bath_of(library, piece_id):
    shade = next(one for one in find_shades(library) if one.history.piece.id == piece_id)
    return shade.history.before(shade.reading)[-2].bath.bath


def test_repeats_belong_to_the_series_and_wet_readings_do_not(workshop: Library):
    with workshop.edit("again") as edit:
        a_dyed_piece(edit, "W-020", WOOL, a_bath(edit, "bath-020", 7.0))
        piece = find_piece(workshop, "W-001").id
        keep_reading(edit, a_reading(piece, sample="wet", state="wet"))
        keep_reading(edit, a_reading(piece, sample="rinsed", state="after_rinse"))
    wool = find_series(workshop, replace(WELD_SHADES, fibre="wool"), "bath_start")
    assert codes(wool[0]) == ["W-001", "W-001", "W-003", "W-020", "W-005"]
    assert wool[0].baths == 4
    assert [(one.state, codes(one)) for one in wool[1:]] == [("wet", ["W-001"])]


def test_the_uncertainty_of_a_ph_is_the_one_written_down_or_that_of_its_tool(workshop: Library):
    with workshop.edit("strip") as edit:
        piece = a_dyed_piece(edit, "S-030", SILK, a_bath(edit, "bath-030", 6.0, WELD))
        dip = Treatment(piece, "dip", substance="vinegar", started=DAY + timedelta(hours=3))
        add_treatment(edit, dip, ph=3.5, ph_sd=0.2)
    shade = next(one for one in find_shades(workshop) if one.history.piece.code == "S-030")
    # Read with a meter, 0.05; an addition's pH has none; the dip's was written down.
    assert ph_of(shade, "bath_end")[:2] == (5.8, 0.05)
    assert ph_of(shade, "bath_start")[:2] == (6.0, PH_SD_UNKNOWN)
    assert ph_of(shade, "after")[:2] == (3.5, 0.2)
    assert ph_of(shade, "extraction") is None
