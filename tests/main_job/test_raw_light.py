"""The main job on raw light: from a DNG of what measured cameras saw, to Lab.

Sources: as ``test_test_colours.py``. The DNG holds the camera's own matrix, as its maker would
state it, and light that no look and no tone curve has touched (``tests/render/raw_file.py``).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tests.main_job.at_the_ends import Outcome, outcomes, scene_with
from tests.main_job.at_the_ends import _trouble as trouble
from tests.main_job.test_test_colours import scene_of
from tests.studies.accuracy import JUDGING

CAMERAS = JUDGING[1::9][:2]
SMALL: dict[str, object] = {"file_format": "dng", "long_side_px": 1200}


@pytest.fixture(scope="module")
def seen(tmp_path_factory: pytest.TempPathFactory) -> list[Outcome]:
    folder = tmp_path_factory.mktemp("raw")
    found = []
    for number, camera in enumerate(CAMERAS):
        found += outcomes(scene_of(number, camera, "typical").with_(**SMALL), folder)[1]
    return found


def test_all_pieces_are_read(seen: list[Outcome]) -> None:
    assert len(seen) == 6 * len(CAMERAS)


def test_raw_light_is_read_as_a_perfect_reader_of_greys_would(seen: list[Outcome]) -> None:
    # Over many cameras: ``python -m tests.studies.accuracy``.
    error = np.array([one.error for one in seen])
    limit = np.array([one.limit for one in seen])
    assert error.mean() < 1.2 * limit.mean()


def test_the_truth_lies_within_what_is_stated_which_is_less_than_half_of_a_jpegs(
    seen: list[Outcome],
) -> None:
    held = [one.error <= one.u95 for one in seen]
    assert np.mean(held) >= 0.9
    # A JPEG's is 9 (README).
    assert np.median([one.u95 for one in seen]) < 4.5


def test_a_raw_photo_that_is_too_bright_says_so_and_a_white_that_is_off_does_not_matter(
    tmp_path: Path,
) -> None:
    # The white that a camera takes does nothing to raw light.
    off = scene_with(trouble(white_error=(1.3, 0.7), exposure=1.6), **SMALL)
    measured, found = outcomes(off, tmp_path)
    codes = {notice.code for notice in measured.notices}
    assert "paper_clipped" in codes
    assert "white_off" not in codes
    told = {"clipped_sample", "paper_clipped"}
    for one in found:
        assert one.error <= one.u95 or one.codes & told
