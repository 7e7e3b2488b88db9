"""The readings nearest to a colour."""

from dataclasses import replace

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.interval import chance_below
from dyeshade.insight.nearest import nearest_shades
from dyeshade.library.shade_columns import ShadeColumns, columns_of
from tests.library.workshop import a_reading

WANTED = (60.0, 20.0, 30.0)


def many(count, pieces=None, seed=1):
    random = np.random.default_rng(seed)
    lab = random.uniform([15, -40, -40], [90, 50, 70], (count, 3))
    six = np.tile([0.5, 0.0, 0.1, 0.6, 0.0, 0.9], (count, 1))
    ids = np.arange(1, count + 1)
    return ShadeColumns(ids, ids if pieces is None else ids % pieces, lab, six)


@pytest.mark.parametrize("count", [0, 1, 7, 20_000])
def test_they_are_the_nearest_of_all_in_their_order(count):
    columns = many(count)
    found = nearest_shades(columns, WANTED, most=10)
    size = ciede2000(columns.lab, WANTED)
    expected = columns.reading_ids[np.argsort(size)][:10]
    assert [one.reading_id for one in found] == list(expected)
    assert [one.difference.value for one in found] == pytest.approx(np.sort(size)[:10])


def test_of_each_piece_only_its_nearest_reading_is_told_unless_all_are_wanted():
    columns = many(5000, pieces=12)
    once = nearest_shades(columns, WANTED, most=10)
    assert len({one.piece_id for one in once}) == 10
    size = ciede2000(columns.lab, WANTED)
    for one in once:
        own = size[columns.piece_ids == one.piece_id]
        assert one.difference.value == pytest.approx(own.min())
    whole = nearest_shades(columns, WANTED, most=10, one_a_piece=False)
    assert len({one.piece_id for one in whole}) < 10
    assert len(nearest_shades(columns, WANTED, most=50)) == 12


def test_the_chance_is_that_of_the_true_difference():
    reading = replace(a_reading(1, lab_l=61.0, lab_a=20.0, lab_b=32.0), id=4)
    (found,) = nearest_shades(columns_of([reading]), WANTED, np.eye(3) * 0.5, tolerance=2.0)
    covariance = reading.shade.covariance + np.eye(3) * 0.5
    exact = chance_below(WANTED, reading.lab, covariance, 2.0)
    assert found.chance == pytest.approx(exact, abs=0.01)
    assert found.difference.low < found.difference.value < found.difference.high


def test_a_sure_reading_is_within_the_tolerance_or_is_not():
    near, far = (replace(a_reading(k, lab_l=60.0 + k), id=k) for k in (1, 9))
    sharp = (1e-8, 0.0, 0.0, 1e-8, 0.0, 1e-8)
    sure = [replace(one, covariance_photo=sharp, covariance_common=sharp) for one in (near, far)]
    wanted = (60.0, -6.0, 61.0)
    found = nearest_shades(columns_of(sure), wanted, tolerance=2.0)
    assert [(one.reading_id, one.chance) for one in found] == [(1, 1.0), (9, 0.0)]


def test_of_two_equal_readings_the_newer_comes_first():
    equal = [replace(a_reading(k), id=k) for k in (3, 8, 5)]
    assert [one.reading_id for one in nearest_shades(columns_of(equal), WANTED)] == [8, 5, 3]
