"""Sums over blocks of a mask are those of its pixels, one by one."""

from __future__ import annotations

import numpy as np
import pytest

from dyeshade.measure.blocks import Masked


@pytest.mark.parametrize("side", [2.0, 4.5, 7.3, 200.0])
def test_a_block_holds_the_pixels_of_the_mask_that_lie_in_it(side: float) -> None:
    random = np.random.default_rng(3)
    picture = random.uniform(0.0, 1.2, (60, 83, 3)).astype(np.float32)
    mask = random.random((60, 83)) < 0.6
    mask[:7] = mask[:, 75:] = False
    picture[~mask] = np.nan
    rows, columns = np.nonzero(mask)
    down = ((rows - rows.min()) / side).astype(int)
    across = ((columns - columns.min()) / side).astype(int)
    which = down * (across.max() + 1) + across
    masked = Masked(picture, mask)
    sums, counts = masked.blocks(side)
    assert masked.count == mask.sum()
    assert counts == pytest.approx(np.bincount(which, minlength=len(counts)))
    for channel in range(3):
        one_by_one = np.bincount(which, picture[mask][:, channel], len(counts))
        assert sums[:, channel] == pytest.approx(one_by_one, rel=1e-5)
    assert masked.values() == pytest.approx(picture[mask])


def test_of_nothing_there_is_no_mean() -> None:
    with pytest.raises(ValueError, match="nothing"):
        Masked(np.ones((4, 5, 3), np.float32), np.zeros((4, 5), np.bool_))
