"""Ratios to the weight of fibre."""

import pytest

from dyeshade.bath.ratios import parse_liquor_ratio, parse_ratio
from dyeshade.bath.showing import show_percent, show_ratio
from dyeshade.errors import DyeshadeError
from dyeshade.words.refusals import refusal_text


@pytest.mark.parametrize(
    ("text", "ratio"),
    [
        ("2:1", 2),
        ("two to one", 2),
        ("2 to 1", 2),
        ("1/2 : 1", 0.5),
        ("half to one", 0.5),
        ("1,5:1", 1.5),
        ("150 %", 1.5),
        ("150% wof", 1.5),
        ("15 percent of the fibre", 0.15),
        ("2", 2),
    ],
)
def test_ratios(text, ratio):
    assert parse_ratio(text) == pytest.approx(ratio)


def test_a_number_alone_is_what_the_field_is_for():
    assert parse_ratio("15", alone="percent") == pytest.approx(0.15)
    assert parse_ratio("15 %", alone="ratio") == pytest.approx(0.15)


def test_liquor_ratio_is_written_from_either_side():
    assert parse_liquor_ratio("30:1") == 30
    assert parse_liquor_ratio("1:30") == pytest.approx(30)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("2:0", "ratio_bad"),
        ("2:1:1", "ratio_bad"),
        (":1", "ratio_bad"),
        ("plenty", "ratio_bad"),
        ("0:1", "quantity_zero"),
        ("-2:1", "quantity_negative"),
        ("101:1", "ratio_too_large"),
        ("", "quantity_missing"),
    ],
)
def test_what_is_no_ratio_is_refused(text, code):
    with pytest.raises(DyeshadeError) as raised:
        parse_ratio(text)
    assert raised.value.code == code
    assert refusal_text(raised.value).endswith(".")


def test_ratios_are_shown_as_they_are_written():
    assert show_ratio(2.0) == "2:1"
    assert show_ratio(2 / 3) == "0.667:1"
    assert show_percent(0.15) == "15 %"
    assert show_percent(0.0125) == "1.25 %"
