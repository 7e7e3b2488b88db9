"""The store of dyestuffs. The workshop and its lots are invented."""

from datetime import date

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from dyeshade.bath.recipe import DyestuffShare
from dyeshade.bath.store import Lot, Move, enough_for, left_of
from dyeshade.errors import DyeshadeError

OLD = Lot(1, "weld", "dried", date(2024, 8, 1))
NEW = Lot(2, "Weld", "dried", date(2025, 8, 1))
FRESH = Lot(3, "weld", "fresh", date(2025, 9, 1))
TWO_TO_ONE = DyestuffShare("weld", 2.0)


def test_a_lot_is_what_came_less_what_every_bath_took():
    moves = (
        Move(1, "bought", 500),
        Move(1, "used", 120, "bath-003"),
        Move(2, "bought", 300),
        Move(1, "used", 80, "bath-007"),
    )
    assert left_of(OLD, moves).grams == 300
    assert left_of(NEW, moves).grams == 300
    assert left_of(FRESH, moves).grams == 0


def test_a_lot_that_is_weighed_again_is_what_the_balance_says():
    moves = (Move(1, "bought", 500), Move(1, "used", 120), Move(1, "weighed", 365))
    assert left_of(OLD, moves).grams == 365
    assert left_of(OLD, (*moves, Move(1, "used", 65))).grams == 300


def test_a_lot_never_holds_less_than_nothing_and_says_so():
    left = left_of(OLD, (Move(1, "bought", 100), Move(1, "used", 130)))
    assert left.grams == 0
    assert [(n.code, n.facts["grams"]) for n in left.notices] == [("lot_overdrawn", 30)]
    again = left_of(OLD, (Move(1, "bought", 100), Move(1, "used", 130), Move(1, "weighed", 5)))
    assert (again.grams, again.notices) == (5, ())


def test_enough_for_240_g_at_two_to_one():
    moves = (Move(1, "bought", 200), Move(2, "bought", 300))
    answer = enough_for(240, TWO_TO_ONE, (NEW, OLD), moves)
    assert answer.is_enough
    assert (answer.needed_g, answer.left_g, answer.fibre_g) == (480, 500, 250)
    assert answer.take == ((OLD, 200), (NEW, pytest.approx(280)))


def test_what_is_lacking_is_said_with_what_it_would_do_for():
    answer = enough_for(240, TWO_TO_ONE, (OLD,), (Move(1, "bought", 300),))
    assert not answer.is_enough
    assert (answer.lacking_g, answer.fibre_g) == (180, 150)


def test_fresh_lots_count_by_the_yield_of_the_dyer():
    moves = (Move(3, "bought", 1000),)
    unknown = enough_for(100, TWO_TO_ONE, (FRESH,), moves)
    assert unknown.not_counted == (FRESH,)
    assert unknown.lacking_g == 200
    assert [notice.code for notice in unknown.notices] == ["lot_not_counted"]
    own = Lot(3, "weld", "fresh", None, drying_yield=0.2)
    answer = enough_for(50, TWO_TO_ONE, (own,), moves)
    assert answer.left_g == pytest.approx(200)
    assert answer.take == ((own, pytest.approx(500)),)
    assert answer.is_enough


def test_a_dyestuff_that_is_in_no_lot_is_refused():
    with pytest.raises(DyeshadeError) as raised:
        enough_for(100, DyestuffShare("madder", 1.0), (OLD,), ())
    assert raised.value.code == "not_in_store"


@given(st.lists(st.floats(0, 1000), max_size=4), st.floats(1, 2000), st.floats(0.1, 5))
@example([2.217468771494523e-161], 1.0, 1.0)
def test_what_is_taken_and_what_is_lacking_make_what_is_needed(lots, fibre, ratio):
    kept = [Lot(k, "weld") for k in range(len(lots) + 1)]
    moves = [Move(k, "bought", grams) for k, grams in enumerate(lots)]
    answer = enough_for(fibre, DyestuffShare("weld", ratio), kept, moves)
    taken = sum(grams for _, grams in answer.take)
    assert taken + answer.lacking_g == pytest.approx(answer.needed_g, rel=1e-5)
    assert taken <= answer.left_g * (1 + 1e-9)
    assert answer.fibre_g * ratio == pytest.approx(answer.left_g)
