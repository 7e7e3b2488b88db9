"""Home fastness tests that are begun, and what they wait for."""

from datetime import timedelta

import pytest

from dyeshade.errors import DyeshadeError
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading
from dyeshade.library.treatments import treatments_of
from dyeshade.work.compare_choices import compare_choices
from dyeshade.work.home_tests import begin_home_test, readings_of_piece, running_light_tests
from tests.library.workshop import DAY, a_reading

BEGUN = DAY + timedelta(days=10)


def test_a_light_test_waits_for_a_photo_after_one_day_then_two_then_four(
    workshop: Library,
) -> None:
    assert running_light_tests(workshop) == ()
    begin_home_test(workshop, "W-001", "light", BEGUN)
    (one,) = running_light_tests(workshop)
    assert (one.piece, one.begun, one.due) == ("W-001", BEGUN, BEGUN + timedelta(days=1))
    piece = find_piece(workshop, "W-001").id
    for read, due in ((1, 2), (2, 4), (5, 8)):
        with workshop.edit("read") as edit:
            moment = BEGUN + timedelta(days=read)
            keep_reading(edit, a_reading(piece, sample=f"day {read}", read=moment))
        (one,) = running_light_tests(workshop)
        assert one.due == BEGUN + timedelta(days=due)


def test_the_piece_that_waits_longest_comes_first(workshop: Library) -> None:
    begin_home_test(workshop, "W-003", "light", BEGUN + timedelta(days=1))
    begin_home_test(workshop, "S-002", "light", BEGUN)
    assert [one.piece for one in running_light_tests(workshop)] == ["S-002", "W-003"]


def test_a_dip_is_written_down_with_its_ph(workshop: Library) -> None:
    begin_home_test(workshop, "W-001", "acid_dip", BEGUN, 4.2)
    piece = find_piece(workshop, "W-001").id
    last = treatments_of(workshop, piece)[-1]
    assert (last.kind, last.started) == ("dip", BEGUN)
    rows = workshop.rows("SELECT ph FROM ph_reading WHERE treatment_id = ?", (last.id,))
    assert [row[0] for row in rows] == [4.2]
    assert running_light_tests(workshop) == ()


def test_an_unknown_piece_is_told(workshop: Library) -> None:
    with pytest.raises(DyeshadeError, match="piece_unknown"):
        begin_home_test(workshop, "nobody", "light", BEGUN)
    with pytest.raises(DyeshadeError, match="piece_unknown"):
        readings_of_piece(workshop, "nobody")


def test_pieces_are_offered_by_their_codes_with_the_most_read_one_known(workshop: Library) -> None:
    piece = find_piece(workshop, "S-004").id
    with workshop.edit("read") as edit:
        keep_reading(edit, a_reading(piece, sample="again"))
    choices = compare_choices(workshop)
    codes = [one.code for one in choices.pieces]
    assert codes == sorted(codes)
    assert len(codes) == 8
    assert choices.most_read == "S-004"
    assert choices.names.dyestuffs == ("madder", "weld")
