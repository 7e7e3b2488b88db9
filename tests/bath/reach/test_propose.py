"""The next addition: the largest that does no harm."""

import numpy as np
import pytest

from dyeshade.bath.additives import ALUM, HYDROGEN_CARBONATE, SODA_ANHYDROUS, stir_in
from dyeshade.bath.ceilings import PhRange
from dyeshade.bath.equilibrium import solve
from dyeshade.bath.reach.belief import after_addition, after_reading, learn
from dyeshade.bath.reach.expect import additions_to_come
from dyeshade.bath.reach.log import METER, Addition, BathLog, Reading
from dyeshade.bath.reach.measures import Measure, grams, millilitres, quarter_teaspoons
from dyeshade.bath.reach.overshoot import way_back
from dyeshade.bath.reach.plot import reach_plot
from dyeshade.bath.reach.propose import ADD, DONE, READ_AGAIN, SURE, advise, spread_of
from dyeshade.errors import DyeshadeError
from tests.bath.reach.baths import AT_HAND, BEARS, STOCK, VINEGAR, WATER, begun, liquor

READ = learn(begun(5.0, 5.1))


def test_the_addition_stays_below_target_and_ceiling():
    advice = advise(READ, 8.5, BEARS, AT_HAND)
    assert advice.action == ADD
    after = after_addition(READ, advice.addition)
    assert np.median(after.ph) <= 8.55
    # The amount is worked out for the volume before it; a stock's own water moves a few liquors.
    assert np.mean(after.ph > BEARS.ceiling) <= 1.0 - SURE + 0.004
    assert advice.after.median == pytest.approx(np.median(after.ph))


def test_it_is_the_largest_of_the_practical_ones():
    advice = advise(READ, 8.5, BEARS, AT_HAND)
    larger = Addition(advice.addition.additive, advice.addition.amount + 3.0 * advice.measure.step)
    after = after_addition(READ, larger)
    assert np.median(after.ph) > 8.5 or np.mean(after.ph > BEARS.ceiling) > 1.0 - SURE


def test_amounts_are_whole_steps_of_their_measure():
    spoons = quarter_teaspoons(SODA_ANHYDROUS, 1.2)
    assert spoons.largest(4.0).amount == pytest.approx(3.6)
    assert spoons.largest(1.1) is None
    assert grams(SODA_ANHYDROUS, 0.5).largest(3.26).amount == 3.0
    assert millilitres(STOCK).largest(287.0).amount == 280.0
    assert millilitres(STOCK).largest(float("inf")) is None


def test_a_lower_ceiling_makes_the_addition_smaller():
    free = advise(READ, 7.9, PhRange(3.0, 11.0), AT_HAND).addition
    careful = advise(READ, 7.9, PhRange(3.0, 8.4), AT_HAND).addition
    assert careful.mol < free.mol


def test_a_strip_is_read_twice_before_anything_is_added():
    assert advise(learn(begun(5.0)), 8.0, BEARS, AT_HAND).action == READ_AGAIN
    meter = learn(BathLog(WATER).read(Reading(5.0, METER)).read(Reading(5.02, METER)))
    assert advise(meter, 8.0, BEARS, AT_HAND).action == ADD


def test_what_else_lies_at_hand_does_not_ask_for_another_reading():
    meter, bears = learn(BathLog(WATER).read(Reading(5.0, METER))), PhRange(3.0, 8.4)
    soda, mild = grams(SODA_ANHYDROUS, 0.1), grams(HYDROGEN_CARBONATE, 0.5)
    assert advise(meter, 7.9, bears, (soda,)).action == READ_AGAIN
    for at_hand in ((soda, mild), (mild, soda)):
        advice = advise(meter, 7.9, bears, at_hand)
        assert (advice.action, advice.measure) == (ADD, mild)


def test_it_ends_near_the_target():
    assert advise(READ, 5.05, BEARS, AT_HAND).action == DONE


def test_downwards_it_takes_vinegar_and_keeps_above_the_floor():
    advice = advise(learn(begun(7.0, 7.1)), 4.5, PhRange(4.0, 9.0), AT_HAND)
    assert advice.addition.additive == VINEGAR
    assert advice.after.low > 3.8


