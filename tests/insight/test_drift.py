"""How a piece has moved, on invented histories whose truth is known."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.errors import DyeshadeError
from dyeshade.insight.difference import Difference, Measured
from dyeshade.insight.drift import VERDICTS, drift_between, drift_of
from dyeshade.insight.unmoved import chance_of_none
from dyeshade.library.dye_records import Piece, Treatment
from dyeshade.library.history import History
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading, readings_of
from dyeshade.library.treatments import add_treatment
from tests.library.workshop import DAY, a_reading

NOBODY = History(Piece("W-900"), None, None, ())
PHOTO = np.array([[0.10, 0.02, 0.00], [0.02, 0.08, 0.01], [0.00, 0.01, 0.12]])
COMMON = np.diag([4.0, 4.0, 6.0])
SIX = np.triu_indices(3)


def read(number, lab, days):
    reading = a_reading(
        1,
        lab_l=float(lab[0]),
        lab_a=float(lab[1]),
        lab_b=float(lab[2]),
        covariance_photo=tuple(PHOTO[SIX]),
        covariance_common=tuple(COMMON[SIX]),
        read=DAY + timedelta(days=days),
        photo_id=number,
    )
    return Measured(replace(reading, id=number), "a camera", "JPEG", "S-1", "window")


def simulated(random, truth):
    """Readings of a history of shades: one camera, one sheet, the light of the day the same."""
    error = random.multivariate_normal(np.zeros(3), COMMON)
    return [
        read(number, lab + error + random.multivariate_normal(np.zeros(3), PHOTO), 30 * number)
        for number, lab in enumerate(truth, 1)
    ]


def photo_parts_alone(one, other):
    """A room that solves both photos together knows what is left: the photos' own parts."""
    covariance = one.reading.shade.covariance_photo + other.reading.shade.covariance_photo
    return Difference(one.lab, other.lab, covariance, "together")


WELD = np.array([75.0, -5.0, 60.0])


def lighter(step):
    return WELD + np.array([step, 0.0, 0.0])


@pytest.mark.parametrize("count", [2, 3, 6])
def test_a_piece_that_stays_is_said_to_move_5_times_in_100_however_often_it_is_read(count):
    random = np.random.default_rng(count)
    turns = 400
    moved = sum(
        chance_of_none(simulated(random, [WELD] * count), photo_parts_alone) < 0.05
        for _ in range(turns)
    )
    # Three standard deviations of 400 turns.
    assert moved / turns == pytest.approx(0.05, abs=0.033)


def test_a_move_of_two_is_seen_and_its_interval_holds():
    random = np.random.default_rng(4)
    seen = held = 0
    later = lighter(3.0)
    true = float(ciede2000(WELD, later))
    assert 2.0 < true < 2.3
    for _ in range(150):
        drift = drift_between(
            NOBODY, simulated(random, [WELD, later]), 1, difference_of=photo_parts_alone
        )
        size = drift.points[-1].since_base.size
        seen += drift.verdict == "moved"
        held += size.low <= true <= size.high
    assert seen / 150 >= 0.9
    assert held / 150 >= 0.95 - 0.053


def test_two_readings_are_judged_as_their_interval_judges_them():
    random = np.random.default_rng(5)
    for _ in range(60):
        later = WELD + random.normal(size=3) * 0.7
        drift = drift_between(NOBODY, simulated(random, [WELD, later]), 1)
        assert (drift.verdict == "moved") == drift.points[-1].since_base.size.significant


def verdict(*lightness):
    readings = [read(k, lighter(step), 30 * k) for k, step in enumerate(lightness, 1)]
    drift = drift_between(NOBODY, readings, 1, difference_of=photo_parts_alone)
    assert drift.verdict in {*VERDICTS, None}
    return drift.verdict


def test_what_is_said_of_a_history():
    assert verdict(0.0) is None
    assert verdict(0.0, 0.2) == "not_seen_to_move"
    assert verdict(0.0, 5.0) == "moved"
    assert verdict(0.0, 3.0, 6.0) == "still_moving"
    assert verdict(0.0, 5.0, 5.1) == "settled"


def test_settled_is_not_said_by_readings_that_could_not_tell():
    readings = [read(k, lighter(step), 30 * k) for k, step in enumerate((0, 20, 20), 1)]

    def unsure(one, other):
        return Difference(one.lab, other.lab, np.eye(3) * 4.0, "separate")

    assert drift_between(NOBODY, readings, 1, difference_of=unsure).verdict == "moved"


def test_a_history_that_could_not_show_a_small_change_says_how_large_it_would_have_to_be():
    readings = [replace(read(k, WELD, 30 * k), camera=f"camera {k}") for k in (1, 2)]
    drift = drift_between(NOBODY, readings, 1)
    assert drift.verdict == "not_seen_to_move"
    assert drift.smallest_shown > 5.0
    assert drift.points[-1].since_base.difference.apart == ("camera",)


def test_each_reading_is_set_beside_the_chosen_one_and_the_one_before():
    readings = [read(k, lighter(2.0 * k), 30 * k) for k in (1, 2, 3)]
    drift = drift_between(NOBODY, readings, 2, difference_of=photo_parts_alone)
    from_base = [point.since_base and point.since_base.parts.delta_l for point in drift.points]
    from_last = [point.since_last and point.since_last.parts.delta_l for point in drift.points]
    assert from_base == [pytest.approx(-2.0), None, pytest.approx(2.0)]
    assert from_last == [None, pytest.approx(2.0), pytest.approx(2.0)]
    assert drift.points[-1].since_base.ways == ("lighter",)


def test_the_grade_carries_the_interval():
    readings = [read(1, WELD, 0), read(2, lighter(4.0), 90)]
    grade = drift_between(NOBODY, readings, 1).points[-1].since_base.grade
    assert grade.half == "3"
    assert grade.worst < grade.grade < grade.best


def test_a_wet_reading_is_not_set_beside_dry_ones_unasked(workshop: Library):
    piece = find_piece(workshop, "W-001")
    with workshop.edit("more") as edit:
        dip = Treatment(piece.id, "wash", started=DAY + timedelta(days=10))
        add_treatment(edit, dip)
        wet = a_reading(piece.id, sample="wet", state="wet", read=DAY + timedelta(days=1))
        keep_reading(edit, wet)
        later = a_reading(piece.id, sample="B1", read=DAY + timedelta(days=40), lab_l=60.0)
        keep_reading(edit, later)
    drift = drift_of(workshop, "w-001")
    assert [point.reading.sample for point in drift.points] == ["A1", "B1"]
    assert [reading.sample for reading in drift.left_out] == ["wet"]
    assert [step.treatment.kind for step in drift.points[1].steps] == ["wash"]
    asked = drift_of(workshop, "W-001", wet_too=True)
    assert [point.reading.sample for point in asked.points] == ["wet", "A1", "B1"]
    wet_id = asked.points[0].reading.id
    assert [p.reading.sample for p in drift_of(workshop, "W-001", wet_id).points] == ["wet"]


def test_a_piece_without_readings_and_a_reading_of_another_piece_are_told(workshop: Library):
    with workshop.edit("new") as edit:
        edit.add(Piece("W-099"))
    with pytest.raises(DyeshadeError, match="piece_not_read"):
        drift_of(workshop, "W-099")
    other = readings_of(workshop, find_piece(workshop, "W-003").id)[0]
    with pytest.raises(DyeshadeError, match="reading_of_another"):
        drift_of(workshop, "W-001", other.id)
