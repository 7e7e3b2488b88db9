"""Home fastness tests: set up, photographed, due, ended; what they are to the piece's history."""

from dataclasses import replace
from datetime import timedelta

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.insight.drift import drift_of
from dyeshade.library.dye_records import Piece
from dyeshade.library.find import ShadeQuery, find_shades
from dyeshade.library.history import histories
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading, readings_of
from dyeshade.library.shade_records import KeptPhoto, Reading
from dyeshade.library.treatments import treatments_of
from dyeshade.library.trial_records import HomeTestPair, HomeTestRecord
from dyeshade.words.piece_sheet import piece_sheet
from dyeshade.work.ask_fastness import FastnessAsked, ask_fastness
from dyeshade.work.compare_choices import compare_choices
from dyeshade.work.home_test_photo import keep_test_readings, likely_spots, missing_parts
from dyeshade.work.home_tests import (
    Part,
    SaidTest,
    drop_test,
    end_test,
    go_on_with_test,
    parts_of,
    set_up_test,
)
from dyeshade.work.home_tests_kept import (
    all_tests,
    chosen_test,
    due_tests,
    kept_tests_of,
    readings_of_piece,
    running_tests,
)
from dyeshade.work.make_card import card_shades
from dyeshade.work.make_piece_sheet import piece_told
from dyeshade.work.pot_like import latest_shade
from dyeshade.work.said import Said
from dyeshade.work.wanted_colour import wanted_colour
from tests.library.workshop import DAY, a_photo, a_reading, dump

BEGUN = DAY + timedelta(days=10)
COVERED, BARE = Part("piece", False), Part("piece", True)


def photographed(library: Library, days: float, fade: float = 0.0, piece: str = "W-001") -> dict:
    """Two halves of a piece on one photo, some days after the beginning; by their parts."""
    number = len(library.where(KeptPhoto)) + 1
    piece_id = find_piece(library, piece).id
    with library.edit("photo") as edit:
        photo = edit.add(a_photo(number))
        ids = [
            keep_reading(
                edit,
                a_reading(
                    piece_id,
                    sample=name,
                    photo_id=photo,
                    method_version=1,
                    read=BEGUN + timedelta(days=days),
                    lab_b=61.0 - lost,
                ),
            )
            for name, lost in (("A", 0.0), ("B", fade))
        ]
    return dict(zip((COVERED, BARE), ids, strict=True))


def test_a_light_test_waits_for_a_photo_after_one_day_then_two_then_four(
    workshop: Library,
) -> None:
    assert running_tests(workshop) == ()
    test = set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    (one,) = running_tests(workshop)
    assert (one.piece, one.due, one.photos) == ("W-001", BEGUN + timedelta(days=1), ())
    for day, due in ((1, 2), (2, 4), (4, 8)):
        one = keep_test_readings(workshop, test.id, photographed(workshop, day))
        assert one.due == BEGUN + timedelta(days=due)
    assert len(one.photos) == 3
    assert due_tests(workshop, BEGUN + timedelta(days=7)) == ()
    assert due_tests(workshop, BEGUN + timedelta(days=7), ahead_days=1) != ()
    assert [t.piece for t in due_tests(workshop, BEGUN + timedelta(days=8))] == ["W-001"]


def test_a_dyer_may_name_the_days(workshop: Library) -> None:
    said = SaidTest("W-001", "light", BEGUN, photo_days=(7, 30))
    test = set_up_test(workshop, said)
    dues = [running_tests(workshop)[0].due]
    dues += [
        keep_test_readings(workshop, test.id, photographed(workshop, day)).due for day in (7, 31)
    ]
    assert dues == [BEGUN + timedelta(days=7), BEGUN + timedelta(days=30), None]


def test_what_is_due_first_comes_first_and_what_was_ended_last(workshop: Library) -> None:
    set_up_test(workshop, SaidTest("W-003", "light", BEGUN + timedelta(days=1)))
    ended = set_up_test(workshop, SaidTest("W-005", "rubbing", BEGUN, white=True))
    set_up_test(workshop, SaidTest("S-002", "light", BEGUN))
    end_test(workshop, ended.id, BEGUN + timedelta(days=3))
    assert [one.piece for one in running_tests(workshop)] == ["S-002", "W-003"]
    assert [(one.piece, one.running) for one in all_tests(workshop)] == [
        ("S-002", True),
        ("W-003", True),
        ("W-005", False),
    ]
    assert all_tests(workshop)[-1].due is None
    go_on_with_test(workshop, ended.id)
    assert len(running_tests(workshop)) == 3


