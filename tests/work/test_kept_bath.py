"""From an empty bath to finished pieces: kept, logged, dyed and out, with nothing typed twice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from dyeshade.bath.additives import SODA_ANHYDROUS, stock_solution
from dyeshade.bath.amounts_for_ph import amount_to_reach
from dyeshade.bath.reach.log import METER, STRIP, VOLUME
from dyeshade.errors import DyeshadeError
from dyeshade.library.bath_records import BathPlanRecord
from dyeshade.library.baths import remove_bath, whole_baths
from dyeshade.library.dye_records import Bath, Piece
from dyeshade.library.history import histories
from dyeshade.library.library import Library, create_library, open_library
from dyeshade.work.bath_typed import TypedPiece, line_key
from dyeshade.work.dye_day import begun, ended, finish_bath, timers
from dyeshade.work.dye_store import TypedLot, is_enough, lots_left, put_in_store, weigh_lot
from dyeshade.work.edit_bath import bath_form, put_bath_right
from dyeshade.work.keep_plan import keep_plan
from dyeshade.work.kept_plan import kept_plan, own_figures, parent_plan
from dyeshade.work.log_ph import log_addition, log_reading
from dyeshade.work.own_figures import (
    choose_spoons,
    choose_units,
    keep_range,
    keep_ten_spoons,
    keep_yield,
)
from dyeshade.work.plan_bath import OwnFigures, exhaust_typed, plan_typed
from dyeshade.work.reach_ph import log_of, way_to_ph
from tests.library.test_migrations import old_library
from tests.library.workshop import dump
from tests.work.bathing import WELD_BATH

NINE = datetime(2026, 5, 4, 9, 0)
SODA = stock_solution(SODA_ANHYDROUS)


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    with create_library(tmp_path / "shades") as made:
        yield made


def test_what_was_typed_comes_back_as_it_was_typed(library: Library, tmp_path: Path):
    taken = ((line_key("dyestuff", "weld", "dried"), "1 lb"),)
    typed = replace(WELD_BATH, taken=taken, alkalinity="15", degrees="german")
    bath = keep_plan(library, typed)
    library.close()
    with open_library(tmp_path / "shades") as again:
        assert kept_plan(again, bath).typed == typed


def test_keeping_again_changes_and_undo_takes_it_all_back(library: Library):
    empty = dump(library)
    bath = keep_plan(library, WELD_BATH)
    once = dump(library)
    assert keep_plan(library, WELD_BATH, bath) == bath
    assert dump(library) == once
    fewer = replace(WELD_BATH, pieces=WELD_BATH.pieces[:1], substances=(), steps=())
    keep_plan(library, fewer, bath)
    assert kept_plan(library, bath).typed.pieces == WELD_BATH.pieces[:1]
    library.undo()
    assert dump(library) == once
    while library.undo():
        pass
    assert dump(library) == empty


def test_what_is_wrong_is_refused_and_nothing_kept(library: Library):
    empty = dump(library)
    for wrong, code in (
        ({"pieces": (TypedPiece("", "wool", "12 lbb"),)}, "quantity_unit_unknown"),
        ({"target": "15"}, "ph_off_scale"),
        ({"exhaust_of": "bath-999", "left": "40 %"}, "bath_unknown"),
    ):
        with pytest.raises(DyeshadeError) as caught:
            keep_plan(library, replace(WELD_BATH, **wrong))
        assert caught.value.code == code
    assert dump(library) == empty
    keep_plan(library, WELD_BATH)
    with pytest.raises(DyeshadeError, match="bath_code_taken"):
        keep_plan(library, WELD_BATH)


def test_what_was_done_becomes_the_bath_conditions_of_the_pieces(library: Library):
    lot = put_in_store(library, TypedLot("weld", "dried", "1 kg"), NINE)
    weld = (line_key("dyestuff", "weld", "dried"), "480 g")
    typed = replace(WELD_BATH, taken=(weld,))
    bath = keep_plan(library, typed)
    log_reading(library, bath, 6.5, METER, now=NINE)
    log_addition(library, bath, SODA, 10.0, VOLUME, "stock solution of washing soda", NINE)
    log_reading(library, bath, 7.4, METER, now=NINE)
    log_reading(library, bath, 7.6, METER, now=NINE)
    typed = begun(typed, 0, NINE)
    typed = begun(typed, 1, NINE + timedelta(minutes=40))
    typed = begun(typed, 2, NINE + timedelta(minutes=105))
    typed = ended(typed, 2, NINE + timedelta(minutes=115))
    keep_plan(library, typed, bath)
    before = dump(library)
    out = finish_bath(library, bath, NINE + timedelta(hours=2), ph_end=7.2, ph_by="meter")
    assert out.pieces == ("W-001", "S-002")
    assert out.new == ("W-001", "S-002")
    kept = library.the(Bath, bath)
    assert (kept.started, kept.temperature_c, kept.minutes) == (NINE, 80.0, 65.0)
    whole = whole_baths(library, [bath])[bath]
    assert whole.ph("bath_start") == 7.5
    assert whole.ph("bath_end") == 7.2
    fibre = 120 + 4 * 28.349523125
    assert whole.dyestuffs[0][0].id == lot
    assert whole.dyestuffs[0][1] == pytest.approx(480 / fibre)
    for piece in library.where(Piece):
        history = histories(library, [piece.id])[piece.id]
        kinds = [step.treatment.kind for step in history.steps]
        assert kinds == ["mordant", "bath", "rinse"]
        assert history.mordant is not None
        assert (history.mordant.name, history.mordant.percent_wof) == ("alum", 15.0)
        assert history.steps[1].treatment.started == NINE
    assert [left.grams for left in lots_left(own_figures(library))] == [520.0]
    with pytest.raises(DyeshadeError, match="bath_finished"):
        finish_bath(library, bath)
    library.undo()
    assert dump(library) == before


def test_an_exhaust_bath_is_a_child_of_the_first(library: Library):
    first = keep_plan(library, WELD_BATH)
    typed = replace(
        exhaust_typed(WELD_BATH, "bath-002"), left="40 %", pieces=(TypedPiece("", "silk", "50 g"),)
    )
    second = keep_plan(library, typed)
    kept = library.the(Bath, second)
    assert (kept.parent_bath_id, kept.exhaust_number) == (first, 1)
    assert whole_baths(library, [second])[second].dyestuffs[0][0].name == "weld"
    back = kept_plan(library, second)
    planned = plan_typed(back.typed, OwnFigures(), back.parent)
    assert planned.exhaust is not None
    assert planned.exhaust.number == 1
    third = parent_plan(library, "bath-002")
    third_bath = plan_typed(replace(typed, code="bath-003"), OwnFigures(), third).exhaust
    assert third_bath is not None
    assert third_bath.number == 2
    assert third_bath.dyestuffs[0].left_g == pytest.approx(0.16 * third_bath.dyestuffs[0].first_g)


def test_a_log_survives_and_says_what_to_add_next(library: Library):
    bath = keep_plan(library, WELD_BATH)
    kept = kept_plan(library, bath)
    own = own_figures(library)
    assert way_to_ph(kept.typed, kept.room, own).step is None
    log_reading(library, bath, 5.2, STRIP, now=NINE)
    log_reading(library, bath, 7.1, STRIP, known_ph=7.0, now=NINE)
    log_addition(library, bath, SODA, 5.0, VOLUME, now=NINE)
    log_reading(library, bath, 6.0, STRIP, now=NINE)
    log_reading(library, bath, 6.1, STRIP, now=NINE)
    kept = kept_plan(library, bath)
    log = log_of(kept.typed, kept.room, own).log
    assert [len(step.readings) for step in log.steps] == [1, 2]
    assert len(log.checks) == 1
    way = way_to_ph(kept.typed, kept.room, own)
    assert way.step is not None
    assert way.step.advice.action == "add"
    assert way.plot is not None
    assert way.plot.to_come
    # Silk bears 9.5 below 40 degrees C, wool 10 (common practice, no source).
    assert way.bears.ceiling == 9.5


def test_a_ceiling_is_raised_only_once_the_dyer_means_it(library: Library):
    typed = replace(WELD_BATH, ceiling="10.5")
    assert log_of(typed, None, OwnFigures()).bears.ceiling == 9.5
    meant = log_of(replace(typed, raised=True), None, OwnFigures()).bears
    assert meant.ceiling == 10.5
    assert "ceiling_raised" in [notice.code for notice in meant.notices]
    assert log_of(replace(typed, ceiling="8.5"), None, OwnFigures()).bears.ceiling == 8.5


def test_alum_that_is_left_in_the_liquor_takes_its_soda(library: Library):
    typed = replace(WELD_BATH, alum="10 g")
    assert kept_plan(library, keep_plan(library, typed)).typed.alum == "10 g"
    plain, with_alum = (log_of(one, None, OwnFigures()).log.contents for one in (WELD_BATH, typed))
    soda = [amount_to_reach(one, SODA_ANHYDROUS, 8.0, 25.0).amount for one in (plain, with_alum)]
    # Aluminium of potassium alum, 474.39 g/mol (IUPAC atomic weights), settles as hydroxide: three
    # charges, one and a half soda of 105.99 g/mol at the least.
    assert soda[1] - soda[0] > 1.5 * 105.99 * 10 / 474.39
    with pytest.raises(DyeshadeError, match="quantity_negative"):
        log_of(replace(typed, alum="-1 g"), None, OwnFigures())


def test_without_water_or_target_it_is_said_so():
    for typed, code in (({"liquor": ""}, "no_water_known"), ({"target": ""}, "no_target")):
        with pytest.raises(DyeshadeError, match=code):
            log_of(replace(WELD_BATH, **typed), None, OwnFigures())


def test_a_bath_with_all_its_log_can_be_put_right_and_removed(library: Library):
    bath = keep_plan(library, WELD_BATH)
    log_addition(library, bath, SODA, 5.0, VOLUME, "soda stock", NINE)
    log_reading(library, bath, 6.0, STRIP, now=NINE)
    form = bath_form(library, bath)
    put_bath_right(library, bath, replace(form, note="windy"))
    assert len(log_of(WELD_BATH, kept_plan(library, bath).room, OwnFigures()).log.steps) == 2
    put_bath_right(library, bath, replace(form, additions=()))
    steps = log_of(WELD_BATH, kept_plan(library, bath).room, OwnFigures()).log.steps
    assert [len(step.readings) for step in steps] == [1]
    with library.edit("remove") as edit:
        remove_bath(edit, bath)
    assert library.where(Bath) == []


def test_a_timer_needs_no_running_program():
    typed = begun(WELD_BATH, 1, NINE)
    (timer,) = timers(typed.steps, NINE + timedelta(minutes=20))
    assert timer.left_s == 40 * 60
    assert timer.ends == NINE + timedelta(minutes=60)
    (late,) = timers(typed.steps, NINE + timedelta(minutes=75))
    assert late.left_s == -15 * 60
    assert timers(ended(typed, 1, NINE + timedelta(minutes=61)).steps, NINE) == ()


def test_is_there_enough_for_240_g_at_two_to_one(library: Library):
    lot = put_in_store(library, TypedLot("weld", "dried", "1 lb"), NINE)
    own = own_figures(library)
    assert not is_enough(own, "Weld", "dried", "two to one", "240 g").is_enough
    weigh_lot(library, lot, "600 g")
    assert is_enough(own_figures(library), "weld", "dried", "2:1", "240 g").is_enough
    keep_yield(library, "weld", "dried", "20 %")
    fresh = is_enough(own_figures(library), "weld", "fresh", "2:1", "240 g")
    assert fresh.left_g == pytest.approx(3000)
    with pytest.raises(DyeshadeError, match="not_in_store"):
        is_enough(own, "madder", "dried", "1:1", "240 g")


def test_own_figures_take_the_place_of_the_tables(library: Library):
    keep_ten_spoons(library, "potash alum", "43 g", "metric")
    keep_ten_spoons(library, "alum", "44 g", "metric")
    keep_range(library, "alum 8 to 12 % on wool")
    choose_units(library, "us")
    choose_spoons(library, "metric")
    own = own_figures(library)
    assert [one.usual for one in own.densities] == [pytest.approx(0.88)]
    assert own.units == "us"
    assert own.at_hand is not None
    assert own.at_hand.spoon == "metric tsp"
    worked = plan_typed(WELD_BATH, own).worked
    assert worked is not None
    assert "outside_range" in [notice.code for notice in worked.plan.notices]


def test_a_plan_put_right_counts_exhaust_baths_on(library: Library):
    keep_plan(library, WELD_BATH)
    second = keep_plan(library, replace(WELD_BATH, code="bath-002"))
    fibre = (TypedPiece("", "silk", "50 g"),)
    typed = replace(exhaust_typed(WELD_BATH, "bath-003"), left="40 %", pieces=fibre)
    third = keep_plan(library, replace(typed, exhaust_of="bath-002"))
    keep_plan(library, replace(typed, code="bath-002"), second)
    numbers = [library.the(Bath, one).exhaust_number for one in (second, third)]
    assert numbers == [1, 2]


def test_an_exhaust_number_without_a_bath_to_count_from_stays(library: Library):
    with library.edit("describe") as edit:
        bath = edit.add(Bath("bath-001", exhaust_number=2))
    keep_plan(library, WELD_BATH, bath)
    assert library.the(Bath, bath).exhaust_number == 2


@pytest.mark.parametrize("version", [2, 3, 4, 5])
def test_a_plan_that_an_earlier_program_kept_comes_back(tmp_path: Path, version: int):
    sample = Path(__file__).parents[1] / "library" / f"version_{version}.sql"
    with open_library(old_library(tmp_path / "old", sample)) as old:
        (plan,) = old.where(BathPlanRecord)
        typed = kept_plan(old, plan.bath_id).typed
    assert (typed.target, typed.alkalinity, typed.degrees) == ("8", "120", "mg_l")


def test_an_addition_taken_out_of_a_form_takes_no_other_s_readings_along(library: Library):
    bath = keep_plan(library, WELD_BATH)
    for amount, ph in ((5.0, 6.0), (3.0, 6.6), (2.0, 7.0)):
        log_addition(library, bath, SODA, amount, VOLUME, "soda stock", NINE)
        log_reading(library, bath, ph, STRIP, now=NINE)
    form = bath_form(library, bath)
    put_bath_right(library, bath, replace(form, additions=form.additions[1:]))
    steps = log_of(WELD_BATH, kept_plan(library, bath).room, OwnFigures()).log.steps
    told = [
        (step.addition and step.addition.amount, *(one.ph for one in step.readings))
        for step in steps
    ]
    assert told == [(None, 6.0), (3.0, 6.6), (2.0, 7.0)]


def test_an_addition_put_between_two_stands_between_them(library: Library):
    bath = keep_plan(library, WELD_BATH)
    for amount in (5.0, 2.0):
        log_addition(library, bath, SODA, amount, VOLUME, "soda stock", NINE)
    form = bath_form(library, bath)
    more = (form.additions[0], replace(form.additions[0], amount=3.0), form.additions[1])
    put_bath_right(library, bath, replace(form, additions=more))
    kept = whole_baths(library, [bath])[bath].additions
    assert [(one.amount, bool(one.additive)) for one in kept] == [
        (5.0, True),
        (3.0, False),
        (2.0, True),
    ]
