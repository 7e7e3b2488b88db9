"""Home fastness tests on invented pieces."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from dyeshade.insight.difference import Measured
from dyeshade.insight.fastness import (
    BesideBlueWools,
    Pair,
    StepPairs,
    home_test,
    home_test_of,
)
from dyeshade.insight.fastness_days import next_photo_due
from dyeshade.insight.fastness_pairs import pairs_of_piece
from dyeshade.library.dye_records import Treatment
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.treatments import add_treatment
from tests.library.workshop import DAY, a_photo, a_reading

WELD = np.array([75.0, -5.0, 60.0])
WHITE = np.array([93.0, 0.0, 3.0])


def read(number, lab, photo, days=0):
    reading = a_reading(
        1,
        lab_l=float(lab[0]),
        lab_a=float(lab[1]),
        lab_b=float(lab[2]),
        covariance_common=(4.0, 0.0, 0.0, 4.0, 0.0, 4.0),
        photo_id=photo,
        read=DAY + timedelta(days=days),
    )
    return Measured(replace(reading, id=number), "a camera", "JPEG", "S-1", "window")


def pair(lab_from, lab_to, photo=1, later_photo=None, days=0):
    treated = read(2, lab_to, photo if later_photo is None else later_photo, days)
    return Pair(read(1, lab_from, photo, days), treated)


def lighter(step):
    return WELD + np.array([step, 0.0, 0.0])


def test_fading_is_graded_step_by_step_and_the_last_photo_counts():
    steps = [pair(WELD, lighter(size), photo, days=days) for photo, size, days in
             ((3, 4.9, 16), (1, 0.1, 1), (2, 2.5, 4))]  # fmt: skip
    found = home_test("light", steps)
    # ISO 105-A02: the steps of the grey scale are 0, 0.8, 1.7, 2.5, 3.4, 4.8, ...
    assert [step.change.grade.half for step in found.steps] == ["5", "3-4", "2-3"]
    assert found.result.read == DAY + timedelta(days=16)
    assert found.result.change.ways == ("lighter",)


def test_both_halves_in_one_photo_are_surer_than_two_photos():
    one, two = (
        home_test("light", [pair(WELD, lighter(1.5), later_photo=photo)]).result
        for photo in (None, 2)
    )
    assert (one.in_one_photo, two.in_one_photo) == (True, False)
    assert one.change.size.significant
    assert one.change.size.smallest_shown < two.change.size.smallest_shown


def test_a_stained_white_cloth_is_graded_by_its_own_scale():
    # ISO 105-A03: 4.3 is grade 4, 8.5 is grade 3, on neutral pairs.
    for step, half in ((0.1, "5"), (4.3, "4"), (8.5, "3")):
        stain = pair(WHITE, WHITE - np.array([step, 0.0, 0.0]))
        (found,) = home_test("rubbing", [pair(WELD, WELD)], [stain]).staining
        assert found.half == half
        assert found.worst <= found.grade <= found.best


def test_the_fastness_lies_between_the_blue_wools_that_fade_more_and_less():
    blue = np.array([45.0, 0.0, -30.0])
    fading = {1: 20.0, 2: 14.0, 3: 9.0, 4: 5.0, 5: 2.5, 6: 1.0}
    wools = {n: pair(blue, blue + np.array([size, 0.0, 0.0])) for n, size in fading.items()}
    found = home_test("light", [pair(WELD, lighter(7.0))], blue_wools=wools)
    assert found.beside_blue_wools == BesideBlueWools(3, 4, (3,))
    fleeting = home_test("light", [pair(WELD, lighter(30.0))], blue_wools=wools)
    assert fleeting.beside_blue_wools.faded_more is None
    assert fleeting.beside_blue_wools.faded_less == 1
    near = home_test("light", [pair(WELD, lighter(4.9))], blue_wools=wools)
    assert 4 in near.beside_blue_wools.alike


@pytest.mark.parametrize(
    "wrong",
    [("sun", 1, None), ("light", 0, None), ("wash", 1, 3), ("light", 1, 9)],
)
def test_what_is_no_home_test_is_a_mistake_of_ours(wrong):
    kind, count, wool = wrong
    wools = {wool: pair(WELD, WELD)} if wool else None
    with pytest.raises(ValueError, match=r"home test|blue wools"):
        home_test(kind, [pair(WELD, WELD)] * count, blue_wools=wools)


def test_the_next_photo_is_due_after_twice_the_days():
    due = [next_photo_due(DAY, DAY + timedelta(days=day)) for day in (0, 1, 3, 20, 300)]
    days = [None if one is None else (one - DAY).days for one in due]
    assert days == [1, 2, 4, 32, None]
    assert next_photo_due(DAY, None) == DAY + timedelta(days=1)
    # One from before the test stands for no day, not even for the first of rubbing.
    assert next_photo_due(DAY, DAY - timedelta(hours=2), (0,)) == DAY
    assert next_photo_due(DAY, DAY + timedelta(hours=2), (0,)) is None


def test_a_photo_taken_a_little_early_is_not_asked_for_again():
    """Begun at nine in the evening, photographed at breakfast; seven days instead of eight."""
    evening = DAY.replace(hour=21)
    morning = (evening + timedelta(days=1)).replace(hour=7)
    assert next_photo_due(evening, morning) == evening + timedelta(days=2)
    assert next_photo_due(evening, evening + timedelta(days=7)) == evening + timedelta(days=16)
    due = next_photo_due(evening, evening + timedelta(days=44), (30, 60))
    assert due == evening + timedelta(days=60)


def test_rubbing_may_be_graded_by_the_white_cloth_alone():
    stain = pair(WHITE, WHITE - np.array([8.5, 0.0, 0.0]))
    found = home_test_of("rubbing", [StepPairs(None, (stain,))], DAY)
    assert found.change is None
    assert [one.half for one in found.staining] == ["3"]


def test_halves_that_differed_before_the_test_are_told():
    first, later = pair(WELD, lighter(2.0), days=-1), pair(WELD, lighter(5.0), 2, days=8)
    found = home_test_of("light", [StepPairs(later), StepPairs(first)], DAY)
    assert found.uneven is not None
    assert found.uneven.size.value == pytest.approx(found.steps[0].change.size.value)
    alike = home_test_of("light", [StepPairs(pair(WELD, WELD, days=-1)), StepPairs(later)], DAY)
    assert alike.uneven is None


def test_each_photo_has_its_own_blue_wools_and_stains():
    blue = np.array([45.0, 0.0, -30.0])
    steps = [
        StepPairs(pair(WELD, lighter(size), k, days=days),
                  blue_wools={4: pair(blue, blue + np.array([wool, 0.0, 0.0]), k, days=days)})
        for k, (days, size, wool) in enumerate(((2, 1.0, 3.0), (8, 6.0, 3.5)), 1)
    ]  # fmt: skip
    found = home_test_of("light", steps, DAY)
    beside = [step.beside_blue_wools for step in found.steps]
    assert [(one.faded_more, one.faded_less) for one in beside] == [(4, None), (None, 4)]
    assert found.beside_blue_wools == beside[-1]


def test_tests_are_found_by_what_a_piece_went_through(workshop: Library):
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("tests") as edit:
        for days, kind, ph in ((5, "wash", None), (9, "dip", 3.0), (13, "dip", 9.5)):
            step = Treatment(piece, kind, started=DAY + timedelta(days=days))
            add_treatment(edit, step, ph=ph)
        for k, (days, state) in enumerate(((7, "after_wash"), (11, "dry"), (15, "dry"))):
            read = DAY + timedelta(days=days)
            keep_reading(edit, a_reading(piece, sample=f"B{k}", state=state, read=read))
        photo = edit.add(a_photo())
        for sample, state in (("left", "dry"), ("right", "after_light")):
            half = a_reading(
                piece,
                sample=sample,
                state=state,
                photo_id=photo,
                method_version=1,
                read=DAY + timedelta(days=40),
            )
            keep_reading(edit, half)
    found = pairs_of_piece(workshop, "w-001")
    samples = {
        kind: [(one.untreated.reading.sample, one.treated.reading.sample) for one in pairs]
        for kind, pairs in found.items()
    }
    assert samples == {
        "light": [("left", "right")],
        "wash": [("A1", "B0")],
        "acid_dip": [("B0", "B1")],
        "alkaline_dip": [("B1", "B2")],
    }


def test_a_whole_piece_in_the_light_is_set_beside_itself_before(workshop: Library):
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("light") as edit:
        light = Treatment(piece, "light", started=DAY + timedelta(days=5))
        add_treatment(edit, light)
        read_at = DAY + timedelta(days=40)
        keep_reading(edit, a_reading(piece, sample="B1", state="after_light", read=read_at))
    (found,) = pairs_of_piece(workshop, "W-001")["light"]
    assert (found.untreated.reading.sample, found.treated.reading.sample) == ("A1", "B1")


def test_two_treatments_between_two_readings_make_no_test(workshop: Library):
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("tests") as edit:
        for days, ph in ((5, None), (6, 3.0)):
            kind = "wash" if ph is None else "dip"
            add_treatment(edit, Treatment(piece, kind, started=DAY + timedelta(days=days)), ph=ph)
        later = a_reading(piece, sample="B1", read=DAY + timedelta(days=9))
        keep_reading(edit, later)
    assert pairs_of_piece(workshop, "W-001") == {}
