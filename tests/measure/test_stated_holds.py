"""What is stated holds nineteen times in twenty, within the exact bounds of so few samples.

Signals of photographs by cameras that no constant was fitted to, with every trouble of
``tests/studies/uncertainty_signals.py``. The study judges all ways of reading; these are a few
photographs read by the greys alone, by numbers of scenes that nothing else uses.

Source of the bounds: Clopper and Pearson 1934, *The use of confidence or fiducial limits*.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import beta

from tests.studies.accuracy import JUDGING
from tests.studies.uncertainty import jobs
from tests.studies.uncertainty_cases import Reading, case_by_greys

FIRST = 70000


@pytest.fixture(scope="module")
def read() -> list[Reading]:
    """Cloths of some cameras in all kinds of light, every second photo raw."""
    found: list[Reading] = []
    for number, job in enumerate(jobs(JUDGING, FIRST)[::5]):
        found += case_by_greys(*job, raw=number % 2 == 1)
    return found


def test_nineteen_in_twenty_is_within_the_exact_bounds(read: list[Reading]) -> None:
    # Cloths of one photo err together: three count as one.
    inside = sum(one.error <= one.u95 for one in read) / 3
    outside = len(read) / 3 - inside
    assert len(read) >= 240
    low, high = beta.ppf([0.025, 0.975], [inside, inside + 1], [outside + 1, outside])
    assert low <= 0.95 <= high


def test_it_is_no_wider_than_it_must(read: list[Reading]) -> None:
    error, u95 = np.array([[one.error, one.u95] for one in read]).T
    assert np.median(u95) <= 3.5 * np.median(error)
