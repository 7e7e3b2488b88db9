"""Where light is raw: the camera's own channels, a curve known to be straight, its own spread."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from dyeshade.cie.white import D65
from dyeshade.measure.cloth import find_cloth_in_region
from dyeshade.measure.finding_space import finding_space
from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.propagate import SampleMean, shade_of
from dyeshade.measure.typical_camera import divide_white
from dyeshade.photo.camera_space import raw_encoding
from dyeshade.photo.encoding import display_p3_encoding, srgb_encoding
from tests.measure.grey_scenes import PAGE, GreyScene, grey_signals, window_light
from tests.studies import colour_data

RAW = raw_encoding([], np.zeros(3))


def scene(seed: int) -> tuple[GreyScene, np.random.Generator]:
    """Greys in raw light: nothing bends it, and the channels differ as a sensor's do."""
    rng = np.random.default_rng(seed)
    channels = np.array([0.5, 1.0, 0.65])
    light = window_light(rng, 1.3)
    return GreyScene(light, lambda x: x, channels, 0.7, 0.004, lambda r: 0 * r), rng


def test_a_curve_that_is_known_to_be_straight_is_left_straight_and_makes_dark_pieces_surer() -> (
    None
):
    there, rng = scene(3)
    signals = grey_signals(there, rng, 0.0)
    straight = fit_greys(signals, field_for_page(PAGE), linear=True)
    free = fit_greys(signals, field_for_page(PAGE))
    assert np.abs(straight.curve.log_slopes).max() < 0.01
    mean = SampleMean(np.full(3, 0.03), np.eye(3) * 1e-8, np.array([100.0, 140.0]))
    of_raw, of_free = (
        shade_of(fit, mean, RAW.to_xyz, "window", rendered=False) for fit in (straight, free)
    )
    trace = [np.trace(shade.covariance_common) for shade in (of_raw, of_free)]
    assert trace[0] < trace[1]


def test_white_in_the_cameras_own_channels_is_the_mean_of_nothing_else() -> None:
    # Whatever colour the light has, what reflects all channels alike is neutral.
    xyz = divide_white(np.full(3, 0.4), np.array([0.3, 1.0, 2.0]), RAW.to_xyz, rendered=False)
    np.testing.assert_allclose(xyz, 0.4 * D65, atol=1e-6)


def test_a_camera_of_unknown_colours_is_less_sure() -> None:
    there, rng = scene(5)
    fit = fit_greys(grey_signals(there, rng, 0.0), field_for_page(PAGE), linear=True)
    mean = SampleMean(np.array([0.4, 0.2, 0.1]), np.eye(3) * 1e-8, np.array([100.0, 140.0]))
    known, unknown, rendered = (
        shade_of(fit, mean, RAW.to_xyz, "window", rendered=how, camera_known=whose).u95
        for how, whose in ((False, True), (False, False), (True, True))
    )
    assert 1.05 * known < unknown < rendered
    assert not RAW.own_known
    assert replace(RAW, assumed=False).own_known
    assert srgb_encoding(assumed=True).own_known


def test_cloth_is_looked_for_in_colours_as_cameras_show_them_and_its_mean_is_carried_back() -> None:
    rng = np.random.default_rng(2)
    camera = colour_data.own_matrix(sorted(colour_data.sensitivities())[3])
    raw = replace(RAW, to_xyz=colour_data.srgb_matrix() @ camera, assumed=False)
    picture = rng.uniform(0.1, 0.5, (40, 40, 3)).astype(np.float32)
    space = finding_space(raw)
    mask, none = np.ones((40, 40), bool), np.zeros((40, 40), bool)
    cloth = find_cloth_in_region(space.there(picture), mask, none)
    own = picture[cloth.mask].mean(axis=0)
    np.testing.assert_allclose(space.cloth_back(cloth).mean, own, atol=1e-5)
    np.testing.assert_allclose(space.back(cloth.mean), own, atol=1e-5)
    plain = finding_space(display_p3_encoding())
    assert plain.there(picture) is picture
    assert plain.cloth_back(cloth) is cloth
