"""A bath is worked out from what is typed; what cannot be read is named, and the rest counts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dyeshade.bath.store import BOUGHT, USED, Lot, Move
from dyeshade.bath.written import DyestuffAtHand
from dyeshade.errors import DyeshadeError
from dyeshade.work.bath_typed import (
    TypedBath,
    TypedDye,
    TypedHave,
    TypedPiece,
    TypedSubstance,
    line_key,
)
from dyeshade.work.known_pieces import other_degrees, other_share, other_volume
from dyeshade.work.plan_bath import OwnFigures, exhaust_typed, make_again, plan_typed
from dyeshade.work.reach_ph import ph_cautions
from tests.work.bathing import WELD_BATH


def codes(typed: TypedBath) -> dict[str, str]:
    return {wrong.field: wrong.error.code for wrong in plan_typed(typed).wrong}


def test_everything_follows_from_the_weight_of_the_pieces():
    worked = plan_typed(WELD_BATH).worked
    assert worked is not None
    # 4 oz are 113.398 g (NIST SP 811, exact).
    fibre = 120 + 4 * 28.349523125
    assert worked.plan.fibre_g == pytest.approx(fibre)
    planned = {line.name: line.planned for line in worked.plan.lines}
    assert planned["weld"] == pytest.approx(2 * fibre)
    assert planned["alum"] == pytest.approx(0.15 * fibre)
    assert planned["cream of tartar"] == pytest.approx(0.06 * 120)
    assert planned["water"] == pytest.approx(30 * fibre / 1000)


def test_nothing_typed_is_no_trouble():
    assert plan_typed(TypedBath("bath-001")).wrong == ()
    assert plan_typed(TypedBath("bath-001", pieces=(TypedPiece(),))).worked is None


@pytest.mark.parametrize(
    ("field", "typed", "code"),
    [
        ("pieces.0.weight", {"pieces": (TypedPiece("", "wool", "-5 g"),)}, "quantity_negative"),
        (
            "pieces.0.weight",
            {"pieces": (TypedPiece("", "wool", "9 lbb"),)},
            "quantity_unit_unknown",
        ),
        ("pieces.0.weight", {"pieces": (TypedPiece("W-1", "wool", ""),)}, "quantity_missing"),
        ("pieces.0.fibre", {"pieces": (TypedPiece("", "wol", "5 g"),)}, "fibre_unknown"),
        ("dyes.0.ratio", {"dyes": (TypedDye("weld", "dried", "0"),)}, "quantity_zero"),
        ("dyes.0.name", {"dyes": (TypedDye("", "dried", "2:1"),)}, "name_needed"),
        ("pot", {"pot": "0 L"}, "quantity_zero"),
        ("liquor", {"liquor": "much"}, "ratio_bad"),
        (
            "substances.0.name",
            {"substances": (TypedSubstance("chrome", "2 %"),)},
            "mordant_not_supported",
        ),
        ("code", {"code": " "}, "name_needed"),
        ("left", {"exhaust_of": "bath-000", "left": "140 %"}, "yield_above_all"),
    ],
)
def test_what_cannot_be_meant_is_named_by_its_field(field: str, typed: dict, code: str):
    assert codes(replace(WELD_BATH, **typed))[field] == code


def test_a_line_that_cannot_be_read_leaves_the_others_standing():
    dyes = (TypedDye("weld", "dried", "2:1"), TypedDye("madder", "dried", "half a"))
    worked = plan_typed(replace(WELD_BATH, dyes=dyes)).worked
    assert worked is not None
    assert [line.name for line in worked.plan.dyestuffs] == ["weld"]


def test_a_piece_that_is_too_large_for_the_pot_does_not_hide_the_amounts():
    planned = plan_typed(replace(WELD_BATH, pot="2 L"))
    assert planned.worked is not None
    assert {wrong.field: wrong.error.code for wrong in planned.wrong} == {
        "pot": "piece_too_large_for_pot"
    }


def test_what_was_truly_weighed_counts():
    taken = ((line_key("dyestuff", "weld", "dried"), "1 lb"), (line_key("water", "water"), "6 L"))
    planned = plan_typed(replace(WELD_BATH, taken=taken))
    assert planned.water_l == 6.0
    assert planned.worked is not None
    assert planned.worked.plan.dyestuffs[0].actual == pytest.approx(453.59237)


def test_made_again_for_another_weight_it_is_as_it_truly_was():
    taken = ((line_key("dyestuff", "weld", "dried"), "700 g"),)
    again = make_again(replace(WELD_BATH, taken=taken), "350 g", "bath-002")
    worked = plan_typed(again).worked
    assert worked is not None
    assert worked.plan.fibre_g == pytest.approx(350, rel=0.005)
    fibre = 120 + 4 * 28.349523125
    assert worked.plan.dyestuffs[0].share == pytest.approx(700 / fibre, rel=1e-3)
    assert again.substances == WELD_BATH.substances
    assert again.taken == ()
    assert [piece.code for piece in again.pieces] == ["", ""]
    with pytest.raises(DyeshadeError, match="quantity_zero"):
        make_again(WELD_BATH, "0 g", "bath-002")


def test_an_exhaust_bath_draws_on_what_the_first_one_left():
    first = plan_typed(WELD_BATH).worked
    assert first is not None
    typed = replace(
        exhaust_typed(WELD_BATH, "bath-002"), left="40 %", pieces=(TypedPiece("", "silk", "50 g"),)
    )
    exhaust = plan_typed(typed, OwnFigures(), first.plan).exhaust
    assert exhaust is not None
    assert exhaust.number == 1
    assert exhaust.dyestuffs[0].ratio_left == pytest.approx(0.4 * 2 * first.plan.fibre_g / 50)
    assert exhaust.to_add_l == 0


def test_yields_and_lots_of_the_store_are_asked():
    own = OwnFigures(
        yields=(DyestuffAtHand("weld", "dried", 0.2),),
        lots=(Lot(1, "Weld", "dried"),),
        moves=(Move(1, BOUGHT, 500.0), Move(1, USED, 100.0, "bath-000")),
    )
    worked = plan_typed(WELD_BATH, own).worked
    assert worked is not None
    assert dict(worked.plan.dyestuffs[0].also)["fresh"] == pytest.approx(
        5 * 2 * worked.plan.fibre_g
    )
    (enough,) = worked.enough
    assert enough.left_g == 400.0
    assert not enough.is_enough


@pytest.mark.parametrize(
    ("written", "alone", "told"),
    [
        ("2", "ratio", "= 2:1"),
        ("2", "percent", "= 2 %"),
        ("two", "ratio", "= 2:1"),
        ("2:1", "ratio", "200 %"),
        ("8 %", "ratio", "0.08:1"),
        ("15 %", "percent", ""),
        ("1:10", "percent", "10 %"),
        ("", "ratio", ""),
        ("-2", "ratio", ""),
        ("2:", "ratio", ""),
    ],
)
def test_what_a_ratio_is_taken_for_stands_beside_it(written: str, alone: str, told: str):
    assert other_share(written, alone) == told


def test_what_is_typed_in_one_system_is_told_in_the_other():
    # NIST SP 811: a US gallon is 3.785 411 784 L.
    assert other_volume("10 L") == "2.64 US gal"
    assert other_volume("3 US gal") == "11.4 L"
    assert other_degrees("100 °F") == "38 °C"
    assert other_degrees("38 °C") == "100 °F"
    for nothing in ("", "0 L", "12 lbb"):
        assert other_volume(nothing) == ""


def test_strong_vinegar_among_what_there_is_is_warned_of():
    def warned(percent: str) -> set[str]:
        typed = TypedBath(have=(TypedHave("vinegar", percent, "millilitre", "5 ml"),))
        return {one.code for one in ph_cautions(typed, plan_typed(typed))}

    assert warned("25") - warned("5") == {"caution_strong_vinegar"}
