"""The curve's integral in closed form is the integral."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from dyeshade.measure.tone_pieces import FIRST, KNOTS, LAST, Pieces, curve_places

REFERENCE = -0.7
SIGNALS = np.array([[FIRST - 1.0, -9.0, -4.2], [-0.7, -0.001, LAST + 0.1]])


def _slopes(seed: int) -> np.ndarray:
    slopes = np.random.default_rng(seed).normal(0.0, 0.4, len(KNOTS))
    # Two pieces that do not bend at all, and one that hardly does.
    slopes[4:6] = slopes[3]
    slopes[8] = slopes[7] + 1e-4
    return slopes


@pytest.mark.parametrize("seed", range(3))
def test_log_light_is_the_integral_of_the_slope(seed: int) -> None:
    slopes = _slopes(seed)
    curve = Pieces(slopes, curve_places(SIGNALS, REFERENCE))

    def slope_at(signal: float) -> float:
        return float(np.exp(np.interp(signal, KNOTS, slopes)))

    ends = np.clip(SIGNALS, FIRST, LAST)
    inner = KNOTS.tolist()
    for light, slope, end in zip(curve.log_light.flat, curve.slope.flat, ends.flat, strict=True):
        low, high = sorted((REFERENCE, float(end)))
        bends = [knot for knot in inner if low < knot < high]
        expected = quad(slope_at, low, high, points=bends or None, limit=200)[0]
        assert light == pytest.approx(np.sign(end - REFERENCE) * expected, abs=1e-9)
        assert slope == pytest.approx(slope_at(float(end)), rel=1e-10)


@pytest.mark.parametrize("seed", range(3))
def test_its_derivatives_are_what_small_steps_give(seed: int) -> None:
    slopes, places = _slopes(seed), curve_places(SIGNALS, REFERENCE)
    derivatives = Pieces(slopes, places).derivatives()
    for knot in range(len(KNOTS)):
        step = 1e-5 * np.eye(len(KNOTS))[knot]
        ahead, behind = (Pieces(slopes + way * step, places).log_light for way in (1, -1))
        assert derivatives[knot] == pytest.approx((ahead - behind) / 2e-5, abs=1e-8)
