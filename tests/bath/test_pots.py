"""Sharing pieces out over pots."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dyeshade.bath.pots import Pot, split_over_pots
from dyeshade.bath.recipe import PieceInPot
from dyeshade.errors import DyeshadeError


def skeins(*grams):
    return tuple(PieceInPot("wool", weight, f"S{k}") for k, weight in enumerate(grams))


def loads(groups):
    return [sum(piece.grams for piece in group) for group in groups]


def test_what_fits_stays_in_one_pot():
    pieces = skeins(100, 140)
    assert split_over_pots(pieces, 30, Pot(9)) == (pieces,)


def test_skeins_stay_whole_and_pots_alike():
    groups = split_over_pots(skeins(100, 100, 50, 50, 50, 50), 30, Pot(10))
    assert loads(groups) == [200, 200]


def test_loose_fibre_is_shared_out_equally():
    groups = split_over_pots(skeins(500), 30, Pot(10), whole=False)
    assert loads(groups) == [250, 250]


def test_a_share_that_fits_to_the_rim_needs_no_further_pot():
    # 0.8 of 7.5 L is 6 L, which is 200 g at 30 to 1.
    assert len(split_over_pots(skeins(200), 30, Pot(7.5))) == 1
    assert len(split_over_pots(skeins(100, 100, 100, 100), 30, Pot(7.5))) == 2


def test_a_piece_too_large_for_any_pot_is_refused():
    with pytest.raises(DyeshadeError) as raised:
        split_over_pots(skeins(50, 400), 30, Pot(10))
    assert raised.value.code == "piece_too_large_for_pot"
    assert raised.value.facts["piece"] == "S1"
    assert raised.value.facts["needs_l"] == pytest.approx(12)


def test_more_pots_than_anybody_has_are_refused():
    for whole in (True, False):
        with pytest.raises(DyeshadeError) as raised:
            split_over_pots(skeins(*[1000] * 60), 30, Pot(40), whole)
        assert raised.value.code == "too_many_pots"


def fewest(weights, most):
    """The fewest pots and their least fullest load, by trying all ways."""
    for pots in range(1, len(weights) + 1):
        ways = product(range(pots), repeat=len(weights))
        fullest = min(
            max(sum(w for w, p in zip(weights, way, strict=True) if p == k) for k in range(pots))
            for way in ways
        )
        if fullest <= most + 1e-6:
            return pots, fullest
    raise AssertionError


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(10, 200), min_size=1, max_size=5))
def test_pots_are_as_few_and_as_alike_as_can_be(weights):
    # 0.8 of 7.5 L is 200 g at 30 to 1.
    groups = split_over_pots(skeins(*weights), 30, Pot(7.5))
    assert sorted(p.name for group in groups for p in group) == sorted(
        p.name for p in skeins(*weights)
    )
    assert (len(groups), max(loads(groups))) == (
        fewest(weights, 200)[0],
        pytest.approx(fewest(weights, 200)[1]),
    )


def test_many_pieces_are_shared_out_soon():
    pieces = skeins(*range(20, 170))
    groups = split_over_pots(pieces, 30, Pot(40))
    assert len(groups) == 14
    assert max(loads(groups)) < 1.02 * sum(loads([pieces])) / 14


def test_a_pot_of_nothing_crashes():
    with pytest.raises(ValueError, match="pot of 0"):
        Pot(0)
