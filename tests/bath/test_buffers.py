"""Amounts that reach a pH, and recipes that hold one."""

import pytest

from dyeshade.bath.additives import (
    CITRIC_MONOHYDRATE,
    CREAM_OF_TARTAR,
    HYDROGEN_CARBONATE,
    SODA_ANHYDROUS,
    stir_in,
    stock_solution,
    vinegar,
)
from dyeshade.bath.amounts_for_ph import amount_to_reach, ph_after, quarter_teaspoon_jump
from dyeshade.bath.buffers import carbonate_buffer, carbonate_cautions, lime_cautions
from dyeshade.bath.ceilings import (
    CELLULOSE,
    PROTEIN,
    SILK,
    OwnBounds,
    acid_for,
    ph_range,
    range_for_all,
)
from dyeshade.bath.equilibrium import solve
from dyeshade.bath.water import Water, water_contents
from dyeshade.errors import DyeshadeError

WATER = water_contents(Water(150.0, 7.5), 5.0)
PLAIN = water_contents(Water(30.0, 7.2), 3.0)


@pytest.mark.parametrize(
    ("what", "target"),
    [(SODA_ANHYDROUS, 9.0), (vinegar(5.0), 4.5), (CITRIC_MONOHYDRATE, 4.0)],
)
def test_the_amount_reaches_the_ph(what, target):
    found = amount_to_reach(WATER, what, target, 90.0)
    assert solve(stir_in(WATER, what, found.amount)).ph == pytest.approx(target, abs=1e-4)
    assert found.ph.at_25_c.ph == pytest.approx(target, abs=1e-4)
    assert found.ph.at_bath.temperature_c == 90.0
    assert ph_after(WATER, what, found.amount, 90.0).ph == found.ph


@pytest.mark.parametrize(
    ("what", "target", "code"),
    [
        (vinegar(5.0), 9.0, "ph_wrong_way"),
        (SODA_ANHYDROUS, 5.0, "ph_wrong_way"),
        (HYDROGEN_CARBONATE, 9.5, "ph_unreachable"),
        (CREAM_OF_TARTAR, 2.5, "ph_unreachable"),
        (SODA_ANHYDROUS, 15.0, "ph_off_scale"),
    ],
)
def test_what_does_not_reach_a_ph_says_so(what, target, code):
    with pytest.raises(DyeshadeError, match=code):
        amount_to_reach(WATER, what, target, 90.0)


def test_a_quarter_teaspoon_jumps_in_a_small_pot_of_plain_water_and_stock_is_proposed():
    (notice,) = quarter_teaspoon_jump(PLAIN, SODA_ANHYDROUS, 1.2, 9.0)
    assert notice.facts["ph"] > 10.0
    stock = stock_solution(SODA_ANHYDROUS, notice.facts["percent"])
    after = stir_in(PLAIN, stock, float(notice.facts["ml"]))
    assert solve(after).ph == pytest.approx(9.0, abs=0.1)


def test_it_does_not_jump_where_much_acid_is_in_the_pot():
    sour = stir_in(PLAIN, vinegar(5.0), 100.0)
    assert quarter_teaspoon_jump(sour, SODA_ANHYDROUS, 1.2, 9.0) == ()


@pytest.mark.parametrize("target", [8.5, 9.3, 10.0, 10.5])
def test_a_buffer_is_at_its_ph(target):
    found = carbonate_buffer(WATER, target, 40.0)
    assert found.ph.at_25_c.ph == pytest.approx(target, abs=1e-4)
    assert found.soda_g > 0.0
    assert found.hydrogen_carbonate_g > 0.0


def test_a_buffer_holds_what_its_capacity_says():
    found = carbonate_buffer(WATER, 10.0, 40.0)
    soured = stir_in(found.contents, vinegar(5.0), found.spare_vinegar_ml)
    assert solve(soured).ph == pytest.approx(9.5, abs=0.01)
    moved_mol = found.spare_vinegar_ml * vinegar(5.0).mol_per_unit
    assert moved_mol == pytest.approx(found.capacity_mol_l * 5.0 * 0.5, rel=0.2)


def test_between_8_and_9_carbonate_holds_a_tenth_of_what_it_holds_at_10():
    weak = carbonate_buffer(WATER, 8.5, 90.0)
    assert weak.share_of_best == pytest.approx(0.11, abs=0.03)
    assert [one.code for one in weak.notices][:2] == ["carbonate_weak", "simmer_raises_ph"]
    assert carbonate_buffer(PLAIN, 9.8, 90.0).notices == ()
    (alone,) = carbonate_cautions(8.35, 20.0)
    assert alone.code == "carbonate_weak"
    # Halfway between its two steps carbonate holds a tenth of what it holds at pH 10.
    assert alone.facts["share"] == "9 %"


def test_lime_settles_from_hard_water_where_soda_goes_into_it():
    assert [one.code for one in carbonate_buffer(WATER, 9.8, 40.0).notices] == ["lime_settles"]
    assert lime_cautions(WATER, 7.5) == ()


def test_a_buffer_that_carbonate_cannot_make_is_refused_with_what_it_can():
    with pytest.raises(DyeshadeError, match="buffer_out_of_reach"):
        carbonate_buffer(WATER, 7.0, 40.0)


# Common practice, no source: 10 below 40 degrees C, 9 to 60, 8.5 at a simmer; silk lower.
def test_wool_bears_less_alkali_the_hotter_it_is_and_silk_less_still():
    assert [ph_range(PROTEIN, t).ceiling for t in (20, 40, 50, 60, 90)] == [10, 10, 9, 9, 8.5]
    for t in (20, 50, 90):
        assert ph_range(SILK, t).ceiling < ph_range(PROTEIN, t).ceiling
        assert ph_range(CELLULOSE, t).ceiling > ph_range(PROTEIN, t).ceiling
    assert [one.code for one in ph_range(PROTEIN, 20).notices] == ["ceiling_brief"]


def test_a_ceiling_may_be_lowered_and_raising_it_asks():
    assert ph_range(PROTEIN, 90, own_ceiling=8.0).notices == ()
    assert ph_range(PROTEIN, 90, own_ceiling=8.0).ceiling == 8.0
    raised = ph_range(PROTEIN, 90, own_ceiling=9.5, own_floor=2.0)
    assert [one.code for one in raised.notices] == ["ceiling_raised", "floor_lowered"]


def test_acid_that_stays_is_told_of_for_cotton_only():
    assert [one.code for one in acid_for(CELLULOSE, "citric_anhydrous")] == [
        "acid_stays_in_cellulose"
    ]
    assert acid_for(CELLULOSE, "vinegar") == ()
    assert acid_for(PROTEIN, "citric_anhydrous") == ()


def test_the_most_delicate_fibre_decides_at_either_end():
    both = range_for_all((PROTEIN, CELLULOSE), 90)
    assert (both.floor, both.ceiling, both.own) == (4.0, 8.5, False)
    lower = range_for_all((PROTEIN, CELLULOSE), 90, OwnBounds(floor=3.5))
    assert [one.code for one in lower.notices] == ["floor_lowered"]
    assert (lower.floor, lower.own) == (4.0, False)
    confirmed = range_for_all((PROTEIN, CELLULOSE), 90, OwnBounds(floor=3.5, confirmed=True))
    assert (confirmed.floor, confirmed.own) == (3.5, True)
