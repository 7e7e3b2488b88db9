"""A smooth curve through a pH series, against the plain formulas and scipy's own smoothing."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.interpolate import make_smoothing_spline
from scipy.stats import multivariate_normal

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.spread import u95_of
from dyeshade.errors import DyeshadeError
from dyeshade.insight.ph_curve import fit_curve
from dyeshade.insight.ph_kernel import (
    PRIOR_MEAN,
    PRIOR_SD,
    Seen,
    covariance,
    seen_covariance,
    unlikely,
)
from dyeshade.insight.ph_rows import rows_of
from tests.insight.series import a_series, turning

FINE = np.eye(3) * 0.01
PLAIN = np.eye(3) * 0.25
COMMON = np.diag([4.0, 4.0, 6.0])


def test_the_curve_is_the_normal_distribution_given_what_was_seen():
    ph = np.array([5.0, 6.2, 7.1, 8.4])
    curve = fit_curve(a_series(ph, turning(ph), PLAIN))
    asked = np.array([5.5, 7.7])
    for part, (_, mean, left) in zip(curve.parts, curve.steps_at(asked), strict=True):
        # The textbook's block formula with plain inverses (Rasmussen and Williams 2006, A.6).
        spread = np.exp(2 * part.logs[4]) * np.kron(curve.seen.same_bath, np.eye(3))
        within = covariance(ph, ph, part.logs) + curve.seen.error + spread
        across = covariance(asked, ph, part.logs)
        inverse = np.linalg.inv(within)
        assert mean == pytest.approx(across @ inverse @ curve.seen.shade, abs=1e-5)
        expected = covariance(asked, asked, part.logs) - across @ inverse @ across.T
        assert left == pytest.approx(expected, abs=1e-5)


def test_how_likely_a_curve_is_agrees_with_scipys_normal_distribution():
    ph = np.array([5.0, 6.0, 7.0])
    shade = np.random.default_rng(1).normal(size=9)
    seen = Seen(ph, shade, np.eye(9) * 0.3, np.eye(3))

    def by_scipy(logs):
        within = covariance(ph, ph, logs) + np.eye(9) * (0.3 + np.exp(2 * logs[4]))
        own = multivariate_normal(np.zeros(9), within).logpdf(shade)
        return -own + 0.5 * np.sum(((logs - PRIOR_MEAN) / PRIOR_SD) ** 2)

    logs = PRIOR_MEAN + 0.3
    ours = unlikely(logs, seen) - unlikely(PRIOR_MEAN, seen)
    assert ours == pytest.approx(by_scipy(logs) - by_scipy(PRIOR_MEAN), abs=1e-6)


def test_through_many_baths_it_runs_where_scipys_smoothing_spline_does():
    random = np.random.default_rng(2)
    ph = np.linspace(4.0, 10.0, 25)
    labs = turning(ph) + random.normal(0, 0.5, (25, 3))
    curve = fit_curve(a_series(ph, labs, PLAIN))
    asked = np.linspace(4.5, 9.5, 21)
    spline = np.stack([make_smoothing_spline(ph, labs[:, k])(asked) for k in range(3)], axis=1)
    assert float(ciede2000(curve.at(asked)[0], spline).max()) < 0.8
    assert float(ciede2000(curve.at(asked)[0], turning(asked)).max()) < 0.8


def test_what_it_states_holds_95_times_in_100_for_dyestuffs_never_seen():
    random = np.random.default_rng(3)
    held = []
    for _ in range(12):
        middle, steep = random.uniform(5.5, 8.5), random.uniform(1.2, 4.0)
        low = np.array([72.0, 0.0, 50.0]) + random.normal(0, 6, 3)
        high = low + random.normal(0, 15, 3)
        ph = np.linspace(4.5, 9.5, 7)
        labs = turning(ph, middle, steep, low, high) + random.multivariate_normal([0] * 3, COMMON)
        # From bath to bath 0.8 CIEDE2000 in each step.
        labs = labs + random.normal(size=(7, 3)) * 0.8 * [1.2, 2.2, 3.0]
        labs = labs + random.multivariate_normal([0] * 3, PLAIN, 7)
        seen_ph = ph + random.normal(0, 0.05, 7)
        curve = fit_curve(a_series(seen_ph, labs, PLAIN, COMMON, ph_sd=0.05))
        asked = np.linspace(4.6, 9.4, 5)
        true = turning(asked, middle, steep, low, high)
        held += [
            ciede2000(lab, other) <= u95_of(lab, spread)
            for lab, spread, other in zip(*curve.at(asked), true, strict=True)
        ]
    # The pH of one series stand and fall together: 12 series are good to 0.07 or so. The study
    # tests/studies/insight_truth.py has many more.
    assert np.mean(held) >= 0.85


def test_an_unsure_ph_makes_an_unsure_curve_only_where_it_is_steep():
    ph = np.linspace(4.5, 9.5, 9)
    sure, unsure = (fit_curve(a_series(ph, turning(ph), PLAIN, ph_sd=sd)) for sd in (0.02, 0.3))
    steep, flat = 7.0, 4.6
    ratio = {at: unsure.values(at)[0].u95 / sure.values(at)[0].u95 for at in (steep, flat)}
    assert ratio[steep] > 1.15
    assert ratio[steep] > ratio[flat]


def test_repeats_make_it_surer_and_pieces_of_one_bath_less_so():
    # At one length, size and spread: what a series has them be differs with each draw.
    ph = np.linspace(5.0, 9.0, 5)
    twice = np.repeat(ph, 2)
    labs = turning(twice)
    single = fit_curve(a_series(ph, turning(ph), FINE, ph_sd=0.0))
    own_baths = fit_curve(a_series(twice, labs, FINE, ph_sd=0.0))
    each = np.repeat(np.arange(5), 2)
    one_bath = fit_curve(a_series(twice, labs, FINE, ph_sd=0.0, baths=each))
    at = np.array([7.0])

    def variance(curve):
        across = covariance(at, curve.seen.ph, PRIOR_MEAN)
        known = across @ np.linalg.inv(seen_covariance(curve.seen, PRIOR_MEAN)) @ across.T
        return np.diag(covariance(at, at, PRIOR_MEAN) - known)

    surest, between, least = (variance(curve) for curve in (own_baths, one_bath, single))
    assert np.all(surest < 0.75 * between)
    assert np.all(between < least)


@pytest.mark.parametrize("seed", range(8, 16))
def test_baths_that_differ_much_and_readings_that_err_little_can_be_fitted(seed):
    random = np.random.default_rng(seed)
    ph = np.repeat(np.linspace(5.0, 9.0, 5), 2)
    labs = turning(ph) + random.normal(size=(10, 3)) * [1.0, 1.5, 2.0]
    for baths in (None, np.repeat(np.arange(5), 2)):
        curve = fit_curve(a_series(ph, labs, FINE, baths=baths))
        assert 0.3 < curve.values(7.0)[0].u95 < 4.0


def test_what_one_camera_errs_alike_moves_the_curve_and_does_not_bend_it():
    ph = np.linspace(5.0, 9.0, 6)
    whole = fit_curve(a_series(ph, turning(ph), PLAIN, COMMON))
    as_seen = fit_curve(a_series(ph, turning(ph), PLAIN, COMMON), as_seen=True)
    apart = float(ciede2000(whole.at(6.5)[0], as_seen.at(6.5)[0])[0])
    assert apart < 0.2
    assert whole.values(6.5)[0].u95 > 1.5 * as_seen.values(6.5)[0].u95


def test_beyond_the_measured_ph_it_says_so_and_knows_less():
    ph = np.linspace(5.0, 8.0, 5)
    curve = fit_curve(a_series(ph, turning(ph), PLAIN))
    below, inside, above = curve.values([4.0, 6.5, 9.5])
    assert (below.beyond, inside.beyond, above.beyond) == (True, False, True)
    assert min(below.u95, above.u95) > 2 * inside.u95
    assert not any(value.beyond for value in curve.along())


def test_one_bath_twice_is_no_curve():
    with pytest.raises(DyeshadeError, match="few_baths"):
        fit_curve(a_series([5.0, 5.0, 7.0], turning([5.0, 5.0, 7.0]), PLAIN))


def test_readings_of_several_cameras_are_no_curve_as_one_sees_it():
    series = a_series([5.0, 6.0, 7.0], turning([5.0, 6.0, 7.0]), PLAIN)
    first, *others = series.points
    other = replace(first, taken=replace(first.taken, camera="another"))
    with pytest.raises(AssertionError):
        fit_curve(replace(series, points=(other, *others)), as_seen=True)


def test_hundreds_of_readings_are_condensed_and_tell_the_same():
    random = np.random.default_rng(9)
    ph = np.repeat(random.uniform(4.5, 9.5, 200), 2)
    baths = np.repeat(np.arange(200), 2)
    off = np.repeat(random.normal(size=(200, 3)), 2, axis=0) * [0.8, 1.2, 1.6]
    labs = turning(ph) + off + random.normal(0, 0.5, (400, 3))
    series = a_series(ph, labs, PLAIN, COMMON, baths=baths)
    rows = rows_of(series)
    assert len(rows.ph) <= 60
    assert rows.merged.sum() == 200
    assert np.all(np.diff(rows.ph) > 0)
    curve = fit_curve(series)
    asked = np.linspace(5.0, 9.0, 9)
    assert float(ciede2000(curve.at(asked)[0], turning(asked)).max()) < 0.8
    # Many baths do not make the camera's own error smaller.
    assert curve.values(7.0)[0].u95 > 2.0


def test_a_few_readings_stay_as_they_are_and_readings_of_one_bath_share_it():
    ph = [5.0, 5.0, 6.0, 7.0]
    rows = rows_of(a_series(ph, turning(ph), PLAIN, baths=[1, 1, 2, 3]))
    assert list(rows.ph) == ph
    assert rows.same_bath[:2, :2].tolist() == [[1.0, 1.0], [1.0, 1.0]]
    assert rows.same_bath[2].tolist() == [0.0, 0.0, 1.0, 0.0]
