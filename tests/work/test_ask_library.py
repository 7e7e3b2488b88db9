"""Wanted colours and what comes nearest to them, as window and command line ask for them."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece
from dyeshade.library.find import ShadeQuery
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.shade_records import KeptPhoto, SheetReading
from dyeshade.work.ask_nearest import ask_nearest
from dyeshade.work.ask_ph_series import ask_ph_series, beside
from dyeshade.work.wanted_colour import wanted_colour
from tests.insight.series import turning
from tests.library.workshop import DAY, SILK, WELD, WOOL, a_bath, a_dyed_piece, a_reading

WIDE = (9.0, 0.0, 0.0, 9.0, 0.0, 9.0)


def in_photo(edit, number, piece_id, lab, serial="S-1"):
    photo = edit.add(KeptPhoto(f"{number:064x}", ".jpg", "x.jpg", "JPEG", DAY, "a camera"))
    sheet = edit.add(SheetReading(photo, 1, "incandescent", "A4", "six", serial))
    reading = a_reading(
        piece_id,
        lab_l=float(lab[0]),
        lab_a=float(lab[1]),
        lab_b=float(lab[2]),
        photo_id=photo,
        sheet_reading_id=sheet,
        method_version=1,
        covariance_common=WIDE,
    )
    return keep_reading(edit, reading)


def test_numbers_of_a_colour_may_have_decimal_commas(library: Library) -> None:
    assert list(wanted_colour(library, "60,5; -20; 30,25").lab) == [60.5, -20.0, 30.25]


@pytest.mark.parametrize("text", ["60,20,30", " 60.0 20 30 ", "60; 20; 30"])
def test_three_numbers_are_lab(library: Library, text: str) -> None:
    assert list(wanted_colour(library, text).lab) == [60.0, 20.0, 30.0]
    assert not wanted_colour(library, text).covariance.any()


def test_an_srgb_colour_is_turned_into_lab(library: Library) -> None:
    # CIELAB of sRGB 200, 180, 60 by IEC 61966-2-1 and CIE 15, worked out with colour-science.
    found = wanted_colour(library, "#C8B43C")
    assert found.lab == pytest.approx([73.05, -6.20, 60.83], abs=0.05)


def test_a_piece_is_its_latest_dry_reading(workshop: Library) -> None:
    piece = find_piece(workshop, "W-003").id
    with workshop.edit("more") as edit:
        for sample, days, state, lightness in (("B1", 30, "dry", 55.0), ("wet", 40, "wet", 30.0)):
            reading = a_reading(piece, sample=sample, state=state, lab_l=lightness)
            keep_reading(edit, replace(reading, read=DAY + timedelta(days=days)))
    found = wanted_colour(workshop, "w-003")
    assert (found.piece, found.lab[0]) == ("W-003", 55.0)
    assert found.covariance[0, 0] == pytest.approx(0.08)


@pytest.mark.parametrize("text", ["120,0,0", "50,0,999", "#12345", "#zzzzzz"])
def test_what_is_no_colour_is_told(library: Library, text: str) -> None:
    with pytest.raises(DyeshadeError, match="colour_unknown"):
        wanted_colour(library, text)


def test_beside_a_piece_what_one_camera_errs_alike_is_taken_out(library: Library) -> None:
    with library.edit("pieces") as edit:
        for number, (code, shift, serial) in enumerate(
            (("W-001", 0.0, "S-1"), ("W-002", 1.0, "S-1"), ("W-003", 1.0, "S-2"))
        ):
            piece = edit.add(Piece(code))
            in_photo(edit, number, piece, (60.0 + shift, 20.0, 30.0), serial)
    found = ask_nearest(library, wanted_colour(library, "W-001"))
    same_sheet, other_sheet = sorted(found, key=lambda one: one.shade.history.piece.code)
    assert same_sheet.near.difference.high < 3.0 < other_sheet.near.difference.high
    assert same_sheet.near.chance > other_sheet.near.chance


def test_only_shades_that_are_asked_for_are_looked_through(workshop: Library) -> None:
    wanted = wanted_colour(workshop, "70,0,50")
    found = ask_nearest(workshop, wanted, ShadeQuery(fibre="silk"))
    assert sorted(one.shade.history.piece.code for one in found) == ["S-002", "S-004", "S-006"]
    assert len(ask_nearest(workshop, wanted, most=2)) == 2


def test_two_fibres_by_one_camera_are_set_beside_each_other_surely(library: Library) -> None:
    with library.edit("series") as edit:
        number = 0
        for ph in (5.0, 6.0, 7.0, 8.0, 9.0):
            bath = a_bath(edit, f"bath-{int(ph)}", ph, WELD)
            for fibre, shift in ((WOOL, 0.0), (SILK, 8.0)):
                number += 1
                code = f"{fibre.name[0].upper()}-{number:03d}"
                piece = a_dyed_piece(edit, code, fibre, bath, state="wet")
                lab = turning(np.array(ph)) + np.array([shift, 0.0, 0.0])
                in_photo(edit, number, piece, lab)
    answers = ask_ph_series(library, ShadeQuery(dyestuff="weld", state="dry"), "bath_start")
    assert [len(one.series.points) for one in answers] == [5, 5]
    told = beside(answers[0], answers[1])
    assert all(one.difference.significant for one in told)
    # The stated common part alone, of 3 in each of L*, a* and b*, would hide a difference of 5.
    assert max(one.difference.high - one.difference.low for one in told) < 7.0


def test_unless_told_the_ph_that_was_read_most_is_taken(workshop: Library) -> None:
    (first, *_) = ask_ph_series(workshop, ShadeQuery(dyestuff="weld"))
    assert first.series.which == "bath_end"
    assert first.next is not None
