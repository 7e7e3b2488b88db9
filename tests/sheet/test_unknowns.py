"""Derivatives of where a camera shows page points, by all of its unknowns."""

from __future__ import annotations

import numpy as np
import pytest

from dyeshade.sheet.camera import PageCamera, curl_basis, turn
from dyeshade.sheet.unknowns import Points, seen_by

PAGE = 210.0, 297.0


def test_they_are_what_small_steps_give() -> None:
    random = np.random.default_rng(3)
    start = PageCamera(
        frame_px=(3000, 4000),
        page_mm=PAGE,
        rotation=turn(np.array([0.2, 0.1, 1.0])),
        position_mm=np.array([3.0, 5.0, 400.0]),
        focal=1.3,
        centre=np.zeros(2),
        bend=(0.0, 0.0),
        stretch=0.0,
        curl_mm=np.zeros(12),
    )
    middles, ways = random.uniform(20, 180, (30, 2)), random.uniform(-6, 6, (30, 2))
    points = Points(middles - 0.5 * np.array(PAGE), ways, curl_basis(middles + ways, PAGE))
    numbers = np.concatenate(
        [
            [0.03, -0.02, 0.05, 0.02, 0.05, np.log(400 / 1.3)],
            [np.log(1.3), 0.02, -0.03, 0.05, 0.02, 0.003, 0.02],
            random.normal(0, 2, 12),
        ]
    )
    slopes = seen_by(numbers, points, start).slopes()
    for number in range(len(numbers)):
        step = 1e-6 * np.eye(len(numbers))[number]
        ahead, behind = (seen_by(numbers + way * step, points, start).shown for way in (1, -1))
        expected = (ahead - behind) / 2e-6
        largest = np.abs(expected).max()
        assert slopes[..., number] == pytest.approx(expected, abs=1e-5 * largest)
