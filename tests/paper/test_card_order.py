"""A card's shades stand in an order that a dyer finds them by."""

import math
from itertools import pairwise

import pytest

from dyeshade.paper.card_order import ordered_shades
from dyeshade.paper.shade_card import ORDERS
from tests.paper.cards import a_shade


def of_hue(hue: float, chroma: float = 40.0, lightness: float = 50.0):
    angle = math.radians(hue)
    return a_shade(
        piece=f"{hue:g}", lab=(lightness, chroma * math.cos(angle), chroma * math.sin(angle))
    )


def pieces(listed, order) -> list[str]:
    return [shade.piece for shade in ordered_shades(listed, order)]


def test_hues_go_once_round_and_begin_after_the_widest_gap():
    # Madder reds on both sides of 0 degrees belong together; the widest gap is from 100 to 350.
    listed = [of_hue(hue) for hue in (20, 350, 100, 5, 60)]
    assert pieces(listed, "hue") == ["350", "5", "20", "60", "100"]


def test_greys_stand_after_the_hues_from_light_to_dark():
    listed = [of_hue(200, 1.0, 30.0), of_hue(80), of_hue(10, 2.0, 90.0), of_hue(40)]
    assert pieces(listed, "hue") == ["40", "80", "10", "200"]


def test_the_whole_circle_keeps_neighbours_together():
    listed = [of_hue(hue) for hue in range(0, 360, 40)]
    in_order = [float(piece) for piece in pieces(listed[::-1], "hue")]
    steps = [(after - before) % 360 for before, after in pairwise(in_order)]
    assert steps == [40] * 8


@pytest.mark.parametrize("hues", [[], [200]])
def test_no_shade_and_a_single_one_have_an_order_too(hues):
    assert pieces([of_hue(hue) for hue in hues], "hue") == [f"{hue}" for hue in hues]


def test_kinds_of_ph_are_never_pooled():
    listed = [
        a_shade(piece="dip 4", ph=4.0, ph_which="after"),
        a_shade(piece="end 9", ph=9.0, ph_which="bath_end"),
        a_shade(piece="none", ph=None, ph_which=None),
        a_shade(piece="end 5", ph=5.0, ph_which="bath_end"),
        a_shade(piece="dip 10", ph=10.0, ph_which="after"),
    ]
    assert pieces(listed, "ph") == ["end 5", "end 9", "dip 4", "dip 10", "none"]


def test_lightness_goes_from_light_to_dark():
    listed = [of_hue(1, lightness=30), of_hue(2, lightness=80), of_hue(3, lightness=55)]
    assert pieces(listed, "lightness") == ["2", "3", "1"]


@pytest.mark.parametrize("order", ORDERS)
def test_equal_shades_stay_as_they_were_given(order):
    listed = [a_shade(piece=name) for name in "cab"]
    assert pieces(listed, order) == ["c", "a", "b"]
