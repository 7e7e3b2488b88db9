"""Percentiles of a picture's values."""

from __future__ import annotations

import numpy as np
import pytest

from dyeshade.measure.percentiles import median, percentiles


@pytest.mark.parametrize("size", [1, 2, 3, 10, 1001])
def test_percentiles_lie_where_numpy_puts_them(size: int) -> None:
    values = np.random.default_rng(size).normal(size=size)
    found = percentiles(values, 0, 2, 16, 50, 84, 100)
    assert found == pytest.approx(np.percentile(values, [0, 2, 16, 50, 84, 100]))


@pytest.mark.parametrize("far", [1.0, 1e6])
def test_of_many_values_a_percentile_is_exactly_the_one_that_sorting_gives(far: float) -> None:
    # One value far out puts nearly all others into one bin; many are alike.
    values = np.random.default_rng(5).normal(size=30_001).round(3).astype(np.float32)
    values[7] *= far
    ranks = [0, 600, 4800, 15_000, 25_200, 30_000]
    found = percentiles(values, *(100.0 * rank / 30_000 for rank in ranks))
    assert found == pytest.approx(np.sort(values)[ranks].tolist(), rel=0, abs=1e-9)


def test_values_that_are_all_alike_and_endless_ones_are_sorted_all_the_same() -> None:
    assert median(np.full(5000, 0.25, np.float32)) == 0.25
    assert median(np.r_[np.full(3000, np.inf), np.arange(5000.0)]) == 3999.5


def test_the_middle_of_a_picture_is_that_of_all_its_values() -> None:
    picture = np.random.default_rng(1).normal(size=(30, 20)).astype(np.float32)
    assert median(picture) == pytest.approx(float(np.median(picture)))


def test_no_values_have_no_percentile() -> None:
    with pytest.raises(ValueError, match="no values"):
        median(np.zeros(0))
