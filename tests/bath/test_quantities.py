"""What a dyer types, and what it is taken for."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dyeshade.bath.quantities import parse_temperature, parse_volume, parse_weight
from dyeshade.bath.showing import show_temperature, show_volume, show_weight, weight_in_both
from dyeshade.bath.units import METRIC, US
from dyeshade.errors import DyeshadeError
from dyeshade.words.refusals import refusal_text


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("1 lb 4 oz", 566.9904625),
        ("1lb4oz", 566.9904625),
        ("1 lb, 4 oz", 566.9904625),
        ("1 lb,4 oz", 566.9904625),
        ("1 Pound and 4 ounces", 566.9904625),
        ("2.5 kg", 2500),
        ("1,5 kg", 1500),
        ("0,125 kg", 125),
        (".5 kg", 500),
        ("250", 250),
        ("3 1/2 oz", 99.2233309375),
        ("3½ oz", 99.2233309375),
        ("1 kg 250 g", 1250),
        ("1,234.5 g", 1234.5),
        ("1.234,5 g", 1234.5),
    ],
)
def test_weights(text, grams):
    assert parse_weight(text).value == pytest.approx(grams, rel=1e-15)


def test_a_number_alone_says_that_its_unit_was_taken_for_granted():
    assert parse_weight("250").unit_written is False
    alone = parse_weight("8", unit="oz")
    assert (alone.unit.symbol, alone.value) == ("oz", 226.796185)
    assert parse_weight("8 oz").unit_written is True


@pytest.mark.parametrize(
    ("text", "litres"),
    [
        ("2 US quarts", 1.892705892),
        ("1 gal 2 qt", 5.678117676),
        ("500ml", 0.5),
        ("7,5 L", 7.5),
        ("5 fl. oz.", 0.1478676478125),
        ("3 1/2 metric tsp", 0.0175),
        ("1 US tsp", 0.00492892159375),
    ],
)
def test_volumes(text, litres):
    assert parse_volume(text).value == pytest.approx(litres, rel=1e-15)


def test_who_writes_a_teaspoon_is_asked_which():
    with pytest.raises(DyeshadeError) as raised:
        parse_volume("3 1/2 tsp")
    assert raised.value.code == "quantity_which_spoon"
    assert '"US tsp" or "metric tsp"' in refusal_text(raised.value)
    assert parse_volume("3 1/2 tsp", spoons=METRIC).value == pytest.approx(0.0175)
    assert parse_volume("1 tsp", spoons=US).unit.symbol == "US tsp"


def test_temperatures():
    assert parse_temperature("60").value == 60
    assert parse_temperature("140 F").value == 60
    assert parse_temperature("140 °F").unit.symbol == "°F"
    assert parse_temperature("140", unit="°F").value == 60


@pytest.mark.parametrize(
    ("text", "code", "at", "length"),
    [
        ("12 lbb", "quantity_unit_unknown", 3, 3),
        ("5 g wool", "quantity_unit_unknown", 2, 6),
        ("1e5 g", "quantity_unit_unknown", 1, 1),
        ("2 L", "quantity_other_kind", 2, 1),
        ("-5 g", "quantity_negative", 0, 4),
        ("1 lb -4 oz", "quantity_negative", 5, 5),
        ("0", "quantity_zero", 0, 1),
        (" ", "quantity_missing", 0, 0),
        ("kg", "quantity_no_number", 0, 2),
        ("nan", "quantity_no_number", 0, 3),
        ("1.2.3 g", "quantity_bad_number", 0, 5),
        ("1/0 g", "quantity_bad_number", 0, 3),
        ("9" * 5000, "quantity_bad_number", 0, 5000),
        ("1,500 g", "quantity_comma_unsure", 0, 5),
        ("4 oz 1 lb", "quantity_unit_order", 5, 4),
        ("1 lb 4", "quantity_unit_missing", 5, 1),
        ("1 500 g", "quantity_unit_missing", 0, 1),
        ("2000 kg", "quantity_too_large", 0, 7),
    ],
)
def test_what_cannot_be_a_weight_is_refused_where_it_stands(text, code, at, length):
    with pytest.raises(DyeshadeError) as raised:
        parse_weight(text)
    facts = raised.value.facts
    assert (raised.value.code, facts["position"], facts["length"]) == (code, at, length)
    assert refusal_text(raised.value).endswith(".")


def test_a_mistyped_unit_is_guessed_and_the_others_named():
    with pytest.raises(DyeshadeError) as raised:
        parse_weight("12 lbb")
    assert refusal_text(raised.value) == (
        'There is no unit "lbb", as in "12 lbb". Did you mean lb? Use g, kg, mg, oz or lb.'
    )


def test_no_water_is_refused_in_a_sentence():
    with pytest.raises(DyeshadeError) as raised:
        parse_volume("0 L")
    told = refusal_text(raised.value)
    assert told == 'An amount above 0 is needed, and "0 L" is nothing.'
    assert parse_volume("0 L", zero=True).value == 0


@pytest.mark.parametrize(("text", "told"), [("-3 C", "0 to 105 °C"), ("300 F", "32 to 221 °F")])
def test_ice_and_steam_are_no_bath(text, told):
    with pytest.raises(DyeshadeError) as raised:
        parse_temperature(text)
    assert told in refusal_text(raised.value)


@pytest.mark.parametrize(
    ("grams", "shown"),
    [
        (0.1234, "0.123 g (0.004 oz)"),
        (9.996, "10 g (0.353 oz)"),
        (566.99, "567 g (1 lb 4 oz)"),
        (999.6, "1 kg (2 lb 3.3 oz)"),
        (1234, "1.234 kg (2 lb 11.5 oz)"),
        (12_345.6, "12.35 kg (27 lb 3 oz)"),
    ],
)
def test_weights_are_shown_in_both_systems(grams, shown):
    assert weight_in_both(grams) == shown


def step(number, table, beyond):
    return next((size for limit, size in table if number < limit), beyond)


@given(st.floats(0.001, 900_000), st.sampled_from([METRIC, US]))
def test_a_weight_that_is_shown_can_be_typed_again(grams, system):
    again = parse_weight(show_weight(grams, system), zero=True).value
    digits = ((1, 0.001), (10, 0.01), (100, 0.1), (10_000, 1))
    ounce = 28.349523125
    ounces = ((ounce, 0.001 * ounce), (16 * ounce, 0.01 * ounce), (160 * ounce, 0.1 * ounce))
    size = step(grams, digits, 10) if system == METRIC else step(grams, ounces, ounce)
    assert abs(again - grams) <= 0.5001 * size
    assert parse_weight(show_weight(again, system), zero=True).value == pytest.approx(again)


@given(st.floats(0.0001, 90_000), st.sampled_from([METRIC, US]))
def test_a_volume_that_is_shown_can_be_typed_again(litres, system):
    again = parse_volume(show_volume(litres, system), zero=True).value
    assert abs(again - litres) <= max(0.0051 * litres, 0.00002, 0.5 if litres > 90 else 0)


@given(st.floats(0, 100), st.sampled_from([METRIC, US]))
def test_a_temperature_that_is_shown_can_be_typed_again(celsius, system):
    again = parse_temperature(show_temperature(celsius, system)).value
    assert abs(again - celsius) <= 0.5 + 1e-9


def told(parse, text):
    """The sentence that what was typed is refused with, or None."""
    try:
        parse(text)
    except DyeshadeError as error:
        return refusal_text(error)
    return None


@given(st.text(max_size=30))
def test_whatever_is_typed_is_understood_or_refused_in_a_sentence(text):
    for parse in (parse_weight, parse_volume, parse_temperature):
        assert (told(parse, text) or ".").endswith(".")


@given(st.from_regex(r"\A[0-9 .,/½-]{1,8}(lb|oz|kg|g|tsp| )?[0-9 .,/-]{0,5}(oz|g)?\Z"))
def test_near_misses_are_understood_or_refused_in_a_sentence(text):
    assert (told(parse_weight, text) or ".").endswith(".")