def test_a_dip_is_written_down_with_its_ph_and_belongs_to_the_dipped_half_alone(
    workshop: Library,
) -> None:
    """The rest of the skein stays what it is: in no pH series does it become a dipped one."""
    piece = find_piece(workshop, "W-001").id
    said = SaidTest("W-001", "alkaline_dip", BEGUN, 10.2, "washing soda")
    test = set_up_test(workshop, said)
    last = treatments_of(workshop, piece)[-1]
    assert (last.kind, last.started, last.substance) == ("dip", BEGUN, "washing soda")
    rows = workshop.rows("SELECT ph FROM ph_reading WHERE treatment_id = ?", (last.id,))
    assert [row[0] for row in rows] == [10.2]
    keep_test_readings(workshop, test.id, photographed(workshop, 1, 8.0))
    photographed(workshop, 40)
    acted = {
        (one.reading.sample, one.reading.read): one.conditions.acted
        for one in find_shades(workshop, ShadeQuery())
        if one.reading.piece_id == piece
    }
    day_after, later = (BEGUN + timedelta(days=days) for days in (1, 40))
    assert acted.pop(("B", day_after)) == "after"
    assert set(acted.values()) == {"rinse"}
    assert ("A", later) in acted


def test_a_test_is_graded_photo_by_photo_and_names_no_certificate(workshop: Library) -> None:
    test = set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    with pytest.raises(DyeshadeError, match="home_test_not_photographed"):
        ask_fastness(workshop, "W-001", FastnessAsked())
    for day, fade in ((-1, 0.0), (2, 3.0), (8, 9.0)):
        keep_test_readings(workshop, test.id, photographed(workshop, day, fade))
    (found,) = ask_fastness(workshop, "W-001", FastnessAsked())
    assert found.begun == BEGUN
    assert [step.in_one_photo for step in found.steps] == [True] * 3
    grades = [step.change.grade.grade for step in found.steps]
    assert grades == sorted(grades, reverse=True)
    assert grades[0] == 5.0
    assert found.uneven is None
    # The photo from before the test shows two halves that were not treated yet.
    before = workshop.where(HomeTestPair)[0]
    assert workshop.the(Reading, before.treated_id).after_treatment_id is None


def test_a_faded_half_does_not_make_the_piece_a_moving_one(workshop: Library) -> None:
    test = set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    kept = photographed(workshop, 8, 12.0)
    assert drift_of(workshop, "W-001").verdict != "not_seen_to_move"
    keep_test_readings(workshop, test.id, kept)
    drift = drift_of(workshop, "W-001")
    assert kept[BARE] not in [point.reading.id for point in drift.points]
    assert drift.verdict == "not_seen_to_move"


def test_the_piece_is_wanted_again_as_its_kept_half_shows_it(workshop: Library) -> None:
    """Neither a wanted colour nor a pot card, nor the shade on a card, is that of a faded half."""
    test = set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    kept = photographed(workshop, 8, 12.0)
    # Kept with a second more, as the last of all.
    with workshop.edit("later") as edit:
        bare = edit.the(Reading, kept[BARE])
        edit.change(replace(bare, read=bare.read + timedelta(seconds=1)))
    assert latest_shade(workshop, "W-001").reading.id == kept[BARE]
    keep_test_readings(workshop, test.id, kept)
    assert latest_shade(workshop, "W-001").reading.id == kept[COVERED]
    assert wanted_colour(workshop, "W-001").lab[2] == 61.0
    (shade,) = card_shades(workshop, ShadeQuery(piece="W-001"), all_readings=False)
    assert shade.lab[2] == 61.0
    assert [(one.kind, one.days) for one in shade.fastness] == [("light", 8)]


def test_a_piece_s_sheet_tells_what_its_home_test_came_to(workshop: Library) -> None:
    test = set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    assert not any("test" in note for note in piece_sheet(piece_told(workshop, "W-001")).notes)
    keep_test_readings(workshop, test.id, photographed(workshop, 8, 9.0))
    note = piece_sheet(piece_told(workshop, "W-001")).notes[0]
    assert note.startswith("Home test, no certificate; light after 8 days: change ")


def test_the_same_photo_kept_again_takes_its_own_place(workshop: Library) -> None:
    test = set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    kept = photographed(workshop, 2, 4.0)
    keep_test_readings(workshop, test.id, kept)
    keep_test_readings(workshop, test.id, {COVERED: kept[BARE], BARE: kept[COVERED]})
    (pair,) = workshop.where(HomeTestPair)
    assert (pair.untreated_id, pair.treated_id) == (kept[BARE], kept[COVERED])


def test_a_half_that_turns_out_to_be_of_another_piece_counts_no_more(workshop: Library) -> None:
    test = set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    kept = photographed(workshop, 2, 4.0)
    keep_test_readings(workshop, test.id, kept)
    other = find_piece(workshop, "W-003").id
    with workshop.edit("put right") as edit:
        mine = edit.the(Reading, kept[BARE])
        edit.change(a_reading(other, id=mine.id, sample="B", read=mine.read))
    (one,) = kept_tests_of(workshop, "W-001")
    assert one.photos == ()
    with pytest.raises(DyeshadeError, match="home_test_not_photographed"):
        ask_fastness(workshop, "W-001", FastnessAsked())
    with pytest.raises(DyeshadeError, match="reading_of_another"):
        keep_test_readings(workshop, test.id, kept)


