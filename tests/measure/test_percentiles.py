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


def test_the_middle_of_a_picture_is_that_of_all_its_values() -> None:
    picture = np.random.default_rng(1).normal(size=(30, 20)).astype(np.float32)
    assert median(picture) == pytest.approx(float(np.median(picture)))


def test_no_values_have_no_percentile() -> None:
    with pytest.raises(ValueError, match="no values"):
        median(np.zeros(0))
