"""The law of propagation against a Monte Carlo run of the same unknowns (JCGM 100 and 101)."""

from __future__ import annotations

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import xyz_to_lab
from dyeshade.measure import propagate
from dyeshade.measure.camera_colours import camera_covariance
from dyeshade.measure.grey_fit import GreyFit
from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.propagate import SampleMean, lab_of, shade_of
from dyeshade.measure.typical_colours import typical_colours
from tests.measure.grey_scenes import PAGE, grey_signals, random_scene
from tests.studies.colour_data import srgb_matrix

PLACE = np.array([100.0, 140.0])


def fitted(seed: int = 4) -> GreyFit:
    rng = np.random.default_rng(seed)
    return fit_greys(grey_signals(random_scene(rng), rng), field_for_page(PAGE))


def sample(reflectance: tuple[float, float, float], spread: float = 0.004) -> SampleMean:
    return SampleMean(np.array(reflectance), np.eye(3) * spread**2, PLACE)


def test_the_covariance_is_that_of_a_monte_carlo_run() -> None:
    """Source of the method: JCGM 101:2008, clause 7."""
    fit, mean = fitted(), sample((0.4, 0.2, 0.1))
    to_xyz = srgb_matrix()
    shade = shade_of(fit, mean, to_xyz, "window")
    excess = max(1.0, fit.scatter / propagate._EXPECTED_SCATTER) ** 2
    rng = np.random.default_rng(0)
    known, both = fit.covariance_known_print, fit.covariance
    draws = rng.multivariate_normal(fit.parameters(), excess * known + (both - known), 3000)
    tints = propagate.tint_covariance(np.eye(3), propagate.PAPER_TINT_SPREAD, "window")[::2, ::2]
    signal = propagate.effective_signal(fit, mean)
    own = typical_colours(to_xyz, True, "window")
    on_cloth = propagate.cloth_spread(shade.lab)
    labs = []
    for vector in draws:
        other = fit.with_parameters(vector)
        reflectance = other.reflectance(signal, PLACE)
        paper, height = rng.normal(0, [propagate.PAPER_SPREAD, on_cloth])
        red, blue = rng.multivariate_normal([0, 0], tints)
        tint = np.array([red, 0, blue])
        reflectance = reflectance * np.exp(paper + height + tint) + rng.normal(0, 0.004, 3)
        labs.append(lab_of(reflectance, other.white, to_xyz, own=own))
    measured = np.cov(np.array(labs).T)
    stated = shade.covariance - camera_covariance(shade.lab, "window", rendered=True)
    np.testing.assert_allclose(np.diag(measured), np.diag(stated), rtol=0.12)
    assert np.abs(measured - stated).max() < 0.12 * np.diag(stated).max()


def test_the_covariance_is_that_of_the_law_of_propagation() -> None:
    """All inputs moved a little, one after the other: JCGM 100:2008, 5.2.2, equation 13."""
    fit, mean = fitted(7), sample((0.12, 0.2, 0.35), spread=0.006)
    to_xyz = srgb_matrix()
    shade = shade_of(fit, mean, to_xyz, "led")
    signal = propagate.effective_signal(fit, mean)
    own = typical_colours(to_xyz, True, "led")
    count = len(fit.parameters())

    def lab(moved: np.ndarray) -> np.ndarray:
        other = fit.with_parameters(fit.parameters() + moved[:count])
        log, added = moved[count : count + 3], moved[count + 3 :]
        reflectance = other.reflectance(signal, PLACE) * np.exp(log) + added
        return lab_of(reflectance, other.white, to_xyz, own=own)

    steps = 1e-4 * np.eye(count + 6)
    slopes = np.array([(lab(step) - lab(-step)) / 2e-4 for step in steps]).T
    excess = max(1.0, fit.scatter / propagate._EXPECTED_SCATTER) ** 2
    inputs = np.zeros((count + 6, count + 6))
    known = fit.covariance_known_print
    inputs[:count, :count] = excess * known + (fit.covariance - known)
    level = propagate.PAPER_SPREAD**2 + propagate.cloth_spread(shade.lab) ** 2
    tint = propagate.tint_covariance(np.eye(3), propagate.PAPER_TINT_SPREAD, "led")
    inputs[count : count + 3, count : count + 3] = level + tint
    inputs[count + 3 :, count + 3 :] = mean.covariance
    stated = shade.covariance - camera_covariance(shade.lab, "led", rendered=True)
    expected = slopes @ inputs @ slopes.T
    np.testing.assert_allclose(stated, expected, atol=2e-3 * np.diag(expected).max())


def test_a_reading_of_a_neutral_is_that_of_its_reflectance() -> None:
    fit = fitted()
    shade = shade_of(fit, sample((0.2, 0.2, 0.2)), srgb_matrix(), "window")
    expected = xyz_to_lab(0.2 * np.array([0.95047, 1.0, 1.08883]))
    assert float(ciede2000(shade.lab, expected)) < 0.05


def test_both_parts_are_covariances_and_the_stated_limit_grows_with_texture() -> None:
    fit = fitted()
    plain = shade_of(fit, sample((0.4, 0.2, 0.1)), srgb_matrix(), "window")
    coarse = shade_of(fit, sample((0.4, 0.2, 0.1), spread=0.03), srgb_matrix(), "window")
    for part in (plain.covariance_photo, plain.covariance_common):
        np.testing.assert_allclose(part, part.T, atol=1e-12)
        assert np.linalg.eigvalsh(part).min() > 0
    assert coarse.u95 > 1.1 * plain.u95
    np.testing.assert_allclose(coarse.covariance_common, plain.covariance_common)


def test_a_neutral_is_surer_than_a_vivid_colour() -> None:
    fit = fitted()
    neutral = shade_of(fit, sample((0.2, 0.2, 0.2)), srgb_matrix(), "window")
    vivid = shade_of(fit, sample((0.5, 0.06, 0.05)), srgb_matrix(), "window")
    assert neutral.u95 < 0.6 * vivid.u95
