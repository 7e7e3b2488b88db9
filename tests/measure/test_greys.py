"""Light, tone curve and white are told by the greys, whatever lies on some of them."""

from __future__ import annotations

import numpy as np
import pytest

from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from tests.measure.grey_scenes import (
    PAGE,
    GreyScene,
    grey_signals,
    random_scene,
    window_light,
)


def lightness(reflectance: np.ndarray) -> np.ndarray:
    return 116 * np.cbrt(np.maximum(reflectance, 0)) - 16


def neutral_errors(seed: int, print_spread: float) -> np.ndarray:
    """Errors in L* of neutral samples strewn over the cells."""
    rng = np.random.default_rng(seed)
    scene = random_scene(rng, print_spread)
    fit = fit_greys(grey_signals(scene, rng), field_for_page(PAGE))
    places = np.stack([rng.uniform(45, 165, 40), rng.uniform(60, 240, 40)], axis=-1)
    true = np.exp(rng.uniform(np.log(0.03), np.log(0.85), 40))
    signal = scene.signal(places, true)
    whole = (signal < 0.985).all(axis=1)
    seen = fit.reflectance(signal, places)
    return np.asarray(lightness(seen) - lightness(true)[:, None])[whole]


def test_a_neutral_is_read_within_half_a_step_of_lightness_on_a_plain_print() -> None:
    errors = np.abs(np.concatenate([neutral_errors(seed, 0.0).ravel() for seed in range(25)]))
    assert np.median(errors) < 0.25
    assert np.percentile(errors, 95) < 0.8


def test_a_print_that_departs_by_two_per_cent_costs_little() -> None:
    errors = np.abs(np.concatenate([neutral_errors(seed, 0.02).ravel() for seed in range(25)]))
    assert np.median(errors) < 0.4
    assert np.percentile(errors, 95) < 1.2


def test_hidden_greys_lose_their_weight() -> None:
    rng = np.random.default_rng(5)
    scene = random_scene(rng, 0.0)
    signals = grey_signals(scene, rng, hidden_share=0.0)
    covered = rng.permutation(len(signals.reflectance))[:14]
    signals.signal[covered] *= 0.5
    fit = fit_greys(signals, field_for_page(PAGE))
    assert (fit.weights[covered] < 0.1).all()
    others = np.setdiff1d(np.arange(len(signals.reflectance)), covered)
    assert np.median(fit.weights[others]) > 0.5


@pytest.mark.parametrize("uneven", [1.0, 1.6])
def test_the_light_on_the_cells_is_told_by_the_paper_around_them(uneven: float) -> None:
    rng = np.random.default_rng(3)
    light = window_light(rng, uneven + 1e-9)
    scene = GreyScene(light, lambda x: x, np.ones(3), 0.7, 0.005, lambda r: 0 * r)
    fit = fit_greys(grey_signals(scene, rng, 0.0), field_for_page(PAGE))
    places = np.stack(np.meshgrid([60.0, 105, 150], [80.0, 150, 220]), axis=-1)
    ratio = fit.log_light_at(places)[..., 1] - np.log(light(places))
    assert np.ptp(ratio) < 0.012


def test_derivatives_are_those_of_the_residuals() -> None:
    from dyeshade.measure import greys
    from dyeshade.measure.grey_problem import GreyProblem

    rng = np.random.default_rng(1)
    signals = grey_signals(random_scene(rng), rng)
    field = field_for_page(PAGE)
    problem = GreyProblem(signals, field, -0.5)
    mean, _ = greys._prior(field, 0.02)
    vector = mean + rng.normal(0, 0.1, len(mean))
    _, jac, _ = problem.evaluate(vector)
    for k in range(len(vector)):
        step = np.zeros(len(vector))
        step[k] = 1e-5
        numeric = problem.evaluate(vector + step)[0] - problem.evaluate(vector - step)[0]
        np.testing.assert_allclose(jac[..., k], numeric / 2e-5, atol=1e-7)


def test_the_uncertainty_of_the_light_is_as_wide_as_its_error() -> None:
    """z-scores of log reflectance over many sheets have about unit spread, never much more."""
    scores = []
    for seed in range(40):
        rng = np.random.default_rng(100 + seed)
        scene = random_scene(rng, 0.03)
        fit = fit_greys(grey_signals(scene, rng, 0.03), field_for_page(PAGE))
        place = np.array([[rng.uniform(60, 150), rng.uniform(80, 220)]])
        true = np.array([0.2])
        signal = scene.signal(place, true)
        vector, width = fit.parameters(), fit.covariance
        slope = np.array(
            [
                (
                    np.log(fit.with_parameters(vector + step).reflectance(signal, place)[0, 1])
                    - np.log(fit.with_parameters(vector - step).reflectance(signal, place)[0, 1])
                )
                / 2e-4
                for step in 1e-4 * np.eye(len(vector))
            ]
        )
        spread = np.sqrt(slope @ width @ slope)
        scores.append(np.log(fit.reflectance(signal, place)[0, 1] / true[0]) / spread)
    assert 0.35 < np.sqrt(np.mean(np.square(scores))) < 1.3


def test_no_usable_grey_is_our_own_mistake() -> None:
    rng = np.random.default_rng(0)
    signals = grey_signals(random_scene(rng), rng)
    signals.usable[:] = False
    with pytest.raises(ValueError, match="no usable grey"):
        fit_greys(signals, field_for_page(PAGE))
