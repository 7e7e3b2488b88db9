"""What people type: decimal commas are taken, and what cannot be meant is answered."""

from datetime import date, datetime

import pytest

from dyeshade.words.typed import (
    MistypedError,
    moment_typed,
    number_typed,
    ratio_typed,
    read_day,
    read_moment,
    read_number,
    read_ratio,
)


def test_decimal_commas_and_points_and_units_are_taken():
    assert read_number("7,5", "The pH") == read_number(" 7.5 ", "The pH") == 7.5
    assert read_number("80 °C", "The temperature", unit="°C") == 80
    assert read_number("−3", "It") == -3
    assert read_number("  ", "The pH") is None


@pytest.mark.parametrize("text", ["x", "1.234,5", "1e3", "nan", "7 5", "."])
def test_what_is_no_number_is_answered(text):
    with pytest.raises(MistypedError, match="is a number"):
        read_number(text, "The ratio")


def test_what_lies_outside_is_answered_with_the_bounds():
    with pytest.raises(MistypedError) as told:
        read_number("15", "The pH", 0, 14)
    assert told.value.sentence == "The pH lies between 0 and 14; 15 does not."
    with pytest.raises(MistypedError, match=r"The weight lies above 0; -2 does not."):
        read_number("-2", "The weight", above=0)


def test_ratios_are_typed_in_per_cent_of_the_weight_of_fibre():
    assert read_ratio("50 % wof") == read_ratio("50") == 0.5
    assert ratio_typed(0.07) == "7"
    with pytest.raises(MistypedError):
        read_ratio("0")


def test_moments_are_days_or_days_with_a_time():
    assert read_moment("2026-03-12", "The date") == datetime(2026, 3, 12)
    assert read_moment("2026-03-12 14:30", "The date") == datetime(2026, 3, 12, 14, 30)
    assert read_day("", "From") is None
    assert read_day("2026-03-12", "From") == date(2026, 3, 12)
    for text in ("12 March", "2026-02-30", "12.3.2026"):
        with pytest.raises(MistypedError, match="is a day as 2026-03-12"):
            read_moment(text, "The date")


@pytest.mark.parametrize(
    "moment", [datetime(2026, 3, 12), datetime(2026, 3, 12, 9, 5), datetime(2026, 3, 12, 0, 0, 7)]
)
def test_a_moment_reads_back_as_it_is_shown(moment):
    assert read_moment(moment_typed(moment), "The date") == moment


def test_numbers_are_shown_without_needless_digits():
    assert [number_typed(one) for one in (None, 50.0, 0.1 + 0.2)] == ["", "50", "0.3"]


def test_ratios_may_be_typed_as_dyestuff_to_fibre():
    assert read_ratio("2:1") == 2
    assert read_ratio(" 1,5 : 1 ") == 1.5
    assert read_ratio("1:10") == 0.1
    with pytest.raises(MistypedError):
        read_ratio("2:0")


def test_a_comma_that_may_be_a_thousand_s_is_asked_about():
    with pytest.raises(MistypedError, match=r"Is “1,200” 1\.200 or 1200"):
        read_number("1,200", "The weight", above=0)
    assert read_number("7,125", "The pH", 0, 14) == 7.125
    assert read_number("0,125", "The weight") == 0.125
