"""What another light changes in a camera's colours: the file holds what its study makes."""

import numpy as np
import pytest
from scipy.stats import chi2

from dyeshade.measure import colour_change
from dyeshade.measure.camera_colours import weighted_axes
from dyeshade.measure.conditioning import predict_last
from dyeshade.paper.patch_colours import PATCH_COLOURS
from tests.render.ink import Print, colour_spectrum
from tests.render.spectra import training_colours
from tests.studies import colour_data
from tests.studies.accuracy import JUDGING
from tests.studies.colour_change import (
    MODES,
    changes_of,
    fields_of,
    in_steps,
    normal_spread,
    told_by,
)


def test_fields_of_daylight_are_those_of_the_measured_cameras():
    fields, left = fields_of(changes_of("daylight"), MODES)
    held = colour_change._constants()["light"]["daylight"]
    for name, field, one in zip(("inks", "cloths"), fields, left, strict=True):
        assert held[name]["reach"] == field["reach"]
        lab = one.middle.mean(axis=0)
        np.testing.assert_allclose(held[name]["at"], lab, rtol=1e-3, atol=1e-3)
        # A change that goes together may as well be told with the other sign.
        ours, theirs = (colour_change.by_mode(lab, told) for told in (field, held[name]))
        ours, theirs = (np.einsum("nak,mbk->namb", one, one) for one in (ours, theirs))
        np.testing.assert_allclose(ours, theirs, atol=0.02)
        spreads = normal_spread(*in_steps(one.middle.reshape(-1, 3), one.change.reshape(-1, 3)))
        # Spreads are searched for: near none, any small figure is as good.
        for kind, spread in zip(("neutral", "vivid"), spreads, strict=True):
            np.testing.assert_allclose(held[name]["left"][kind], spread, rtol=1e-2, atol=2e-3)


@pytest.fixture(scope="module")
def other_cloths():
    """Inks and cloths by cameras that nothing was fitted to, in daylight of two colours.

    The cloths are spectra of RAW to ACES: none of those that the fields are made of.
    """
    inks = [colour_spectrum(np.array(one) / 255, Print()) for one in PATCH_COLOURS]
    cloths = np.asarray(training_colours())[::4]
    rng = np.random.default_rng(8)
    return [
        [
            told_by(camera, light, np.concatenate([inks, cloths]), rng)
            for light in ("D5000", "D6500")
        ]
        for camera in JUDGING[:6]
    ]


def test_inks_tell_of_cloths_of_other_spectra(other_cloths):
    count = len(PATCH_COLOURS)
    noise = 0.2
    rng = np.random.default_rng(9)
    before, after, misfit = [], [], []
    for first, second in other_cloths:
        middle, change = (first + second) / 2, second - first
        seen = change[:count] + rng.normal(0, noise, (count, 3))
        for k in range(count, len(first)):
            lab = np.vstack([middle[:count], middle[k]])
            part = colour_change.light_part(lab, "window")
            told = predict_last(seen, noise**2 * np.eye(len(part)), [part])
            missing = change[k] - told.mean
            steps = np.linalg.solve(weighted_axes(middle[k]), np.array([change[k], missing]).T)
            before.append(np.linalg.norm(steps[:, 0]))
            after.append(np.linalg.norm(steps[:, 1]))
            misfit.append(missing @ np.linalg.solve(told.covariance, missing))
    assert np.median(after) < 0.5 * np.median(before)
    assert np.quantile(after, 0.95) < 0.7 * np.quantile(before, 0.95)
    # Of normal errors 5 in 100 are further off; these spectra are wilder than those of the fields.
    assert np.mean(np.array(misfit) > chi2.ppf(0.95, 3)) < 0.15


def test_what_a_cloth_has_for_itself_is_no_more_than_lights_change():
    cloths = colour_data.lab_of(colour_data.xyz_of(colour_data.test_colours()))
    for light in ("window", "led"):
        for lab in cloths[::9]:
            whole = colour_change.light_part(lab[None], light)
            own = colour_change.own_spectrum(lab, light)
            assert np.linalg.eigvalsh(whole - own).min() > -1e-9


def test_a_normal_spread_is_that_of_all_changes():
    rng = np.random.default_rng(5)
    # Many small and some large changes, as dyes have them: variance 0.9 * 0.5² + 0.1 * 2².
    size = np.where(rng.random(4000) < 0.1, 2.0, 0.5)
    neutral, _ = normal_spread(size[:, None] * rng.normal(size=(4000, 3)), np.zeros(4000))
    np.testing.assert_allclose(neutral, np.sqrt(0.9 * 0.25 + 0.1 * 4.0), rtol=0.1)
