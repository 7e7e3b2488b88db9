"""What was kept of a photo comes back from the library as it was; colours of a sheet among it."""

import json
from pathlib import Path

import numpy as np
import pytest

from dyeshade.measure.colours_seen import with_colours
from dyeshade.measure.kept_signals import kept_signals
from dyeshade.measure.seen import ColoursSeen, PatchesSeen, SampleSeen, signals_json
from dyeshade.photo.read import read_photo
from dyeshade.sheet.find import find_sheet

ROOT = Path(__file__).parents[2]


def some_patches(colours=None):
    return PatchesSeen(
        ("grey-1", "grey-2"),
        "mm",
        np.array([[10.0, 20.0], [30.0, 40.0]]),
        np.array([0.88, 0.2]),
        np.array([[0.5, 0.6, 0.7], [np.nan] * 3]),
        np.full((2, 3), 0.01),
        np.array([900, 0]),
        np.array([0.0, 0.1]),
        np.array([0.01, np.nan]),
        np.eye(3),
        255,
        True,
        colours,
    )


SAMPLE = SampleSeen(np.array([1.0, 2.0]), np.full(3, 0.2), np.full(3, 0.3), np.eye(3) * 1e-6)


def test_signals_come_back_from_text():
    colours = ColoursSeen(
        ("colour-1",),
        np.array([[25.0, 57.0]]),
        np.array([[0.4, 0.1, 0.1]]),
        np.full((1, 3), 0.01),
        np.array([400]),
        np.array([0.0]),
        np.array([0.004]),
    )
    given = some_patches(colours)
    back = kept_signals(json.loads(json.dumps(signals_json(given, {"A1": SAMPLE}))))
    assert back is not None
    np.testing.assert_allclose(back.patches.mean, given.mean, rtol=1e-5)
    assert back.patches.names == given.names
    assert back.patches.pixels.dtype == np.int64
    assert back.patches.colours is not None
    np.testing.assert_allclose(back.patches.colours.mean, colours.mean, rtol=1e-5)
    np.testing.assert_allclose(back.samples["A1"].covariance, SAMPLE.covariance)


def test_signals_kept_before_colours_were_read_have_none():
    told = signals_json(some_patches(), {})
    del told["colours"]
    back = kept_signals(told)
    assert back is not None
    assert back.patches.colours is None


@pytest.mark.parametrize("told", [None, {}, {"format": 0}, [1, 2]])
def test_what_another_version_kept_is_not_guessed_at(told):
    assert kept_signals(told) is None


def test_a_sheet_without_colours_keeps_none():
    photo = read_photo(ROOT / "example_images" / "hw27_1_dry.jpg")
    place = find_sheet(photo.grey8())
    assert with_colours(some_patches(), photo, place).colours is None
