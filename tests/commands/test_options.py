"""Numbers on the command line, as people in several countries write them."""

import argparse

import pytest

from dyeshade.commands.options import finite, number, ph_read, span, whole


def test_a_decimal_comma_is_as_good_as_a_point() -> None:
    assert number(0)("12,5") == number(0)("12.5") == 12.5
    assert ph_read("bath_start=8,5") == ("bath_start", 8.5)
    assert span("8:9,5") == (8.0, 9.5)


@pytest.mark.parametrize(
    ("take", "text", "said"),
    [
        (finite, "1,000", "1.000 or 1000"),
        (finite, "1,2,3", "1,2,3 is not a number"),
        (finite, "nan", "nan is not a number"),
        (whole, "2.5", "2.5 is not a whole number"),
    ],
)
def test_what_cannot_be_meant_is_said(take, text, said) -> None:
    with pytest.raises(argparse.ArgumentTypeError, match=said):
        take(text)
