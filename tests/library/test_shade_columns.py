"""Readings as arrays say what the readings themselves say."""

import numpy as np

from dyeshade.library.library import Library
from dyeshade.library.readings import keep_reading
from dyeshade.library.shade_columns import columns_of, shade_columns
from dyeshade.library.shade_records import Reading
from tests.library.workshop import a_photo, a_reading


def test_columns_hold_what_the_readings_hold(workshop: Library):
    with workshop.edit("more") as edit:
        six = (0.5, 0.1, -0.2, 0.6, 0.05, 0.7)
        keep_reading(edit, a_reading(2, sample="B1", lab_a=11.5, covariance_common=six))
    ours, theirs = shade_columns(workshop), columns_of(workshop.where(Reading))
    for name in ("reading_ids", "piece_ids", "lab", "covariance"):
        assert np.array_equal(getattr(ours, name), getattr(theirs, name)), name
    assert np.array_equal(ours.covariance[-1], np.add(six, a_reading(2).covariance_photo))


def test_wet_readings_and_older_ways_of_measuring_are_left_out(workshop: Library):
    before = len(shade_columns(workshop).lab)
    with workshop.edit("more") as edit:
        keep_reading(edit, a_reading(2, sample="wet", state="wet"))
        photo = edit.add(a_photo())
        for version in (1, 2):
            new = a_reading(3, sample="C1", photo_id=photo, method_version=version)
            keep_reading(edit, new)
    assert len(shade_columns(workshop).lab) == before + 1
    assert len(shade_columns(workshop, wet_too=True).lab) == before + 2


def test_an_empty_library_has_empty_columns(library: Library):
    assert shade_columns(library).lab.shape == (0, 3)
    assert shade_columns(library).covariance.shape == (0, 6)
