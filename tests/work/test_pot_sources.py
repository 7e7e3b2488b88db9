"""Pot cards of what is kept: a bath that is planned, one that was done, a commission."""

from dataclasses import replace

import pytest

from dyeshade.bath.recipe import DyestuffShare, PieceInPot, Recipe, SubstanceShare
from dyeshade.bath.work_out import BathAsked
from dyeshade.errors import DyeshadeError
from dyeshade.library.baths import add_bath, find_bath
from dyeshade.library.dye_records import Bath, DyestuffLot, Treatment
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.treatments import add_treatment
from dyeshade.words.pot_card import pot_card
from dyeshade.work.bath_typed import (
    TypedBath,
    TypedDye,
    TypedHave,
    TypedPiece,
    TypedStep,
    TypedSubstance,
)
from dyeshade.work.commissions import SaidCommission, agree
from dyeshade.work.judge_commission import judge
from dyeshade.work.keep_plan import keep_plan
from dyeshade.work.make_pot_card import PotAddition, PotAsked, PotStep, pot_plans
from dyeshade.work.pot_like import asked_like
from dyeshade.work.pot_sources import asked_of_bath, asked_of_commission
from tests.library.workshop import DAY, a_reading

NOTHING = PotAsked(BathAsked((), Recipe()))
SILK = (PieceInPot("silk", 80.0),)
PLANNED = TypedBath(
    "weld again",
    pieces=(TypedPiece("W-040", "wool", "200 g"),),
    dyes=(TypedDye("weld", "dried", "2:1"),),
    substances=(TypedSubstance("alum", "15 %"),),
    liquor="30:1",
    pot="10 L",
    temperature="80 °C",
    target="8.5",
    have=(TypedHave("soda_anhydrous_stock", "10", "millilitre", "1 ml"),),
    steps=(TypedStep("bath", "simmer, not boil", "80 °C", "60"), TypedStep("rinse")),
)


def said(asked: PotAsked) -> str:
    """All that the card says above its tables and beneath them."""
    (plan,) = pot_plans(asked)
    card = pot_card(plan)
    notes = [note for table in card.tables for note in table.notes]
    wanted = card.wanted.lines if card.wanted else ()
    return "\n".join((card.title, *card.facts, *notes, *wanted))


def test_a_planned_bath_hangs_by_the_pot_as_it_was_planned(workshop: Library) -> None:
    keep_plan(workshop, PLANNED)
    asked = asked_of_bath(workshop, "weld again", NOTHING)
    assert asked.bath.pieces == (PieceInPot("wool", 200.0, "W-040"),)
    assert asked.bath.recipe == Recipe(
        (DyestuffShare("weld", 2.0),), (SubstanceShare("alum", 0.15),), 30.0
    )
    assert asked.phs == (("bath_start", 8.5),)
    assert asked.additions == (PotAddition("soda ash"),)
    assert asked.steps == (
        PotStep("simmer, not boil", 80.0, 60.0, "bath"),
        PotStep("", None, None, "rinse"),
    )
    (plan,) = pot_plans(asked)
    steps = [row.what for row in pot_card(plan).tables[1].rows]
    assert steps == ["1. Bath: simmer, not boil", "2. Rinse"]
    assert "Bath weld again" in said(asked)


def test_other_fibre_takes_the_place_of_the_planned(workshop: Library) -> None:
    keep_plan(workshop, PLANNED)
    asked = asked_of_bath(workshop, "weld again", replace(NOTHING, bath=BathAsked(SILK, Recipe())))
    (plan,) = pot_plans(asked)
    assert [line.planned for line in plan.plan.dyestuffs] == [pytest.approx(160.0)]


def test_a_bath_that_was_done_is_done_again_with_its_mordant_and_shade(workshop: Library) -> None:
    asked = asked_of_bath(workshop, "bath-003", NOTHING)
    # Pieces W-005 and S-006 of 50 g each, both on 12 % alum.
    assert [piece.grams for piece in asked.bath.pieces] == [50.0, 50.0]
    assert asked.bath.recipe.substances == (SubstanceShare("alum", 0.12),)
    assert (asked.temperature_c, asked.minutes) == (80.0, 60.0)
    assert asked.additions == (PotAddition("washing soda", 2.0, "g", 9.0),)
    assert asked.wanted is not None
    assert asked.wanted.piece == "W-005"


def test_an_exhaust_bath_says_whose_liquor_it_is(workshop: Library) -> None:
    told = said(asked_of_bath(workshop, "bath-005", NOTHING))
    assert "Exhaust bath of bath-004" in told
    assert "In the liquor of bath-004" in told
    assert "exhaust bath 1" in said(asked_like(workshop, "W-008", SILK))


