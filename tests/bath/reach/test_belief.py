"""What is learnt from readings."""

import numpy as np
import pytest

from dyeshade.bath.additives import stir_in
from dyeshade.bath.equilibrium import solve
from dyeshade.bath.reach.belief import after_addition, after_reading, learn
from dyeshade.bath.reach.log import (
    METER,
    STRIP,
    Addition,
    BathLog,
    Check,
    Instrument,
    LogStep,
    Reading,
)
from dyeshade.bath.reach.prior import METER_BIAS, MODEL_ERROR, NUMBERS
from dyeshade.bath.reach.propose import spread_of
from dyeshade.errors import DyeshadeError
from tests.bath.reach.baths import STOCK, VINEGAR, WATER, begun, liquor


def test_the_same_log_tells_the_same():
    log = begun(5.1).added(Addition(STOCK, 10.0), Reading(6.0))
    assert np.array_equal(learn(log).ph, learn(log).ph)


def test_a_log_read_at_once_tells_what_it_told_step_by_step():
    at_once = learn(begun(5.1).added(Addition(STOCK, 10.0), Reading(6.0)))
    stepwise = after_addition(learn(begun(5.1)), Addition(STOCK, 10.0))
    stepwise = after_reading(stepwise, Reading(6.0))
    assert np.array_equal(at_once.ph, stepwise.ph)
    assert at_once.log == stepwise.log


def test_before_any_reading_little_is_known():
    spread = spread_of(learn(BathLog(WATER)).ph)
    assert spread.high - spread.low > 4.0


# With normal errors of standard deviation s and a normal prior of spread p, the mean of n readings
# leaves 1 / sqrt(1 / p^2 + n / s^2): textbook.
def test_readings_of_one_moment_narrow_as_their_mean_does():
    free_of_bias = Instrument("strip", 0.5, 0.0)
    for count in (1, 2, 4):
        log = BathLog(WATER).read(*[Reading(5.8, free_of_bias)] * count)
        found = learn(log).ph.std()
        error2 = 0.5**2 / 3.0 + MODEL_ERROR**2
        assert found == pytest.approx((1.0 / 1.2**2 + count / error2) ** -0.5, rel=0.1)


def test_a_bias_is_not_averaged_away_but_a_buffer_tells_it():
    many = BathLog(WATER).read(*[Reading(6.0, METER)] * 6)
    unchecked = learn(many).ph.std()
    assert unchecked > 0.08
    checks = tuple(Check(7.0, Reading(7.15, METER)) for _ in range(4))
    known = learn(BathLog(WATER, many.steps, checks))
    assert known.ph.std() < 0.6 * unchecked
    assert np.median(known.ph) == pytest.approx(5.87, abs=0.05)
    assert known.numbers[:, METER_BIAS].mean() > 0.5


def test_after_a_few_additions_the_next_one_is_foreseen():
    true = liquor(5.0)
    belief = learn(begun(5.0, 5.1))
    doubt = []
    for ml in (8.0, 8.0, 8.0):
        true = stir_in(true, STOCK, ml)
        belief = after_addition(belief, Addition(STOCK, ml, "volume"))
        foreseen = spread_of(belief.ph)
        doubt.append(foreseen.high - foreseen.low)
        assert foreseen.low <= solve(true).ph <= foreseen.high
        belief = after_reading(belief, Reading(solve(true).ph + 0.1))
    assert doubt[2] < doubt[0]


def test_what_is_followed_stays_many_different_liquors():
    belief = learn(begun(5.0, 5.2).added(Addition(STOCK, 10.0), Reading(6.0), Reading(6.1)))
    assert belief.numbers.shape[1] == NUMBERS
    assert len(np.unique(belief.numbers[:, 0])) > 0.8 * len(belief.numbers)


@pytest.mark.parametrize(("error", "bias"), [(0.0, 0.1), (-1.0, 0.1), (0.5, -0.1), (9.0, 0.0)])
def test_an_instrument_that_cannot_be_is_refused(error, bias):
    with pytest.raises(DyeshadeError, match="reading_error"):
        Instrument("strip", error, bias)


def test_a_log_begins_with_the_liquor_as_it_was():
    with pytest.raises(ValueError, match="begins"):
        BathLog(WATER, (LogStep(Addition(VINEGAR, 1.0)),))
    with pytest.raises(DyeshadeError, match="ph_off_scale"):
        Reading(15.0, STRIP)
    with pytest.raises(DyeshadeError, match="amount_negative"):
        Addition(VINEGAR, -2.0)
