"""Photos taken together count as one occasion, and more of them show smaller changes."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from dyeshade.insight.difference import Difference, Measured
from dyeshade.insight.drift import drift_between
from dyeshade.insight.occasions import advice_of, between, occasions_of
from dyeshade.insight.unmoved import chance_of_none
from dyeshade.library.dye_records import Piece
from dyeshade.library.history import History
from dyeshade.words.drift_lines import drift_lines
from tests.library.workshop import DAY, a_reading

NOBODY = History(Piece("W-900"), None, None, ())
WELD = np.array([75.0, -5.0, 60.0])
GREY = np.array([50.0, 0.0, 0.0])


def read(number, day=0, minute=0, lab=WELD, camera="a camera", **told):
    when = DAY + timedelta(days=day, minutes=minute)
    reading = a_reading(
        1, lab_l=lab[0], lab_a=lab[1], lab_b=lab[2], read=when, photo_id=number, **told
    )
    return Measured(replace(reading, id=number), camera, "JPEG", "S-1", "window")


def unsure(size, lasting=0.0):
    """A difference whose error is alike in all directions."""

    def difference_of(one, other):
        covariance = size**2 * np.eye(3)
        return Difference(one.lab, other.lab, covariance, "together", (), lasting**2 * np.eye(3))

    return difference_of


def groups(*readings):
    return [[one.reading.id for one in each.readings] for each in occasions_of(NOBODY, readings)]


def test_photos_within_the_hour_are_one_occasion():
    assert groups(read(1), read(2, 0, 20), read(3, 0, 61), read(4, 9)) == [[1, 2], [3], [4]]


@pytest.mark.parametrize(
    "other", [{"camera": "another"}, {"camera": None}, {"state": "wet"}], ids=str
)
def test_another_camera_or_state_is_another_occasion(other):
    assert groups(read(1), read(2, 0, 5, **other)) == [[1], [2]]


def test_what_photos_have_for_themselves_averages_and_what_lasts_does_not():
    labs = [WELD + np.array([x, 0, 0]) for x in (0.0, 2.0, 5.0, 7.0)]
    readings = [read(1, lab=labs[0]), read(2, 0, 5, labs[1])]
    later = [read(3, 30, 0, labs[2]), read(4, 30, 5, labs[3])]
    one, other = occasions_of(NOBODY, readings + later)
    told = between(one, other, unsure(2.0, 1.0))
    np.testing.assert_allclose(told.lab_to - told.lab_from, [5.0, 0.0, 0.0])
    np.testing.assert_allclose(told.covariance, (4.0 / 2 + 1.0 / 2) * np.eye(3))


def test_two_spots_in_one_photo_are_no_second_photo():
    first = read(1)
    spot = replace(first, reading=replace(first.reading, id=2, sample="B2"))
    one, other = occasions_of(NOBODY, [first, spot, read(3, 30)])
    assert (len(one.readings), one.photos) == (2, 1)
    np.testing.assert_allclose(between(one, other, unsure(2.0)).covariance, 4.0 * np.eye(3))


def test_more_photos_are_advised_only_where_they_help():
    def advice(size, lasting, ours=1):
        covariance, stays = size**2 * np.eye(3), lasting**2 * np.eye(3)
        told = Difference(GREY, GREY, covariance, "together", (), stays)
        return advice_of(told, ours, 1)

    assert advice(0.3, 0.0) is None
    next_time, both = advice(0.55, 0.1), advice(0.8, 0.1)
    assert (next_time.each_time, both.each_time) == (False, True)
    assert max(next_time.shown, both.shown) <= 2.0
    assert advice(3.0, 2.9) is None


def test_the_advice_is_said_and_following_it_keeps_its_promise():
    readings = [read(1, lab=GREY), read(2, 30, lab=GREY)]
    found = drift_between(NOBODY, readings, 1, difference_of=unsure(0.8, 0.1))
    assert found.verdict == "not_seen_to_move"
    assert found.advice.each_time
    said = " ".join(drift_lines(found))
    assert "photos each time" in said
    assert f"would show a change of ΔE00 {found.advice.shown:.1f}" in said
    count = found.advice.photos
    more = [read(10 * day + k, 30 * day, k, GREY) for day in (1, 2) for k in range(count)]
    again = drift_between(NOBODY, more, 10, difference_of=unsure(0.8, 0.1))
    assert len(again.points) == 2
    assert again.smallest_shown == pytest.approx(found.advice.shown)


@pytest.mark.parametrize("place", [0, 1, 3])
def test_one_unsure_reading_does_not_hide_what_the_sure_ones_show(place):
    readings = [read(k, 30 * k, lab=WELD + np.array([2.0 * (k > 2), 0, 0])) for k in (1, 2, 3, 4)]
    vague = readings[place].reading.id

    def difference_of(one, other):
        size = sum(900.0 if each.reading.id == vague else 0.05 for each in (one, other))
        return Difference(one.lab, other.lab, size * np.eye(3), "together")

    assert chance_of_none(readings, difference_of) < 0.01
