"""Constants of prints are what their script makes of the stated range of prints."""

from __future__ import annotations

import numpy as np

from dyeshade.measure import greys, propagate
from tests.studies.print_constants import curve_steps, paper_tints, print_spread, tint_constants


def test_prints_depart_as_far_as_the_greys_are_free_to() -> None:
    np.testing.assert_allclose(greys._PRINT_SPREAD, print_spread(200), rtol=0.15)


def test_paper_is_tinted_as_far_as_is_stated() -> None:
    """200 of each kind: a spread is known to 5 %, three of them are 15 %."""
    still, times, together = tint_constants(paper_tints(200))
    np.testing.assert_allclose(propagate.PAPER_TINT_SPREAD, still, rtol=0.15)
    assert times.keys() == propagate._BRIGHTENED.keys()
    for kind, more in times.items():
        np.testing.assert_allclose(propagate._BRIGHTENED[kind], more, rtol=0.2)
    np.testing.assert_allclose(propagate._TINT, together, atol=0.08)


def test_real_tone_curves_bend_half_as_much_as_is_allowed() -> None:
    """Source: ``tests/data/real_charts.csv``; from knot to knot 0.3 or 0.5 are allowed."""
    steps = curve_steps()
    assert np.all(steps[:-5] < 0.6 * 0.3)
    assert np.all(steps[-5:] < 0.6 * 0.5)
