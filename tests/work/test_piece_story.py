"""All there is to tell of a shade, and what it says of a piece that has moved."""

from datetime import timedelta

import numpy as np
import pytest

from dyeshade.insight.difference import measured, stored_difference
from dyeshade.library.edit import Edit
from dyeshade.library.library import Library
from dyeshade.library.pieces import find_piece
from dyeshade.library.readings import keep_reading, readings_of
from dyeshade.library.shade_records import SheetReading
from dyeshade.words.shade_lines import bath_lines, drift_words, piece_words, step_words
from dyeshade.work.piece_story import ShadeStory, story_of
from tests.library.workshop import DAY, a_photo, a_reading


def photographed(edit: Edit, piece: int, number: int, serial: str | None, **reading: object) -> int:
    photo = edit.add(a_photo(number))
    sheet = edit.add(SheetReading(photo, 1, "window", serial=serial))
    return keep_reading(
        edit, a_reading(piece, photo_id=photo, sheet_reading_id=sheet, method_version=1, **reading)
    )


def story_of_first(library: Library, code: str, since: int | None = None) -> ShadeStory:
    piece = find_piece(library, code).id
    return story_of(library, readings_of(library, piece)[0].id, since)


def test_treatments_and_readings_stand_in_their_order(workshop: Library) -> None:
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("wet") as edit:
        keep_reading(edit, a_reading(piece, state="wet", read=DAY + timedelta(hours=1)))
    story = story_of_first(workshop, "W-001")
    told = [
        entry.step.treatment.kind if entry.step else entry.reading.state  # type: ignore[union-attr]
        for entry in story.entries
    ]
    assert told == ["mordant", "bath", "wet", "rinse", "dry"]
    # A wet piece is dark for its water; nothing is compared with it.
    assert [entry.drift for entry in story.entries] == [None] * 5


def test_a_piece_that_moved_is_told_from_one_that_was_measured_twice(workshop: Library) -> None:
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("again") as edit:
        for days, b in ((10, 61.3), (20, 68.0)):
            read = DAY + timedelta(days=days)
            keep_reading(edit, a_reading(piece, sample="B1", read=read, lab_l=78.3, lab_b=b))
    first, second, third = (
        entry for entry in story_of_first(workshop, "W-001").entries if entry.reading
    )
    assert first.drift is None
    assert second.drift is not None
    assert third.drift is not None
    assert not second.drift.change.size.significant
    assert second.drift.change.ways == ()
    assert drift_words(second.drift).startswith("No move beyond the measuring since 3 March 2026")
    assert third.drift.change.ways == ("more_vivid",)
    assert "since 3 March 2026; more vivid" in drift_words(third.drift)


@pytest.mark.parametrize("serial", ["1234", "5678", None])
def test_only_one_sheet_by_one_camera_takes_out_what_stays(
    library: Library, serial: str | None
) -> None:
    from dyeshade.library.dye_records import Piece

    with library.edit("photos") as edit:
        piece = edit.add(Piece("W-001"))
        first = photographed(edit, piece, 1, "1234")
        later = DAY + timedelta(days=9)
        photographed(edit, piece, 2, serial, read=later, lab_l=70.0)
    drift = story_of(library, first).entries[-1].drift
    assert drift is not None
    # Nothing of the photos was kept but their shades.
    readings = measured(library, readings_of(library, piece))
    expected = stored_difference(readings[0], readings[1])
    np.testing.assert_array_equal(drift.change.difference.covariance, expected.covariance)
    assert expected.how == ("one_set_up" if serial == "1234" else "separate")
    assert drift.change.ways == ("darker",)


def test_another_reading_can_be_compared_with(workshop: Library) -> None:
    piece = find_piece(workshop, "W-001").id
    with workshop.edit("again") as edit:
        later = a_reading(piece, sample="B1", read=DAY + timedelta(days=9))
        since = keep_reading(edit, later)
        keep_reading(edit, a_reading(piece, sample="C1", read=DAY + timedelta(days=19)))
    entries = [e for e in story_of_first(workshop, "W-001", since).entries if e.reading]
    assert [entry.drift is not None for entry in entries] == [False, False, True]


def test_photo_bath_and_repeats_come_along(workshop: Library) -> None:
    with workshop.edit("photo") as edit:
        photographed(edit, find_piece(workshop, "W-008").id, 1, "1234")
    story = story_of_first(workshop, "W-008")
    # Of two readings on one day the first kept is the first.
    assert story.photo is None
    assert story.parent_bath == "bath-004"
    assert [one.history.piece.code for one, _ in story.repeats] == ["W-008"]
    assert story.repeats[0][1] == 0
    assert story.last_bath is not None
    assert story.last_bath.bath is not None
    lines = bath_lines(story.last_bath.bath, story.parent_bath)
    assert lines[0] == "bath-005, exhaust bath 1 of bath-004, 1 March 2026"
    assert "madder, root, dried, 50 % wof, from Hollow Weir garden" in lines
    assert "pH of the bath at end: 6.3 (meter)" in lines
    photographed_story = story_of(workshop, story.repeats[0][0].reading.id)
    assert photographed_story.photo is not None
    # Its file is not there: nobody kept one.
    assert photographed_story.photo_file is None


def test_pieces_and_treatments_in_words(workshop: Library) -> None:
    story = story_of_first(workshop, "W-001")
    assert piece_words(story.found.history) == "W-001: wool, 4-ply yarn, with alum 12 %, 50 g"
    steps = [step_words(step) for step in story.found.history.steps]
    assert steps == [
        "mordant, alum 12 % wof",
        "bath-001 (weld), 1 March 2026",
        "rinse, pH 7.2, 1 March 2026",
    ]
