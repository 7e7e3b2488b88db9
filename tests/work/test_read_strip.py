"""A strip beside its scale on the sheet: its pH from a photo, and into the log with the photo."""

from dataclasses import replace

import numpy as np
import pytest

from dyeshade.bath.reach.log import STRIP
from dyeshade.bath.strip_scale import StripPlace
from dyeshade.errors import DyeshadeError
from dyeshade.library.bath_room import bath_room
from dyeshade.library.library import Library
from dyeshade.library.photos import photo_path
from dyeshade.work.keep_plan import keep_plan
from dyeshade.work.log_ph import log_strip
from dyeshade.work.read_strip import (
    StripAsked,
    StripFound,
    block_corners,
    look_at_strip_here,
)
from dyeshade.work.strip_kinds import (
    ScaleColours,
    StripKind,
    keep_kind,
    kind_named,
    parse_rows,
    rows_text,
    strip_kinds,
)
from tests.bath.strip_photo import ROWS, kept_photo
from tests.work.bathing import WELD_BATH

PHOTO = kept_photo()
ASKED = StripAsked(str(PHOTO.path), "window", ROWS, PHOTO.scale)
STAINED = 6.1


@pytest.fixture(scope="module")
def found() -> StripFound:
    look = look_at_strip_here(replace(ASKED, pad=PHOTO.pads[7.4]))
    assert isinstance(look.found, StripFound)
    assert look.size_px == (1200, 1600)
    assert look.picture.startswith(b"\xff\xd8")
    return look.found


def codes(found: StripFound) -> set[str]:
    return {one.code for one in found.notices}


def test_the_pads_colour_tells_the_ph_that_it_was_made_with(found: StripFound):
    place = found.place
    assert place.on_scale
    assert place.ph == pytest.approx(7.4, abs=0.25)
    assert place.low <= 7.4 <= place.high
    assert place.high - place.low < 1.2
    assert found.here
    assert "strip_liquor_colours" in codes(found)
    assert not codes(found) & {"strip_stained", "strip_at_end", "strip_scale_elsewhere"}


def test_a_scale_that_was_marked_once_serves_other_photos_and_is_less_sure(found: StripFound):
    asked = replace(ASKED, scale=None, colours=found.colours, pad=PHOTO.pads[8.3])
    look = look_at_strip_here(asked)
    assert isinstance(look.found, StripFound)
    place = look.found.place
    assert place.low <= 8.3 <= place.high
    assert place.high - place.low > found.place.high - found.place.low
    assert "strip_scale_elsewhere" in codes(look.found)


def test_a_pad_that_a_deep_red_liquor_has_stained_is_off_the_scale():
    look = look_at_strip_here(replace(ASKED, pad=PHOTO.pads[STAINED]))
    assert isinstance(look.found, StripFound)
    assert not look.found.place.on_scale
    assert look.found.instrument is None
    assert "strip_stained" in codes(look.found)


def test_a_photo_that_is_none_is_refused(tmp_path):
    look = look_at_strip_here(StripAsked(str(tmp_path / "gone.jpg")))
    assert isinstance(look.found, DyeshadeError)
    assert look.found.code == "photo_missing"
    assert look.picture == b""


def test_it_goes_into_the_log_with_its_photo(library: Library, found: StripFound):
    bath = keep_plan(library, WELD_BATH)
    log_strip(library, bath, PHOTO.path, found)
    room = bath_room(library, bath)
    (reading,) = room.readings
    assert reading.instrument == STRIP.name
    assert reading.ph == round(found.place.ph, 2)
    assert reading.error == pytest.approx(found.place.off_by, abs=0.01)
    (photo,) = room.photos
    assert photo.id == reading.photo_id
    assert photo.name == "strip.jpg"
    assert photo_path(library, photo).read_bytes() == PHOTO.path.read_bytes()


@pytest.mark.parametrize(
    ("place", "error"),
    [
        (StripPlace(7.0, 6.7, 7.2, 1.0, True, False), 0.3),
        (StripPlace(7.0, 6.97, 7.02, 0.1, True, False), 0.1),
        (StripPlace(4.0, 4.0, 4.2, 0.1, True, True), 0.5),
        (StripPlace(7.0, 4.0, 9.2, 1.0, True, False), None),
        (StripPlace(7.0, 6.9, 7.2, 9.0, False, False), None),
    ],
)
def test_how_far_a_logged_ph_may_be_off(found: StripFound, place: StripPlace, error):
    instrument = replace(found, place=place).instrument
    assert (None if instrument is None else instrument.error) == error


def test_blocks_are_read_row_by_row_and_given_by_their_ph():
    square = np.array([[0.0, 0.0], [30.0, 0.0], [30.0, 20.0], [0.0, 20.0]])
    blocks = block_corners(square, ((9.0, 8.0, None), (5.0, 6.0, 7.0)))
    middles = {ph: corners.mean(axis=0).tolist() for ph, corners in blocks}
    assert list(middles) == [5, 6, 7, 8, 9]
    assert middles[9] == [5, 5]
    assert middles[8] == [15, 5]
    assert middles[7] == [25, 15]
    assert np.ptp(blocks[0][1], axis=0).tolist() == [5, 5]


def test_a_kind_is_kept_by_its_name(library: Library):
    colours = ScaleColours(
        np.arange(9.0).reshape(3, 3), np.eye(9), np.ones((3, 3, 3)), "a camera", "led"
    )
    keep_kind(library, StripKind("narrow  strips", ((4.5, 5.0), (5.5, None))))
    keep_kind(library, StripKind("wide strips", ((1.0, 7.0, 14.0),), colours))
    assert kind_named(library, "Narrow strips").rows == ((4.5, 5.0), (5.5, None))
    kept = kind_named(library, "wide strips").colours
    assert kept is not None
    np.testing.assert_array_equal(kept.lab, colours.lab)
    np.testing.assert_array_equal(kept.covariance, colours.covariance)
    np.testing.assert_array_equal(kept.camera_roots, colours.camera_roots)
    assert (kept.camera, kept.light) == ("a camera", "led")
    keep_kind(library, StripKind("WIDE STRIPS", ((1.0, 5.0, 9.0),)))
    assert sorted(one.name for one in strip_kinds(library)) == ["WIDE STRIPS", "narrow strips"]
    with pytest.raises(DyeshadeError) as caught:
        kind_named(library, "other")
    assert caught.value.code == "no_such_strip"
    with pytest.raises(DyeshadeError) as caught:
        keep_kind(library, StripKind("  ", ROWS))
    assert caught.value.code == "name_needed"


def test_rows_come_back_as_they_were_typed():
    for text in ("4.5 5 5.5", "1 2 3 4 / 5 6 7 -"):
        assert rows_text(parse_rows(text)) == text
    assert parse_rows("4,5 5 5,5; 6") == ((4.5, 5.0, 5.5, 6.0),)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "strip_scale_short"),
        ("5 6", "strip_scale_short"),
        ("5 6 7 7", "strip_scale_ph"),
        ("5 6 7 / 8 9", "strip_rows_uneven"),
        ("5 6 15", "ph_off_scale"),
        ("5 6 seven", "quantity_no_number"),
        ("-5 6 7", "quantity_negative"),
    ],
)
def test_what_is_no_scale_is_answered(text, code):
    with pytest.raises(DyeshadeError) as caught:
        parse_rows(text)
    assert caught.value.code == code
