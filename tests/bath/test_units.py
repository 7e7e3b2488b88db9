"""Units against what NIST publishes."""

from fractions import Fraction

import pytest

from dyeshade.bath.units import BY_SYMBOL, UNITS, from_si, in_si

# NIST SP 811 (2008), appendix B.8, to the seven digits printed there: kilograms and cubic metres.
PRINTED = {
    "oz": ("2.834952E-02", 1000),
    "lb": ("4.535924E-01", 1000),
    "US gal": ("3.785412E-03", 1000),
    "US qt": ("9.463529E-04", 1000),
    "US pt": ("4.731765E-04", 1000),
    "US cup": ("2.365882E-04", 1000),
    "US fl oz": ("2.957353E-05", 1000),
    "US tbsp": ("1.478676E-05", 1000),
    "US tsp": ("4.928922E-06", 1000),
}


@pytest.mark.parametrize(("symbol", "printed"), PRINTED.items())
def test_factors_are_those_of_nist(symbol, printed):
    number, scale = printed
    assert f"{float(BY_SYMBOL[symbol].factor / scale):.6E}" == number


def test_exact_factors_are_exact():
    # NIST SP 811, appendix B.8, footnote: 1 lb = 0.453 592 37 kg; Handbook 44: 231 cubic inches.
    assert BY_SYMBOL["lb"].factor == Fraction(45359237, 100000)
    assert BY_SYMBOL["oz"].factor == Fraction("28.349523125")
    assert BY_SYMBOL["US gal"].factor == Fraction("3.785411784")
    assert BY_SYMBOL["US qt"].factor == Fraction("0.946352946")
    assert BY_SYMBOL["US tsp"].factor * 768 == BY_SYMBOL["US gal"].factor


def test_degrees_are_exact():
    # NIST SP 811: t/degC = (t/degF - 32) / 1.8.
    fahrenheit = BY_SYMBOL["°F"]
    assert in_si(Fraction(212), fahrenheit) == 100
    assert in_si(Fraction(32), fahrenheit) == 0
    assert in_si(Fraction(-40), fahrenheit) == -40
    assert from_si(Fraction(60), fahrenheit) == 140


def test_no_spelling_means_two_units_of_one_kind():
    written = [(unit.kind, spelling) for unit in UNITS for spelling in unit.spellings]
    assert len(written) == len(set(written))
