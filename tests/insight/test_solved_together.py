"""Readings whose photos' signals were kept are set beside each other by both photos."""

from datetime import timedelta

import numpy as np
import pytest

from dyeshade.insight.difference import measured, stored_difference
from dyeshade.insight.drift import drift_of
from dyeshade.insight.solved_together import SolvedTogether
from dyeshade.library.dye_records import Piece
from dyeshade.library.readings import keep_reading, readings_of
from dyeshade.library.shade_records import SheetReading
from dyeshade.measure.seen import signals_json
from dyeshade.work.piece_story import story_of
from dyeshade.work.turned import turned_reading
from tests.library.workshop import DAY, a_photo, a_reading
from tests.studies.drift import signal_pair


@pytest.fixture(scope="module")
def pair():
    return signal_pair(3, look=False, same_light=False)


def kept(library, pair, serials=("S-1", "S-1"), signals=True):
    """A piece in two photos of a sheet; gives its readings."""
    with library.edit("photos") as edit:
        piece = edit.add(Piece("W-500"))
        for number, (photo, serial) in enumerate(zip(pair, serials, strict=True), 1):
            photo_id = edit.add(a_photo(number))
            told = signals_json(photo.patches, dict(photo.samples)) if signals else None
            sheet = SheetReading(photo_id, 1, "window", "A4", "six", serial, 1, 0.004, told)
            keep_reading(
                edit,
                a_reading(
                    piece,
                    sample=sorted(photo.samples)[0],
                    read=DAY + timedelta(days=30 * number),
                    photo_id=photo_id,
                    sheet_reading_id=edit.add(sheet),
                    method_version=1,
                ),
            )
    return measured(library, readings_of(library, piece))


def test_one_sheet_by_one_camera_is_solved_together(library, pair):
    one, other = kept(library, pair)
    told = SolvedTogether(library)(one, other)
    assert told.how == "together"
    # What is stored of this reading's shade has no part in it.
    assert np.abs(told.lab_from - one.lab).max() > 1.0
    drift = drift_of(library, "W-500")
    assert drift.points[1].since_base.difference.how == "together"
    assert drift.verdict == "not_seen_to_move"
    (entry,) = [e for e in story_of(library, one.reading.id).entries if e.drift]
    assert entry.drift.change.size.value == pytest.approx(drift.points[1].since_base.size.value)
    turned = turned_reading(library, one.reading.id, other.reading.id)
    # The stored shades are alike here: all of the spread is the photos'.
    gap = told.lab_to - told.lab_from
    np.testing.assert_allclose(
        turned.shade.covariance_photo,
        one.reading.shade.covariance_photo / 2 + np.outer(gap, gap) / 12,
    )


@pytest.mark.parametrize(
    ("serials", "signals", "how"),
    [(("S-1", "S-2"), True, "separate"), (("S-1", "S-1"), False, "one_set_up")],
)
def test_else_the_stored_shades_tell(library, pair, serials, signals, how):
    one, other = kept(library, pair, serials, signals)
    told, stored = SolvedTogether(library)(one, other), stored_difference(one, other)
    assert told.how == stored.how == how
    np.testing.assert_array_equal(told.covariance, stored.covariance)
