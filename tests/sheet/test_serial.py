"""Serial numbers are read aloud and typed; slips must show."""

import pytest

from dyeshade.sheet.serial import ALPHABET, check_serial, new_serial


def test_serials_are_short_and_hold_no_letters_that_look_alike():
    for _ in range(200):
        serial = new_serial()
        assert len(serial) == 9
        assert serial[4] == "-"
        assert not set(serial) & set("01OILUZ")
        assert check_serial(serial)


def test_two_sheets_have_two_serials():
    assert len({new_serial() for _ in range(500)}) == 500


def test_every_single_slip_shows():
    serial = "K7QF-3M9G"
    assert check_serial(serial)
    for place in (0, 1, 2, 3, 5, 6, 7, 8):
        for wrong in set(ALPHABET) - {serial[place]}:
            assert not check_serial(serial[:place] + wrong + serial[place + 1 :])


def test_every_swap_of_neighbours_within_the_body_shows():
    serial = new_serial()
    for place in (0, 1, 2, 5, 6):
        one, two = serial[place], serial[place + 1]
        if one != two:
            assert not check_serial(serial[:place] + two + one + serial[place + 2 :])


@pytest.mark.parametrize(
    "text", ["", "-", "K7QF3M9G", "K7QF-3M9", "k7qf-3m9g", "K7QF-3M9G-", "ö" * 9]
)
def test_what_is_no_serial_is_told(text):
    assert not check_serial(text)