def test_following_the_advice_reaches_the_target():
    true, belief = liquor(5.0), READ
    for _ in range(12):
        advice = advise(belief, 8.2, BEARS, AT_HAND)
        if advice.action == DONE:
            break
        if advice.action == ADD:
            true = stir_in(true, advice.addition.additive, advice.addition.amount)
            assert solve(true).ph < BEARS.ceiling
            belief = after_addition(belief, advice.addition)
        belief = after_reading(belief, Reading(round(solve(true).ph, 1)))
    assert advice.action == DONE
    assert solve(true).ph == pytest.approx(8.2, abs=0.35)
    assert len(belief.log.additions) <= 5


def test_how_many_more_is_told_as_a_range():
    fewest, most = additions_to_come(READ, 8.5, BEARS, AT_HAND)
    assert 1 <= fewest <= most <= 8
    assert additions_to_come(READ, 5.05, BEARS, AT_HAND) == (0, 0)


def test_an_overshoot_is_recognised_and_its_way_back_costed():
    belief = after_addition(READ, Addition(SODA_ANHYDROUS, 6.0))
    belief = after_reading(belief, Reading(9.9), Reading(10.0))
    back = way_back(belief, 8.0, BEARS, AT_HAND)
    assert back.overshot_by == pytest.approx(1.9, abs=0.4)
    assert back.additive == VINEGAR
    assert back.advice.addition.additive == VINEGAR
    # Vinegar of 5 % leaves 0.833 mmol of sodium acetate (82.03 g/mol) for each millilitre.
    assert back.salts_g == pytest.approx(back.amount * 0.0683, rel=0.01)
    assert back.notices[0].code == "overshot"
    down = spread_of(after_addition(belief, Addition(VINEGAR, back.amount, "volume")).ph)
    assert down.median == pytest.approx(8.0, abs=0.25)


def test_much_soda_turned_sour_foams():
    belief = after_addition(READ, Addition(SODA_ANHYDROUS, 30.0))
    belief = after_reading(belief, Reading(10.6), Reading(10.7))
    codes = [one.code for one in way_back(belief, 5.0, BEARS, AT_HAND).notices]
    assert codes == ["overshot", "foam"]


def test_a_bath_still_on_its_way_has_not_overshot():
    assert way_back(READ, 8.0, BEARS, AT_HAND) is None
    belief = after_reading(after_addition(READ, Addition(STOCK, 5.0)), Reading(5.6))
    assert way_back(belief, 8.0, BEARS, AT_HAND) is None


def test_a_plot_shows_readings_band_and_what_would_come():
    belief = after_reading(after_addition(READ, Addition(STOCK, 5.0, "volume")), Reading(5.6))
    plot = reach_plot(belief, 8.0, BEARS, AT_HAND[0], 40.0)
    assert [one.step for one in plot.read] == [0, 0, 1]
    assert len(plot.believed) == 2
    assert all(one.low <= one.median <= one.high for one in plot.believed)
    medians = [one.ph.median for one in plot.to_come]
    assert medians == sorted(medians)
    assert plot.to_come[0].ph == spread_of(belief.ph)
    assert (plot.target, plot.floor, plot.ceiling) == (8.0, 3.0, 9.0)


@pytest.mark.parametrize(
    ("belief", "target", "measures", "code"),
    [
        (READ, 9.5, AT_HAND, "target_beyond_fibre"),
        (READ, 15.0, AT_HAND, "ph_off_scale"),
        (READ, 8.0, AT_HAND[-1:], "nothing_to_add"),
        # Hydrogen carbonate leads no higher than about 8.3.
        (READ, 8.9, (grams(HYDROGEN_CARBONATE, 0.5),), "nothing_to_add"),
        (learn(BathLog(WATER)), 8.0, AT_HAND, "nothing_read"),
    ],
)
def test_what_cannot_be_proposed_is_refused(belief, target, measures, code):
    with pytest.raises(DyeshadeError, match=code):
        advise(belief, target, BEARS, measures)


def test_a_spoon_of_nothing_is_refused():
    with pytest.raises(DyeshadeError, match="measure_step"):
        Measure(SODA_ANHYDROUS, "quarter_teaspoon", 0.0)


def test_alum_may_lead_back_too():
    belief = after_addition(READ, Addition(SODA_ANHYDROUS, 20.0))
    belief = after_reading(belief, Reading(9.8, METER))
    back = way_back(belief, 8.0, BEARS, [*AT_HAND[:1], grams(ALUM)])
    assert back is not None
    # Each mol of alum leaves two of sulphate.
    assert back.salts_g == pytest.approx(back.amount / 474.37 * 2 * 142.04, rel=1e-3)
