"""What another light changes in a camera's colours: the file holds what its study makes."""

import numpy as np

from dyeshade.measure import colour_change
from tests.studies.colour_change import changes, in_steps, normal_spread, pairs_of_lights


def test_changes_of_daylight_are_those_of_the_measured_cameras():
    weights, colours, left = changes(pairs_of_lights("daylight"), colour_change.DEGREE)
    held = colour_change._constants()["light"]["daylight"]
    scatter = weights.T @ weights / len(weights)
    np.testing.assert_allclose(held["weights"], scatter, rtol=1e-3, atol=1e-6)
    # Spreads are searched for: near none, any small figure is as good.
    for name, spread in zip(
        ("neutral", "vivid"),
        normal_spread(*in_steps(colours.reshape(-1, 3), left.reshape(-1, 3))),
        strict=True,
    ):
        np.testing.assert_allclose(held[name], spread, rtol=1e-2, atol=1e-3)


def test_a_normal_spread_is_that_of_all_changes():
    rng = np.random.default_rng(5)
    # Many small and some large changes, as dyes have them: variance 0.9 * 0.5² + 0.1 * 2².
    size = np.where(rng.random(4000) < 0.1, 2.0, 0.5)
    neutral, _ = normal_spread(size[:, None] * rng.normal(size=(4000, 3)), np.zeros(4000))
    np.testing.assert_allclose(neutral, np.sqrt(0.9 * 0.25 + 0.1 * 4.0), rtol=0.1)
