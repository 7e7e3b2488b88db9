"""Exhaust baths as children of the first. Figures invented."""

import pytest

from dyeshade.bath.amounts import plan_bath, with_actual
from dyeshade.bath.exhaust import exhaust_bath
from dyeshade.bath.recipe import DyestuffShare, PieceInPot, Recipe

FIRST = plan_bath((PieceInPot("wool", 200),), Recipe((DyestuffShare("madder", 1.0),), (), 30))
SILK = (PieceInPot("silk", 50),)


def test_an_exhaust_bath_has_the_ratio_that_is_left():
    child = exhaust_bath(FIRST, SILK, 0.3)
    (left,) = child.dyestuffs
    assert (left.first_g, left.left_g) == (200, pytest.approx(60))
    assert left.ratio_left == pytest.approx(1.2)
    assert (child.number, child.water_l, child.to_add_l) == (1, 6.0, 0.0)


def test_exhaust_baths_follow_one_another():
    child = exhaust_bath(FIRST, SILK, 0.5)
    grandchild = exhaust_bath(child, SILK, 0.4)
    assert grandchild.number == 2
    assert grandchild.parent is child
    assert grandchild.first is FIRST
    assert grandchild.dyestuffs[0].left_g == pytest.approx(40)
    assert grandchild.dyestuffs[0].first_g == 200


def test_what_was_truly_put_in_is_what_is_left():
    child = exhaust_bath(with_actual(FIRST, 0, 180), SILK, 0.5)
    assert child.dyestuffs[0].left_g == pytest.approx(90)


def test_liquor_is_filled_up_and_never_poured_away():
    more = (PieceInPot("wool", 250),)
    assert exhaust_bath(FIRST, more, 0.5, 30, 5.0).to_add_l == pytest.approx(2.5)
    assert exhaust_bath(FIRST, SILK, 0.5, 30, 5.0).to_add_l == 0
    dry = plan_bath(SILK, Recipe((DyestuffShare("madder", 1.0),)))
    assert exhaust_bath(dry, SILK, 0.5).to_add_l is None


def test_a_share_left_of_more_than_all_crashes():
    with pytest.raises(ValueError, match="share"):
        exhaust_bath(FIRST, SILK, 1.5)
