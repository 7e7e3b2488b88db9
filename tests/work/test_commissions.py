"""A commission holds the agreed shade and its tolerance, and whether dyeings met it."""

from dataclasses import replace

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading, readings_of
from dyeshade.library.trial_records import Commission, CommissionResult
from dyeshade.work.commission_again import commission_again
from dyeshade.work.commission_changes import change_commission, drop_commission, drop_result
from dyeshade.work.commissions import (
    SaidCommission,
    agree,
    commission,
    commissions,
    made_like,
    state_of,
    verdict_of,
)
from dyeshade.work.judge_commission import judge
from tests.library.workshop import DAY


def shifted(library: Library, code: str, l_star: float) -> None:
    """One more reading of a piece, lighter by so much."""
    with library.edit("read") as edit:
        (old,) = readings_of(edit, find_piece(edit, code).id)
        later = replace(
            old, id=0, sample="later", lab_l=old.lab_l + l_star, read=DAY.replace(day=9)
        )
        keep_reading(edit, later)


def test_a_shade_is_agreed_on_by_numbers_or_by_a_piece(workshop: Library) -> None:
    typed = agree(workshop, SaidCommission("60, 20, 30", 3.0, for_whom="the mill shop"), DAY)
    assert (typed.commission.code, typed.commission.lab) == ("commission-001", (60, 20, 30))
    assert (typed.commission.covariance, typed.agreed_piece) == ((0.0,) * 6, "")
    of_piece = agree(workshop, SaidCommission("w-001", code="shawl"), DAY)
    assert (of_piece.agreed_piece, of_piece.commission.lab) == ("W-001", (78.0, -6.0, 61.0))
    assert of_piece.commission.covariance[0] == pytest.approx(0.08)
    assert {one.commission.code for one in commissions(workshop)} == {"commission-001", "shawl"}
    with pytest.raises(DyeshadeError) as caught:
        agree(workshop, SaidCommission("W-003", code="SHAWL"))
    assert caught.value.code == "commission_code_taken"


def test_the_result_tells_whether_the_shade_was_met(workshop: Library) -> None:
    agree(workshop, SaidCommission("W-001", 2.0, "shawl"), DAY)
    assert commission(workshop, "shawl").verdict is None
    near = judge(workshop, "shawl", "W-003")
    assert (near.verdict, near.result.delta_e, near.result.low) == ("met", 0.0, 0.0)
    shifted(workshop, "W-003", 9.0)
    far = judge(workshop, "Shawl", "w-003")
    # L* 78 to 87 is 6.1 by CIEDE2000, and each reading is sure to some tenths.
    assert far.verdict == "not_met"
    assert far.result.low > 2.0
    kept = commission(workshop, "shawl")
    assert [one.verdict for one in kept.judged] == ["met", "not_met"]
    assert kept.verdict == "not_met"


def test_another_reading_can_be_named_but_only_one_of_the_piece(workshop: Library) -> None:
    agree(workshop, SaidCommission("W-001", code="shawl"))
    (first,) = readings_of(workshop, find_piece(workshop, "W-003").id)
    shifted(workshop, "W-003", 9.0)
    assert judge(workshop, "shawl", "W-003", first.id).verdict == "met"
    with pytest.raises(DyeshadeError) as caught:
        judge(workshop, "shawl", "W-001", first.id)
    assert caught.value.code == "reading_of_another"


def test_agreeing_judging_and_dropping_are_steps_of_undo(workshop: Library) -> None:
    agree(workshop, SaidCommission("W-001", code="shawl"))
    judge(workshop, "shawl", "W-003")
    drop_commission(workshop, "shawl")
    assert workshop.where(Commission) == []
    workshop.undo()
    assert len(workshop.where(CommissionResult)) == 1
    workshop.undo()
    assert workshop.where(CommissionResult) == []
    workshop.undo()
    assert commissions(workshop) == ()


def test_a_commission_put_right_is_judged_by_its_new_terms(workshop: Library) -> None:
    agree(workshop, SaidCommission("W-001", 2.0, "shawl", what="shawl"), DAY)
    shifted(workshop, "W-003", 9.0)
    judge(workshop, "shawl", "W-003")
    kept = change_commission(workshop, "shawl", SaidCommission("", 8.0, weight_g=350.0))
    assert (kept.commission.what, kept.commission.weight_g) == ("", 350.0)
    assert (kept.agreed_piece, kept.verdict, state_of(kept)) == ("W-001", "met", "met")
    typed = change_commission(workshop, "shawl", SaidCommission("78,-6,61", 2.0, "wrap"))
    assert (typed.commission.code, typed.agreed_piece, typed.verdict) == ("wrap", "", "not_met")
    assert state_of(typed) == "open"
    workshop.undo()
    assert commission(workshop, "shawl").verdict == "met"
    agree(workshop, SaidCommission("60,20,30", code="wrap"))
    with pytest.raises(DyeshadeError) as caught:
        change_commission(workshop, "shawl", SaidCommission("", code="WRAP"))
    assert caught.value.code == "commission_code_taken"


def test_the_agreed_piece_tells_the_bath_or_else_the_nearest_dyeing(workshop: Library) -> None:
    (first,) = readings_of(workshop, find_piece(workshop, "W-001").id)
    assert made_like(agree(workshop, SaidCommission("W-001"))) == first.id
    typed = agree(workshop, SaidCommission("78,-6,61", code="typed"))
    assert made_like(typed) is None
    shifted(workshop, "W-003", 9.0)
    judge(workshop, "typed", "W-003")
    near = judge(workshop, "typed", "W-001")
    assert made_like(commission(workshop, "typed")) == first.id
    drop_result(workshop, near.result.id)
    left = commission(workshop, "typed")
    assert [one.piece for one in left.judged] == ["W-003"]
    assert made_like(left) == left.judged[0].reading.id


def test_an_agreed_shade_is_made_again_by_its_bath_or_the_nearest_one(workshop: Library) -> None:
    agree(workshop, SaidCommission("W-001", code="of a piece"))
    bath = commission_again(workshop, "of a piece", 350.0)
    assert (bath.piece, bath.delta_e) == ("W-001", None)
    # The bath held two pieces of equal weight; it is scaled as a whole.
    assert [one.weight for one in bath.typed.pieces] == ["175 g", "175 g"]
    agree(workshop, SaidCommission("79,-6,61", code="typed"))
    near = commission_again(workshop, "typed", 350.0)
    assert near.delta_e == pytest.approx(0.7, abs=0.1)
    assert [one.weight for one in near.typed.pieces] == ["350 g"]


@pytest.mark.parametrize(
    ("chance", "delta_e", "low", "verdict"),
    [
        (1, 0.5, 0, "met"),
        (0.95, 1.5, 0.9, "met"),
        (0.7, 1.5, 0, "likely_met"),
        (0.3, 2.6, 1.2, "likely_not_met"),
        (0.0, 6.0, 2.1, "not_met"),
        # The shade itself is so unsure that little is known of the difference.
        (0.02, 1.0, 0, "unsure"),
    ],
)
def test_met_is_said_where_it_is_nearly_sure_and_not_met_where_all_is_beyond(
    chance: float, delta_e: float, low: float, verdict: str
) -> None:
    result = CommissionResult(1, 1, delta_e, low, 13.0, chance, DAY)
    assert verdict_of(result, 2.0) == verdict