def test_a_shade_that_a_dip_made_says_the_dip(workshop: Library) -> None:
    with workshop.edit("dip") as edit:
        piece = find_piece(edit, "W-001").id
        dipped = Treatment(
            piece, "dip", substance="white vinegar", amount=10.0, unit="ml/l", minutes=5.0
        )
        dip = add_treatment(edit, dipped, ph=4.5)
        keep_reading(edit, a_reading(piece, read=DAY.replace(day=9), after_treatment_id=dip))
    (plan,) = pot_plans(asked_like(workshop, "W-001", SILK))
    rows = pot_card(plan).tables[1].rows
    (dip_row,) = [row for row in rows if "Dip" in row.what]
    assert dip_row.what.endswith("Dip: white vinegar 10 ml/l, to pH 4.5")
    assert dip_row.cells[1] == "5 min"
    assert rows.index(dip_row) < next(k for k, row in enumerate(rows) if "Rinse" in row.what)


def test_a_shade_over_another_says_what_comes_first(workshop: Library) -> None:
    with workshop.edit("over") as edit:
        piece, madder = find_piece(edit, "W-001").id, find_bath(edit, "bath-004").id
        over = add_treatment(edit, Treatment(piece, "overdye", madder))
        keep_reading(edit, a_reading(piece, read=DAY.replace(day=9), after_treatment_id=over))
    told = said(asked_like(workshop, "W-001", SILK))
    assert told.startswith("Madder")
    assert "dyed before, with weld" in told


def test_a_dyestuff_whose_amount_nobody_wrote_down_is_told(workshop: Library) -> None:
    with workshop.edit("test") as edit:
        add_bath(edit, Bath("by eye"), [(DyestuffLot("walnut hull"), None)])
    asked = asked_of_bath(workshop, "by eye", replace(NOTHING, bath=BathAsked(SILK, Recipe())))
    assert "How much walnut hull was in that bath is not written down" in said(asked)
    with pytest.raises(DyeshadeError, match="no_fibre"):
        asked_of_bath(workshop, "by eye", NOTHING)


def test_a_commission_is_dyed_as_the_piece_that_was_agreed_on(workshop: Library) -> None:
    agree(workshop, SaidCommission("W-003", 1.5, what="shawl", for_whom="the mill", weight_g=350.0))
    asked = asked_of_commission(workshop, "commission-001", NOTHING)
    assert asked.bath.pieces == (PieceInPot("wool", 350.0),)
    assert asked.bath.recipe.dyestuffs == (DyestuffShare("weld", 1.0),)
    told = said(asked)
    assert "For commission-001, shawl for the mill" in told
    assert "wanted: as W-003" in told
    assert "to within ΔE00 1.5" in told


def test_a_typed_shade_takes_the_bath_of_the_nearest_piece_and_says_so(workshop: Library) -> None:
    agree(workshop, SaidCommission("78, -6, 60", weight_g=90.0))
    asked = asked_of_commission(workshop, "commission-001", NOTHING)
    # Every piece of the workshop reads 78, -6, 61; CIEDE2000 of one unit of b* at that chroma is
    # about 1 / (1 + 0.045 * 61) by its definition (ISO/CIE 11664-6).
    assert asked.source.nearest_delta_e == pytest.approx(0.27, abs=0.05)
    assert f"Bath as of {asked.source.nearest}" in said(asked)
    assert asked.wanted is not None
    assert (asked.wanted.lab, asked.wanted.piece) == ((78.0, -6.0, 60.0), "")


def test_a_judged_dyeing_goes_before_the_nearest_shade(workshop: Library) -> None:
    agree(workshop, SaidCommission("70, 0, 60", weight_g=90.0))
    judge(workshop, "commission-001", "W-007")
    asked = asked_of_commission(workshop, "commission-001", NOTHING)
    assert asked.bath.recipe.dyestuffs == (DyestuffShare("madder", 0.5),)
    assert "Bath as of W-007, the dyeing that came nearest" in said(asked)


def test_without_a_weight_a_commission_gives_no_card(workshop: Library) -> None:
    agree(workshop, SaidCommission("W-003"))
    with pytest.raises(DyeshadeError, match="no_fibre"):
        asked_of_commission(workshop, "commission-001", NOTHING)
    with pytest.raises(DyeshadeError, match="commission_unknown"):
        asked_of_commission(workshop, "commission-9", NOTHING)


def test_without_any_bath_in_the_library_a_commission_gives_no_card(library: Library) -> None:
    agree(library, SaidCommission("60, 20, 30", weight_g=90.0))
    with pytest.raises(DyeshadeError, match="commission_without_bath"):
        asked_of_commission(library, "commission-001", NOTHING)
