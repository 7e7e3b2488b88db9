"""Serial numbers are read aloud and typed; slips must show."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dyeshade.sheet.serial import ALPHABET, check_character, check_serial, new_serial

PLACES = (0, 1, 2, 3, 5, 6, 7, 8)
BODIES = st.text(alphabet=ALPHABET, min_size=7, max_size=7)


def whole(body: str) -> str:
    letters = body + check_character(body)
    return f"{letters[:4]}-{letters[4:]}"


def test_serials_are_short_and_hold_no_letters_that_look_alike():
    for _ in range(200):
        serial = new_serial()
        assert len(serial) == 9
        assert serial[4] == "-"
        assert not set(serial) & set("01OILUZ")
        assert check_serial(serial)


def test_two_sheets_have_two_serials():
    assert len({new_serial() for _ in range(500)}) == 500


@settings(max_examples=50, deadline=None)
@given(BODIES)
def test_every_body_has_one_last_character(body):
    last = [letter for letter in ALPHABET if check_serial(f"{body[:4]}-{body[4:]}{letter}")]
    assert last == [check_character(body)]


@settings(max_examples=50, deadline=None)
@given(BODIES)
def test_every_single_slip_shows(body):
    serial = whole(body)
    assert check_serial(serial)
    for place in PLACES:
        for wrong in set(ALPHABET) - {serial[place]}:
            assert not check_serial(serial[:place] + wrong + serial[place + 1 :])


@settings(max_examples=50, deadline=None)
@given(BODIES)
def test_every_swap_of_neighbours_shows_across_the_dash_and_at_the_end_too(body):
    serial = whole(body)
    for near, far in pairwise(PLACES):
        swapped = list(serial)
        swapped[near], swapped[far] = serial[far], serial[near]
        assert check_serial("".join(swapped)) == (serial[near] == serial[far])


@pytest.mark.parametrize(
    "text", ["", "-", "K7QF3M9G", "K7QF-3M9", "k7qf-3m9g", "K7QF-3M9G-", "ö" * 9]
)
def test_what_is_no_serial_is_told(text):
    assert not check_serial(text)


def test_letters_of_no_serial_are_refused():
    with pytest.raises(ValueError, match="substring"):
        check_character("K7QF3M0")
