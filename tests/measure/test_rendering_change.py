"""What a maker's rendering changes follows how both photos show a colour."""

import numpy as np
import pytest

from dyeshade.cie.rgb_spaces import DISPLAY_P3, SRGB
from dyeshade.measure.camera_colours import weighted_axes
from dyeshade.measure.difference import solve_alone, solve_pair
from dyeshade.measure.rendering_change import (
    _constants,
    camera_light_of,
    lights_of,
    rendering_part,
    waves,
)
from tests.studies.drift import LAYOUT, signal_pair, two_scenes
from tests.studies.photo_signals import bare_sheet
from tests.studies.rendering_change import (
    Shown,
    left_field,
    left_of,
    moves_of,
    photos_of_looks,
    weights_of,
)

COLOURS = np.array(
    [
        [50.0, 0.0, 0.0],
        [52.0, 58.0, 30.0],
        [55.0, 52.0, 34.0],
        [75.0, -5.0, 70.0],
        [35.0, 10.0, -45.0],
        [60.0, -35.0, 20.0],
        [12.0, 3.0, -4.0],
    ]
)


def white(level: float = 0.0, red: float = 0.0, blue: float = 0.0) -> np.ndarray:
    """Log light on all colours."""
    return np.tile([level + red, level, level + blue], (len(COLOURS), 1))


def spreads(part: np.ndarray) -> np.ndarray:
    """Root of each colour's summed variance, in steps that CIEDE2000 counts as one."""
    blocks = part.reshape(len(COLOURS), 3, len(COLOURS), 3)
    turned = [np.linalg.inv(weighted_axes(lab)) for lab in COLOURS]
    return np.array([np.sqrt(np.trace(t @ blocks[k, :, k] @ t.T)) for k, t in enumerate(turned)])


def test_it_is_a_covariance_however_the_photos_stand():
    rng = np.random.default_rng(4)
    for _ in range(20):
        lab = rng.uniform([2, -70, -70], [98, 70, 70], (30, 3))
        lights = rng.normal(0, 0.3, (2, 30, 3))
        part = rendering_part(lab, lights)
        np.testing.assert_allclose(part, part.T, atol=1e-9)
        assert np.linalg.eigvalsh(part).min() > -1e-6 * np.trace(part)


def test_little_is_left_where_both_photos_show_a_colour_alike():
    none = spreads(rendering_part(COLOURS, (white(), white())))
    off = spreads(rendering_part(COLOURS, (white(), white(red=0.25, blue=-0.2))))
    assert (none > 0.3).all()
    assert (none < 0.6).all()
    vivid = np.hypot(COLOURS[:, 1], COLOURS[:, 2]) > 20
    assert (off[vivid] > 2 * none[vivid]).all()


def test_it_grows_with_how_far_the_white_is_off():
    sizes = [
        spreads(rendering_part(COLOURS, (white(), white(red=step, blue=step / 2))))
        for step in (0.0, 0.05, 0.1, 0.2, 0.4)
    ]
    assert (np.diff(sizes, axis=0) > 0).all()


def test_another_exposure_changes_less_than_another_white_balance():
    lighter = spreads(rendering_part(COLOURS, (white(), white(level=0.25))))
    off = spreads(rendering_part(COLOURS, (white(), white(red=0.25))))
    assert (lighter[1:6] < off[1:6]).all()


def test_it_is_the_same_from_the_second_photo_to_the_first_and_for_any_exposure_of_both():
    one, other = white(red=0.1), white(level=-0.2, blue=0.15)
    part = rendering_part(COLOURS, (one, other))
    np.testing.assert_allclose(rendering_part(COLOURS, (other, one)), part, atol=1e-9)
    np.testing.assert_allclose(rendering_part(COLOURS, (one - 3, other - 3)), part, atol=1e-9)


def test_near_colours_change_together_and_far_ones_hardly():
    part = rendering_part(COLOURS, (white(), white(red=0.25, blue=-0.2)))
    size = np.sqrt(np.diag(part))
    alike = part / np.outer(size, size)
    assert np.diag(alike[3:6, 6:9]).min() > 0.8
    assert np.abs(np.diag(alike[3:6, 12:15])).max() < 0.8


def test_neutrals_are_not_bent():
    greys = np.array([[5.0, 0.0, 0.0], [50.0, 0.0, 0.0], [96.0, 0.0, 0.0]])
    np.testing.assert_allclose(waves(greys), 0.0, atol=1e-4)


def test_one_light_is_the_same_in_the_file_of_either_primaries():
    xyz = np.array([0.9, 1.0, 0.8]) * SRGB.to_xyz.sum(axis=1)
    told = [
        camera_light_of(np.log(np.linalg.solve(space.to_xyz, xyz)), space.to_xyz)
        for space in (SRGB, DISPLAY_P3)
    ]
    np.testing.assert_allclose(told[0], told[1], atol=1e-9)


def test_greys_tell_how_much_longer_one_photo_was_exposed():
    for number in (6003, 6005):
        scenes = two_scenes(number, True, True, bare_sheet(LAYOUT), ("white balance",))
        kept = signal_pair(number, True, True, held=("white balance",))
        one, other = (solve_alone(each, LAYOUT.paper_mm) for each in kept)
        pair = solve_pair(one, other)
        middle = np.array(LAYOUT.paper_mm) / 2
        places = [middle[None]] * 2
        first, second = lights_of(
            pair.greys.fits, places, [each.patches.to_xyz for each in pair.kept]
        )
        true = np.log(scenes[1].exposure / scenes[0].exposure)
        assert (second - first)[0, 1] == pytest.approx(true, abs=0.08)


@pytest.fixture(scope="module")
def cameras() -> list[Shown]:
    return photos_of_looks()


def test_the_constants_are_what_their_study_makes(cameras):
    moves = [moves_of(one, 3) for one in cameras]
    covariance, weights = weights_of(moves)
    root = np.array(_constants()["root"])
    assert np.trace(root @ root.T) == pytest.approx(np.trace(covariance), rel=5e-3)
    np.testing.assert_allclose(root @ root.T, covariance, atol=1e-2 * np.trace(covariance))
    field = left_field(moves, left_of(moves, weights))
    for name in ("neutral", "vivid"):
        np.testing.assert_allclose(_constants()["left"][name], field[name], rtol=1e-2, atol=1e-3)
