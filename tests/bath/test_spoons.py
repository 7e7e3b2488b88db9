"""Level spoons of powders."""

from fractions import Fraction
from statistics import fmean, stdev

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from dyeshade.bath.densities import (
    DENSITIES,
    density_of,
    own_density,
    own_density_of_ten,
    usual_density,
)
from dyeshade.bath.spoons import (
    SpoonsAtHand,
    show_spoons,
    spoon_litres,
    spoonfuls,
    spoons_for,
    weight_of_spoons,
)
from dyeshade.bath.substances import find_substance
from dyeshade.errors import DyeshadeError

ALUM = usual_density("alum")
TEN = (4.2, 4.5, 4.1, 4.4, 4.3, 4.6, 4.2, 4.4, 4.3, 4.5)


def test_densities_are_of_known_substances_in_order():
    for density in DENSITIES:
        assert find_substance(density.substance).name == density.substance
        assert density.source
        assert not density.own


def test_a_spoon_of_a_powder_weighs_within_a_range():
    weight = weight_of_spoons(2, spoon_litres("metric tsp"), ALUM)
    assert weight.grams == pytest.approx(10 * ALUM.usual)
    assert (weight.low_g, weight.high_g) == (
        pytest.approx(10 * ALUM.low),
        pytest.approx(10 * ALUM.high),
    )


def test_kitchen_spoons_of_soda_and_tartar_lie_in_their_ranges():
    # From memory: 4.6 g in a US teaspoon of baking soda, 3.0 g in one of cream of tartar.
    for name, grams in (("baking soda", 4.6), ("cream of tartar", 3.0)):
        weight = weight_of_spoons(1, spoon_litres("US tsp"), usual_density(name))
        assert weight.low_g < grams < weight.high_g


@given(st.integers(1, 80))
def test_quarters_of_a_spoon_come_back(quarters):
    litres = spoon_litres("US tsp")
    grams = weight_of_spoons(quarters / 4, litres, ALUM).grams
    assert spoons_for(grams, litres, ALUM) == Fraction(quarters, 4)


def test_spoons_are_written_as_on_the_spoon():
    shown = [show_spoons(Fraction(n, 4)) for n in (1, 2, 4, 14)]
    assert shown == ["1/4", "1/2", "1", "3 1/2"]


def test_ten_spoons_weighed_one_by_one():
    own = own_density("alum", TEN, 0.005, 0.1)
    assert own.own
    assert own.usual == pytest.approx(fmean(TEN) / 5)
    # GUM 4.2.3 with a display's step by F.2.2.1.
    u = np.sqrt((stdev(TEN) ** 2 + 0.1**2 / 12) / 10) / 5
    assert own.standard_uncertainty == pytest.approx(u)
    # GUM table G.2: Student's t for 9 degrees of freedom and 95 %.
    assert own.high - own.usual == pytest.approx(2.26 * u, rel=2e-3)
    assert own.spoon_sd == pytest.approx(stdev(TEN) / fmean(TEN))
    assert own.high - own.low < ALUM.high - ALUM.low


def test_ten_spoons_alike_still_leave_the_step_of_the_balance():
    assert own_density("alum", [4.0] * 10, 0.005, 1.0).standard_uncertainty == pytest.approx(
        1 / np.sqrt(120) / 5
    )


def test_ten_spoons_weighed_together():
    own = own_density_of_ten("alum", 43.5, 0.005, 1.0)
    assert own.usual == pytest.approx(0.87)
    spoons, balance = 0.05 * 4.35 / np.sqrt(10), 1 / np.sqrt(6) / 10
    assert own.standard_uncertainty == pytest.approx(np.hypot(spoons, balance) / 5)


def test_the_stated_range_of_own_spoons_holds_as_often_as_it_says():
    rng = np.random.default_rng(11)
    truth, sd, held, runs = 4.35, 0.15, 0, 2000
    for spoons in rng.normal(truth, sd, (runs, 10)):
        own = own_density("alum", list(spoons), 0.005, 0.01)
        held += own.low <= truth / 5 <= own.high
    assert held / runs == pytest.approx(0.95, abs=0.015)


def test_own_spoons_foretell_the_next_ones():
    rng = np.random.default_rng(12)
    held, runs = 0, 1000
    for spoons in rng.normal(4.35, 0.2, (runs, 14)):
        own = own_density("alum", list(spoons[:10]), 0.005, 0.01)
        foretold = weight_of_spoons(4, 0.005, own)
        held += foretold.low_g <= spoons[10:].sum() <= foretold.high_g
    assert held / runs == pytest.approx(0.95, abs=0.02)


@pytest.mark.parametrize("grams", [[4.0], [4.0, 0.0], [4.0, -1.0]])
def test_spoons_of_nothing_crash(grams):
    with pytest.raises(ValueError, match="spoons"):
        own_density("alum", grams, 0.005, 0.1)


def test_own_spoons_are_taken_before_tables():
    own = own_density("alum", TEN, 0.005, 0.1)
    assert density_of("potash alum", (own,)) is own
    assert density_of("alum") is ALUM
    mine = own_density("moss", TEN, 0.005, 0.1)
    assert density_of("moss", (own, mine)) is mine
    with pytest.raises(DyeshadeError) as raised:
        density_of("moss")
    assert raised.value.code == "density_unknown"


def test_spoons_stand_beside_a_weight_where_they_make_sense():
    at_hand = SpoonsAtHand("metric tsp", (own_density("alum", TEN, 0.005, 0.1),))
    found = spoonfuls(15, "alum", at_hand)
    assert (found.count, found.own) == (Fraction(7, 2), True)
    assert found.weight.low_g < 3.5 * fmean(TEN) < found.weight.high_g
    assert spoonfuls(15, "alum", SpoonsAtHand("metric tsp")).own is False
    assert spoonfuls(0.1, "alum", at_hand) is None
    assert spoonfuls(500, "alum", at_hand) is None
    assert spoonfuls(15, "moss", at_hand) is None
    assert spoonfuls(15, "lye", at_hand) is None
