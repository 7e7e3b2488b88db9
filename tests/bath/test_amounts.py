"""From the weight of fibre to what is weighed out, and back. Figures invented."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dyeshade.bath.amounts import (
    fibre_for_dyestuff,
    plan_bath,
    recipe_as_done,
    with_actual,
)
from dyeshade.bath.recipe import (
    DyestuffShare,
    PieceInPot,
    Recipe,
    SubstanceShare,
    fibre_grams,
    in_form,
    scale_pieces,
)
from dyeshade.bath.substances import COMMON_PRACTICE
from dyeshade.errors import DyeshadeError

WELD = DyestuffShare("weld", 2.0, "dried", drying_yield=0.2)
ALUM = SubstanceShare("alum", 0.15, "protein")
WOOL = (PieceInPot("wool", 100, "W-014"), PieceInPot("wool", 140, "W-015"))
GRAMS = st.floats(0.1, 1e5)


def by_name(plan):
    return {line.name: line for line in plan.lines}


def codes(plan):
    return [notice.code for notice in plan.notices]


def test_everything_follows_from_the_weight_of_fibre():
    tartar = SubstanceShare("cream of tartar", 0.06, "wool")
    plan = plan_bath(WOOL, Recipe((WELD,), (ALUM, tartar), 30))
    lines = by_name(plan)
    assert plan.fibre_g == 240
    assert lines["weld"].planned == 480
    assert lines["weld"].also == (("fresh", pytest.approx(2400)),)
    assert lines["alum"].planned == pytest.approx(36)
    assert lines["cream of tartar"].planned == pytest.approx(14.4)
    assert plan.water_l == pytest.approx(7.2)
    assert plan.notices == ()


def test_mordants_go_by_the_fibre_that_they_are_for():
    pieces = (PieceInPot("wool", 200), PieceInPot("linen", 50), PieceInPot("silk", 100))
    acetate = SubstanceShare("aluminium acetate", 0.08, "cellulose")
    tartar = SubstanceShare("cream of tartar", 0.06, "wool")
    iron = SubstanceShare("iron", 0.02)
    lines = by_name(plan_bath(pieces, Recipe((), (ALUM, acetate, tartar, iron))))
    assert lines["alum"].planned == pytest.approx(45)
    assert lines["aluminium acetate"].planned == pytest.approx(4)
    assert lines["cream of tartar"].planned == pytest.approx(12)
    assert lines["iron"].planned == pytest.approx(7)


def test_other_names_of_fibres_are_the_same_fibre():
    pieces = (PieceInPot("merino", 100), PieceInPot("flax", 100))
    lines = by_name(plan_bath(pieces, Recipe((), (SubstanceShare("alum", 0.1, "wool"),))))
    assert lines["alum"].fibre_g == 100


def test_a_mordant_for_fibre_that_is_not_in_the_pot_is_left_out_and_that_is_said():
    plan = plan_bath((PieceInPot("cotton", 100),), Recipe((), (ALUM,)))
    assert plan.lines == ()
    assert codes(plan) == ["no_such_fibre"]


# Ranges by common practice, no source.
@pytest.mark.parametrize(
    ("substance", "share", "fibre", "told"),
    [
        ("alum", 0.10, "wool", []),
        ("alum", 0.20, "silk", []),
        ("alum", 0.21, "silk", ["outside_range"]),
        ("potash alum", 0.09, "wool", ["outside_range"]),
        ("alum", 0.15, "cotton", ["not_usual_on_fibre"]),
        ("aluminium acetate", 0.05, "linen", []),
        ("aluminium acetate", 0.11, "cotton", ["outside_range"]),
        ("cream of tartar", 0.07, "wool", []),
        ("cream of tartar", 0.08, "wool", ["outside_range"]),
        ("cream of tartar", 0.06, "silk", ["not_usual_on_fibre"]),
        ("iron", 0.04, "cotton", []),
        ("iron", 0.05, "wool", ["outside_range"]),
        ("tannin", 0.5, "cotton", []),
        ("moon dust", 0.1, "wool", ["substance_unknown"]),
    ],
)
def test_outside_the_usual_range_stands_a_notice_and_no_refusal(substance, share, fibre, told):
    plan = plan_bath((PieceInPot(fibre, 50),), Recipe((), (SubstanceShare(substance, share),)))
    assert codes(plan) == told
    assert plan.lines[0].planned == pytest.approx(50 * share)


def test_a_dyer_sets_their_own_range():
    own = COMMON_PRACTICE.with_own("alum", "wool", 0.05, 0.09)
    recipe = Recipe((), (SubstanceShare("alum", 0.12),))
    plan = plan_bath((PieceInPot("wool", 100), PieceInPot("silk", 100)), recipe, own)
    assert [(n.code, n.facts["fibre"], n.facts["own"]) for n in plan.notices] == [
        ("outside_range", "wool", True)
    ]
    again = own.with_own("alum", "wool", 0.05, 0.15)
    assert len(again.ranges) == len(own.ranges)
    assert plan_bath(WOOL, recipe, again).notices == ()


def test_gallnuts_stay_gallnuts_though_they_count_as_tannin():
    plan = plan_bath(WOOL, Recipe((), (SubstanceShare("oak gall", 0.1),)))
    assert [line.name for line in plan.lines] == ["oak gall"]
    assert plan.lines[0].kind == "mordant"


def test_chrome_is_refused():
    with pytest.raises(DyeshadeError) as raised:
        plan_bath(WOOL, Recipe((), (SubstanceShare("Potassium  dichromate", 0.02),)))
    assert raised.value.code == "mordant_not_supported"


def test_an_empty_pot_is_refused():
    with pytest.raises(DyeshadeError) as raised:
        plan_bath((), Recipe((WELD,)))
    assert raised.value.code == "no_fibre"


@pytest.mark.parametrize(
    ("ratio", "liquor", "told"),
    [(2, 30, []), (20, 30, ["ratio_unusual"]), (2, 5, ["liquor_unusual"])],
)
def test_unusual_ratios_are_told(ratio, liquor, told):
    assert codes(plan_bath(WOOL, Recipe((DyestuffShare("madder", ratio),), (), liquor))) == told


@given(GRAMS, st.floats(0.01, 10), st.floats(0.05, 0.9), st.floats(0.05, 0.9))
def test_what_a_dyestuff_colours_is_what_it_was_weighed_for(grams, ratio, drying, extracting):
    dyestuff = DyestuffShare("madder", ratio, "dried", drying, extracting)
    line = plan_bath((PieceInPot("wool", grams),), Recipe((dyestuff,))).lines[0]
    assert fibre_for_dyestuff(line.planned, dyestuff) == pytest.approx(grams)
    for form, weight in line.also:
        assert fibre_for_dyestuff(weight, dyestuff, form) == pytest.approx(grams)


@given(GRAMS, GRAMS)
def test_a_recipe_fits_any_weight(grams, other):
    recipe = Recipe((WELD,), (ALUM,), 25)
    first = plan_bath((PieceInPot("wool", grams),), recipe)
    second = plan_bath(scale_pieces(first.pieces, other), recipe)
    assert fibre_grams(second.pieces) == pytest.approx(other)
    for one, two in zip(first.lines, second.lines, strict=True):
        assert two.planned / one.planned == pytest.approx(other / grams)


def test_a_yield_that_nobody_measured_is_not_made_up():
    with pytest.raises(DyeshadeError) as raised:
        in_form(100, DyestuffShare("weld", 2.0), "fresh")
    assert raised.value.facts == {"dyestuff": "weld", "given": "dried", "form": "fresh"}


def test_planned_stands_beside_actual():
    plan = plan_bath(WOOL, Recipe((WELD,), (ALUM,), 30))
    done = with_actual(with_actual(plan, 0, 456), 2, 8.0)
    weld, alum, water = done.lines
    assert (weld.planned, weld.actual, weld.counted) == (480, 456, 456)
    assert weld.off_by == pytest.approx(-0.05)
    assert (alum.actual, alum.off_by, alum.counted) == (None, None, pytest.approx(36))
    assert done.water_l == water.counted == 8.0
    recipe = recipe_as_done(done)
    assert recipe.dyestuffs[0].ratio == pytest.approx(1.9)
    (share,) = recipe.substances
    assert (share.substance, share.share, share.on) == ("alum", pytest.approx(0.15), "protein")
    assert recipe.liquor_ratio == pytest.approx(8000 / 240)
    assert plan.lines[0].actual is None


@pytest.mark.parametrize(
    "make",
    [
        lambda: PieceInPot("wool", -1),
        lambda: PieceInPot("wool", float("nan")),
        lambda: DyestuffShare("weld", 0),
        lambda: DyestuffShare("weld", 1, "powdered"),
        lambda: DyestuffShare("weld", 1, "dried", 1.5),
        lambda: SubstanceShare("alum", -0.1),
        lambda: Recipe(liquor_ratio=0),
        lambda: with_actual(plan_bath(WOOL, Recipe((WELD,))), 0, -1),
    ],
)
def test_values_that_nobody_checked_crash(make):
    with pytest.raises(ValueError, match=r"."):
        make()
