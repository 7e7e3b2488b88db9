"""Pot cards: the amounts of the fibre at hand, the bath of a kept piece again, every pot a page."""

from dataclasses import replace
from pathlib import Path

import pytest

from dyeshade.bath.pots import Pot
from dyeshade.bath.recipe import DyestuffShare, PieceInPot, Recipe, SubstanceShare
from dyeshade.bath.work_out import BathAsked
from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece
from dyeshade.library.library import Library
from dyeshade.library.pieces import add_piece
from dyeshade.words.pot_card import pot_card
from dyeshade.work.bath_typed import TypedBath
from dyeshade.work.make_pot_card import (
    PotAddition,
    PotAsked,
    PotStep,
    make_pot_card,
    pot_plans,
)
from dyeshade.work.ph_typed import bears, own_bounds, read_ph_typed
from dyeshade.work.pot_like import asked_like
from dyeshade.work.pot_steps import parse_step
from tests.paper.reading_back import sizes_mm

WOOL = (PieceInPot("wool", 240.0),)
WELD = Recipe((DyestuffShare("weld", 2.0),), (SubstanceShare("alum", 0.15),), 30.0)


def asked(**given: object) -> PotAsked:
    return PotAsked(BathAsked(WOOL, WELD), **given)  # type: ignore[arg-type]


def test_amounts_are_those_of_the_fibre_at_hand() -> None:
    (plan,) = pot_plans(asked())
    # 240 g of wool: twice as much weld, 15 % alum, thirty times as much water.
    assert [(line.name, line.planned) for line in plan.plan.lines] == [
        ("weld", pytest.approx(480.0)),
        ("alum", pytest.approx(36.0)),
        ("water", pytest.approx(7.2)),
    ]


def test_a_kept_piece_again_takes_its_bath_its_mordant_and_its_shade(workshop: Library) -> None:
    found = asked_like(workshop, "w-005", WOOL)
    assert found.bath.recipe == Recipe(
        (DyestuffShare("weld", 1.0),), (SubstanceShare("alum", 0.12),), 30.0
    )
    assert (found.temperature_c, found.minutes) == (80.0, 60.0)
    assert [one.substance for one in found.additions] == ["washing soda"]
    assert found.wanted is not None
    assert found.wanted.piece == "W-005"
    assert {which for which, _ in found.phs} == {"bath_start", "bath_end", "rinse"}


def test_what_is_said_goes_before_what_was_kept(workshop: Library) -> None:
    given = PotAsked(BathAsked(WOOL, WELD), temperature_c=60.0, phs=(("bath_end", 8.0),))
    found = asked_like(workshop, "W-005", WOOL, given)
    assert found.bath.recipe == WELD
    assert (found.temperature_c, found.phs) == (60.0, (("bath_end", 8.0),))


def test_a_piece_without_a_reading_gives_no_pot_card(workshop: Library) -> None:
    with workshop.edit("test") as edit:
        add_piece(edit, Piece("X-1"))
    with pytest.raises(DyeshadeError, match="piece_not_dyed"):
        asked_like(workshop, "X-1", WOOL)


def test_a_page_for_each_pot_that_the_liquor_needs(tmp_path: Path) -> None:
    pieces = tuple(PieceInPot("wool", 120.0, f"W-{n}") for n in range(4))
    many = PotAsked(BathAsked(pieces, WELD, Pot(10.0, "stainless steel")))
    made = make_pot_card(many, tmp_path / "pot.pdf", pot_card)
    # 480 g want 14.4 L; a pot of 10 L takes 8.
    assert made.pages == 2
    assert len(sizes_mm((tmp_path / "pot.pdf").read_bytes())) == 2
    assert [plan.pots for plan in pot_plans(many)] == [2, 2]


def test_cautions_know_what_is_added_on_the_way_to_the_ph() -> None:
    plain = {one.code for one in pot_plans(asked())[0].cautions}
    soda = asked(additions=(PotAddition("washing soda"),))
    assert {one.code for one in pot_plans(soda)[0].cautions} - plain >= {
        "caution_alkali",
        "caution_foam",
    }
    assert "caution_foam" not in plain


def test_the_fibre_that_bears_least_decides() -> None:
    both = (PieceInPot("wool", 10.0), PieceInPot("silk", 10.0))
    (plan,) = pot_plans(PotAsked(BathAsked(both, WELD), temperature_c=80.0))
    assert plan.ph_range is not None
    # bath/ceilings.py: silk up to 8.0 and down to 3.5 when hot, wool up to 8.5 and down to 3.0.
    assert (plan.ph_range.floor, plan.ph_range.ceiling) == (3.5, 8.0)
    assert pot_plans(asked())[0].ph_range is None


def test_strong_vinegar_is_warned_of_on_the_card() -> None:
    def codes(percent: float | None) -> set[str]:
        added = PotAddition("white vinegar", percent=percent)
        return {one.code for one in pot_plans(asked(additions=(added,)))[0].cautions}

    assert codes(30.0) - codes(5.0) == {"caution_strong_vinegar"}
    assert codes(None) == codes(5.0)


def test_a_card_states_one_limit_and_it_is_the_windows() -> None:
    both = (PieceInPot("wool", 10.0), PieceInPot("silk", 10.0))
    cool = PotAsked(BathAsked(both, WELD), temperature_c=35.0)
    (table,) = [one for one in pot_card(pot_plans(cool)[0]).tables if "pH" in one.heading]
    told = " ".join(table.notes)
    # Silk bears pH 9.5 in a cool bath, wool 10 (common practice, no source).
    assert "bears pH 3.5 to 9.5" in told
    assert "Up to pH 9.5 only below 40 degrees C" in told
    assert "10" not in told
    typed = TypedBath(ceiling="8.5", temperature="35 °C")
    own = own_bounds(read_ph_typed(typed), typed)
    borne = bears(read_ph_typed(typed), typed, ("wool", "silk"))
    assert pot_plans(replace(cool, bounds=own))[0].ph_range == borne
    assert (borne.floor, borne.ceiling, borne.notices) == (3.5, 8.5, ())
    (table,) = [
        one
        for one in pot_card(pot_plans(replace(cool, bounds=own))[0]).tables
        if "pH" in one.heading
    ]
    assert any("pH 3.5 to 8.5: your own bounds" in one for one in table.notes)


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("Soak overnight", PotStep("Soak overnight")),
        ("Mordant; 85 °C; 60 min", PotStep("Mordant", 85.0, 60.0)),
        ("Dye; 1.5 h; 140 °F", PotStep("Dye", 60.0, 90.0)),
        ("Cool; 2 hours", PotStep("Cool", None, 120.0)),
    ],
)
def test_steps_are_read_as_they_are_written(text: str, step: PotStep) -> None:
    read = parse_step(text)
    assert (read.what, read.minutes) == (step.what, step.minutes)
    assert read.temperature_c == pytest.approx(step.temperature_c)


@pytest.mark.parametrize("text", ["Dye; 80", "; 80 °C", "Dye; soon", "Dye; 1 h; 2 h"])
def test_a_step_that_cannot_be_read_is_refused(text: str) -> None:
    with pytest.raises(DyeshadeError, match="step_unclear"):
        parse_step(text)
