"""From a wanted shade to a pH, and the bath from which most would be learnt."""

import numpy as np
import pytest

from dyeshade.insight.ph_curve import fit_curve
from dyeshade.insight.ph_wanted import nearest_ph, nearest_point, next_bath
from tests.insight.series import a_series, turning

PLAIN = np.eye(3) * 0.25
SIX_BATHS = np.linspace(5.0, 9.0, 6)
STEEP = {"steep": 2.5, "low": (75.0, -5.0, 65.0), "high": (50.0, 35.0, 35.0)}


def simulated(random):
    labs = turning(SIX_BATHS, **STEEP) + random.normal(size=(6, 3)) * [0.5, 0.7, 1.0]
    return fit_curve(a_series(SIX_BATHS + random.normal(0, 0.05, 6), labs, PLAIN, ph_sd=0.05))


def test_where_the_series_moves_the_ph_of_a_wanted_shade_is_found_within_0_3():
    random = np.random.default_rng(11)
    found, held = [], []
    for _ in range(10):
        curve = simulated(random)
        # Here the series moves by more than 3 CIEDE2000 in 0.3 pH.
        true = random.uniform(6.6, 7.4)
        wanted = nearest_ph(curve, turning(true, **STEEP))
        found.append(abs(wanted.ph - true) <= 0.3)
        held.append(wanted.low <= true <= wanted.high)
    # The study tests/studies/insight_truth.py has many more.
    assert sum(found) >= 9
    assert sum(held) >= 8


def test_where_the_series_hardly_moves_the_interval_is_wide():
    curve = simulated(np.random.default_rng(12))
    steep = nearest_ph(curve, turning(7.0, **STEEP))
    flat = nearest_ph(curve, turning(5.3, **STEEP))
    assert flat.high - flat.low > 2 * (steep.high - steep.low)
    assert steep.chances.sum() == pytest.approx(1.0)


def test_how_near_the_series_comes_is_told_with_its_interval():
    curve = simulated(np.random.default_rng(13))
    in_it = nearest_ph(curve, turning(7.0, **STEEP))
    blue = nearest_ph(curve, (35.0, -5.0, -35.0))
    assert in_it.difference.low == 0.0
    assert blue.difference.low > 20.0


def test_a_shade_that_lies_beyond_the_series_is_found_at_its_end_and_that_is_said():
    ph = np.linspace(4.5, 6.5, 5)
    curve = fit_curve(a_series(ph, turning(ph, **STEEP), PLAIN))
    wanted = nearest_ph(curve, turning(7.5, **STEEP))
    assert wanted.ph == 6.5
    assert wanted.at_end
    assert not nearest_ph(curve, turning(6.0, **STEEP)).at_end


def test_an_unsure_wish_makes_an_unsure_ph():
    curve = simulated(np.random.default_rng(14))
    typed = nearest_ph(curve, turning(7.0, **STEEP))
    read = nearest_ph(curve, turning(7.0, **STEEP), np.eye(3) * 16.0)
    assert read.high - read.low > typed.high - typed.low


def test_the_next_bath_goes_into_the_gap():
    ph = np.array([4.5, 5.0, 5.5, 8.5, 9.0])
    curve = fit_curve(a_series(ph, turning(ph, **STEEP), PLAIN))
    proposed = next_bath(curve)
    assert 6.0 < proposed.ph < 8.0
    assert not proposed.beyond
    assert proposed.spread_then < proposed.spread_now


def test_for_a_wanted_shade_the_next_bath_goes_where_it_may_be():
    ph = np.array([4.0, 5.5, 8.5, 10.0])
    curve = fit_curve(a_series(ph, turning(ph, **STEEP), PLAIN))
    proposed = next_bath(curve, nearest_ph(curve, turning(7.0, **STEEP)))
    assert 5.8 < proposed.ph < 8.2


def test_of_several_series_the_reading_that_comes_nearest_is_found_without_a_curve():
    few, many = np.array([4.0, 7.0]), np.linspace(4.0, 8.0, 9)
    one, other = (a_series(ph, turning(ph, **STEEP), PLAIN) for ph in (few, many))
    series, point, away = nearest_point([one, other], turning(6.45, **STEEP))
    assert series is other
    assert point.ph == 6.5
    assert 0 < away < 3
    assert nearest_point([], turning(6.45, **STEEP)) is None
