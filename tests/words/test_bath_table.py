"""A bath in words. Figures invented."""

import pytest

from dyeshade.bath.amounts import plan_bath, with_actual
from dyeshade.bath.recipe import DyestuffShare, PieceInPot, Recipe, SubstanceShare
from dyeshade.bath.store import Lot, Move, enough_for
from dyeshade.words.bath_table import actual, enough, share
from dyeshade.words.cautions import caution_text

WOOL = (PieceInPot("wool", 240),)
WELD = DyestuffShare("weld", 2.0)


def planned(*shares, dyestuff=WELD):
    return plan_bath(WOOL, Recipe((dyestuff,), shares, 30))


@pytest.mark.parametrize(
    ("grams", "words"),
    [
        (480, "480 g, as planned"),
        (481, "481 g, as planned"),
        (456, "456 g, 5 % less"),
        (600, "600 g, 25 % more"),
        (0, "0 g, 100 % less"),
    ],
)
def test_actual_stands_beside_planned(grams, words):
    assert actual(with_actual(planned(), 0, grams).lines[0]) == words


def test_actual_water_is_told_in_litres_and_what_was_not_said_is_not_told():
    plan = with_actual(planned(), 1, 8.0)
    assert actual(plan.lines[1]) == "8 L, 11 % more"
    assert actual(plan.lines[1], "us") == "2.11 US gal, 11 % more"
    assert actual(plan.lines[0]) == ""


def test_shares_are_told_as_dyers_tell_them():
    plan = planned(
        SubstanceShare("alum", 0.15),
        SubstanceShare("iron", 0.02, "protein"),
        SubstanceShare("cream of tartar", 0.06, "wool"),
    )
    told = ["2:1", "15 % wof", "2 % of the protein fibre", "6 % of the wool", "30:1"]
    assert [share(line) for line in plan.lines] == told
    cochineal = planned(dyestuff=DyestuffShare("cochineal", 0.08))
    assert share(cochineal.lines[0]) == "8 % wof"


def test_what_is_left_out_is_told():
    (notice,) = planned(SubstanceShare("alum", 0.15, "cellulose")).notices
    told = "There is no cellulose fibre in the pot, so the alum for it was left out."
    assert caution_text(notice) == told


def test_enough_or_not_is_a_sentence():
    lots, moves = (Lot(1, "weld"),), (Move(1, "bought", 500),)
    assert enough(enough_for(240, WELD, lots, moves)) == (
        "weld, dried: 480 g (1 lb 0.9 oz) needed, 500 g (1 lb 1.6 oz) at hand: "
        "enough, for up to 250 g (8.82 oz) of fibre."
    )
    assert enough(enough_for(300, WELD, lots, moves), "us").endswith(
        "3.53 oz (100 g) lacking; it is enough for 8.82 oz (250 g) of fibre."
    )