def test_a_test_that_is_removed_leaves_the_library_as_it_was(workshop: Library) -> None:
    before = dump(workshop)
    test = set_up_test(workshop, SaidTest("W-001", "acid_dip", BEGUN, 4.0))
    drop_test(workshop, test.id)
    assert dump(workshop) == before
    workshop.undo()
    assert workshop.where(HomeTestRecord) == [test]
    workshop.undo()
    assert dump(workshop) == before


def test_the_same_test_is_not_begun_twice(workshop: Library) -> None:
    set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    set_up_test(workshop, SaidTest("W-001", "wash", BEGUN))
    with pytest.raises(DyeshadeError) as caught:
        set_up_test(workshop, SaidTest("w-001", "light", BEGUN))
    assert caught.value.code == "home_test_running"
    with pytest.raises(DyeshadeError) as caught:
        chosen_test(workshop, "W-001")
    assert caught.value.facts["tests"] == ["light", "wash"]
    assert chosen_test(workshop, "W-001", "wash").kind == "wash"
    with pytest.raises(DyeshadeError, match="home_test_unknown"):
        chosen_test(workshop, "W-003")


def test_a_dip_has_a_ph_and_nothing_else_has(workshop: Library) -> None:
    for kind, ph in (("acid_dip", None), ("light", 7.0)):
        with pytest.raises(ValueError, match="pH"):
            set_up_test(workshop, SaidTest("W-001", kind, BEGUN, ph))


def test_a_photo_shows_halves_in_pairs() -> None:
    light = HomeTestRecord(1, "light", DAY, blue_wools=(3,))
    wool = [part for part in parts_of(light) if part.blue_wool]
    assert missing_parts(light, dict.fromkeys(parts_of(light), "A")) == ()
    assert missing_parts(light, {COVERED: "A", BARE: "B"}) == ()
    assert missing_parts(light, {COVERED: "A"}) == (BARE,)
    assert missing_parts(light, dict.fromkeys(wool, "C")) == (COVERED, BARE)
    rubbed = HomeTestRecord(1, "rubbing", DAY, white=True)
    white = [part for part in parts_of(rubbed) if part.what == "white"]
    assert missing_parts(rubbed, dict.fromkeys(white, "C")) == ()


def test_samples_are_guessed_by_what_is_said_of_them_then_by_the_last_photo(
    workshop: Library,
) -> None:
    test = set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    now = keep_test_readings(workshop, test.id, photographed(workshop, 2, 4.0))
    assert likely_spots(now, ["A", "B", "C"], {}) == {COVERED: "A", BARE: "B"}
    assert likely_spots(now, ["B", "C"], {}) == {BARE: "B"}
    told = {"C": Said("w-001", state="after_light"), "B": Said("W-001")}
    assert likely_spots(now, ["A", "B", "C"], told) == {COVERED: "B", BARE: "C"}


def test_an_unknown_piece_is_told(workshop: Library) -> None:
    with pytest.raises(DyeshadeError, match="piece_unknown"):
        set_up_test(workshop, SaidTest("nobody", "light", BEGUN))
    with pytest.raises(DyeshadeError, match="piece_unknown"):
        readings_of_piece(workshop, "nobody")


def test_pieces_are_offered_by_their_codes_with_the_most_read_one_known(workshop: Library) -> None:
    piece = find_piece(workshop, "S-004").id
    with workshop.edit("read") as edit:
        keep_reading(edit, a_reading(piece, sample="again"))
    choices = compare_choices(workshop)
    codes = [one.code for one in choices.pieces]
    assert codes == sorted(codes)
    assert len(codes) == len(workshop.where(Piece))
    assert len(readings_of(workshop, piece)) == 2
    assert choices.most_read == "S-004"
    assert choices.names.dyestuffs == ("madder", "weld")


def test_halves_that_were_told_the_wrong_way_round_are_put_right(workshop: Library) -> None:
    test = set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    halves = photographed(workshop, 2, fade=5.0)
    keep_test_readings(workshop, test.id, {COVERED: halves[BARE], BARE: halves[COVERED]})
    keep_test_readings(workshop, test.id, halves)
    history = histories(workshop, [test.piece_id])[test.piece_id]
    kinds = [
        [step.treatment.kind for step in history.before(workshop.the(Reading, halves[part]))]
        for part in (COVERED, BARE)
    ]
    assert ["light" in told for told in kinds] == [False, True]


def test_one_reading_is_not_two_halves(workshop: Library) -> None:
    test = set_up_test(workshop, SaidTest("W-001", "light", BEGUN))
    halves = photographed(workshop, 2)
    with pytest.raises(DyeshadeError) as caught:
        keep_test_readings(workshop, test.id, dict.fromkeys(halves, halves[BARE]))
    assert caught.value.code == "home_test_one_sample"


def test_a_reading_of_a_number_that_no_file_has_is_not_there(workshop: Library) -> None:
    with pytest.raises(DyeshadeError) as caught:
        ask_fastness(workshop, "W-001", FastnessAsked("light", [(1, 10**30)]))
    assert caught.value.code == "record_gone"
