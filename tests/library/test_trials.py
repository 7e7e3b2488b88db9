"""Commissions and home tests go along with the pieces and readings that they are about."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import Piece, Treatment
from dyeshade.library.history import histories
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece, merge_pieces, remove_piece
from dyeshade.library.readings import keep_reading, readings_of
from dyeshade.library.shade_records import Reading
from dyeshade.library.treatments import add_treatment, remove_treatment
from dyeshade.library.trial_records import (
    Commission,
    CommissionResult,
    HomeTestPair,
    HomeTestRecord,
)
from dyeshade.library.trials import (
    find_commission,
    next_commission_code,
    remove_reading,
    running_home_tests,
    treated_apart,
)
from tests.library.workshop import DAY, a_reading, dump


def both(library: Library) -> tuple[Reading, Reading]:
    """The readings of W-001 and W-003."""
    one, other = (find_piece(library, code).id for code in ("W-001", "W-003"))
    return readings_of(library, one)[0], readings_of(library, other)[0]


@pytest.fixture
def under_way(workshop: Library) -> Library:
    """A commission after W-001 that W-003 was judged by; W-003 lies in the light beside it."""
    agreed, dyed = both(workshop)
    with workshop.edit("demo") as edit:
        commission = edit.add(
            Commission("commission-001", 78.0, -6.0, 61.0, 2.0, DAY, reading_id=agreed.id)
        )
        edit.add(CommissionResult(commission, dyed.id, 1.2, 0.1, 2.3, 0.8, DAY))
        light = add_treatment(edit, Treatment(dyed.piece_id, "light", started=DAY))
        test = edit.add(HomeTestRecord(dyed.piece_id, "light", DAY, light, blue_wools=(3, 4)))
        edit.add(HomeTestPair(test, agreed.id, dyed.id))
    return workshop


def test_a_commission_keeps_its_shade_when_the_reading_goes(under_way: Library) -> None:
    agreed, _ = both(under_way)
    before = dump(under_way)
    with under_way.edit("remove") as edit:
        remove_reading(edit, agreed.id)
    (commission,) = under_way.where(Commission)
    assert (commission.reading_id, commission.lab) == (None, (78.0, -6.0, 61.0))
    assert under_way.where(HomeTestPair) == []
    assert len(under_way.where(CommissionResult)) == 1
    under_way.undo()
    assert dump(under_way) == before


def test_a_piece_that_is_removed_takes_its_home_test_and_results_along(under_way: Library) -> None:
    _, dyed = both(under_way)
    before = dump(under_way)
    with under_way.edit("remove") as edit:
        remove_piece(edit, dyed.piece_id)
    for kind in (HomeTestRecord, HomeTestPair, CommissionResult):
        assert under_way.where(kind) == []
    assert len(under_way.where(Commission)) == 1
    assert under_way.check() == ()
    under_way.undo()
    assert dump(under_way) == before


def test_a_home_test_goes_over_to_the_piece_that_two_become(under_way: Library) -> None:
    agreed, dyed = both(under_way)
    with under_way.edit("merge") as edit:
        merge_pieces(edit, agreed.piece_id, dyed.piece_id)
    (test,) = under_way.where(HomeTestRecord)
    assert test.piece_id == agreed.piece_id
    assert test.treatment_id is not None
    assert under_way.the(Treatment, test.treatment_id).piece_id == agreed.piece_id
    assert under_way.get(Piece, dyed.piece_id) is None


def test_a_home_test_outlives_its_treatment(under_way: Library) -> None:
    (test,) = under_way.where(HomeTestRecord)
    assert test.treatment_id is not None
    with under_way.edit("remove") as edit:
        remove_treatment(edit, test.treatment_id)
    assert under_way.where(HomeTestRecord)[0].treatment_id is None


def test_commissions_are_found_by_their_code(under_way: Library) -> None:
    assert find_commission(under_way, " COMMISSION-001").id == 1
    assert next_commission_code(under_way) == "commission-002"
    with pytest.raises(DyeshadeError) as caught:
        find_commission(under_way, "commission-009")
    assert (caught.value.code, caught.value.facts["commission"]) == (
        "commission_unknown",
        "commission-009",
    )


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Commission("c", 50, 0, 0, 0.0, DAY),
        lambda: Commission(" c", 50, 0, 0, 1.0, DAY),
        lambda: CommissionResult(1, 1, 1.0, 2.0, 1.0, 0.5, DAY),
        lambda: HomeTestRecord(1, "sun", DAY),
        lambda: HomeTestRecord(1, "wash", DAY, blue_wools=(3,)),
        lambda: HomeTestRecord(1, "light", DAY, blue_wools=(9,)),
        lambda: HomeTestPair(1, 2, 2),
        lambda: HomeTestPair(1, 2, 3, "blue_wool"),
        lambda: HomeTestPair(1, 2, 3, "piece", 4),
    ],
)
def test_records_that_nothing_should_have_made_are_refused(wrong: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"."):
        wrong()


def test_only_the_treated_half_comes_after_a_home_test(workshop: Library) -> None:
    """A washed half tells nothing of the rest of the skein, today's reading or next year's."""
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("wash a half") as edit:
        wash = add_treatment(edit, Treatment(piece, "wash", started=DAY))
        test = edit.add(HomeTestRecord(piece, "wash", DAY, wash))
        later = {"read": DAY + timedelta(days=9), "after_treatment_id": None}
        kept_back = keep_reading(edit, a_reading(piece, sample="left", **later))
        washed = keep_reading(
            edit, a_reading(piece, sample="right", **(later | {"after_treatment_id": wash}))
        )
        edit.add(HomeTestPair(test, kept_back, washed))
    history = histories(workshop, [piece])[piece]
    kinds = [
        [step.treatment.kind for step in history.before(workshop.the(Reading, one))]
        for one in (kept_back, washed)
    ]
    assert kinds == [["mordant", "bath", "rinse"], ["mordant", "bath", "rinse", "wash"]]
    assert treated_apart(workshop, piece) == {washed}
    assert [one.kind for one in running_home_tests(workshop)] == ["wash"]


def test_planned_days_are_whole_and_rise() -> None:
    assert HomeTestRecord(1, "light", DAY, photo_days=(0, 2, 9)).photo_days == (0, 2, 9)
    for days in ((2, 2), (3, 1), (-1,), (1.5,)):
        with pytest.raises(ValueError, match="days"):
            HomeTestRecord(1, "light", DAY, photo_days=days)


def test_a_reading_whose_treatment_goes_never_becomes_one_of_the_tested_half(
    workshop: Library,
) -> None:
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("test") as edit:
        light = add_treatment(edit, Treatment(piece, "light", started=DAY + timedelta(days=3)))
        edit.add(HomeTestRecord(piece, "light", DAY + timedelta(days=3), light))
        wash = add_treatment(edit, Treatment(piece, "wash", started=DAY + timedelta(days=4)))
        kept = keep_reading(
            edit,
            a_reading(piece, sample="B1", read=DAY + timedelta(days=5), after_treatment_id=wash),
        )
        remove_treatment(edit, wash)
    reading = workshop.the(Reading, kept)
    history = histories(workshop, [piece])[piece]
    assert [s.treatment.kind for s in history.before(reading)] == ["mordant", "bath", "rinse"]
