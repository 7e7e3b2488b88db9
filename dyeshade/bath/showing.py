"""Weights, volumes and temperatures as a dyer reads them, with as many digits as make sense.

Digits follow what is weighed and measured in a dye room (common practice, no source): a kitchen
balance shows whole grams, a small one hundredths. What is shown can be typed again.
"""

from __future__ import annotations

from dyeshade.bath.units import BY_SYMBOL, METRIC, SYSTEMS, US

_OUNCE_G = float(BY_SYMBOL["oz"].factor)
_POUND_G = float(BY_SYMBOL["lb"].factor)
_GALLON_L = float(BY_SYMBOL["US gal"].factor)
_QUART_L = float(BY_SYMBOL["US qt"].factor)
_FLUID_OUNCE_L = float(BY_SYMBOL["US fl oz"].factor)

# Below this many of the unit: decimals shown.
_GRAMS = ((1.0, 3), (10.0, 2), (100.0, 1), (10_000.0, 0))
_OUNCES = ((1.0, 3), (16.0, 2), (160.0, 1))
_MILLILITRES = ((10.0, 2), (100.0, 1), (1000.0, 0))
_LITRES = ((10.0, 2), (100.0, 1))
_QUARTS = ((4.0, 2),)
_GALLONS = ((10.0, 2), (100.0, 1))
_TEASPOONS = ((1.0, 3),)
_FLUID_OUNCES = ((32.0, 2),)


def other_system(system: str) -> str:
    """The system of units that is not this one."""
    return SYSTEMS[1 - SYSTEMS.index(system)]


def show_weight(grams: float, system: str = METRIC) -> str:
    """A weight: "12.5 g", "1.234 kg"; "3.53 oz", "1 lb 4.2 oz".

    Raises
    ------
    ValueError
        For a system that is neither `METRIC` nor `US`.
    """
    if _known(system) == US:
        return _ounces(grams / _OUNCE_G)
    decimals = _decimals(grams, _GRAMS, -1)
    rounded = round(grams, decimals)
    if abs(rounded) < 1000:
        return f"{_plain(rounded, max(decimals, 0))} g"
    return f"{_plain(rounded / 1000, 3)} kg"


def show_volume(litres: float, system: str = METRIC) -> str:
    """A volume: "12.5 ml", "7.2 L"; "1.01 US tsp", "5.1 US fl oz", "3.17 US qt", "2.4 US gal"."""
    if _known(system) == US:
        for limit, size, digits, symbol in (
            (_FLUID_OUNCE_L, _FLUID_OUNCE_L / 6, _TEASPOONS, "US tsp"),
            (_QUART_L, _FLUID_OUNCE_L, _FLUID_OUNCES, "US fl oz"),
            (_GALLON_L, _QUART_L, _QUARTS, "US qt"),
        ):
            if abs(litres) < limit:
                number = litres / size
                return f"{_plain(number, _decimals(number, digits, 2))} {symbol}"
        number = litres / _GALLON_L
        return f"{_plain(number, _decimals(number, _GALLONS, 0))} US gal"
    if abs(litres) < 0.9995:
        number = litres * 1000
        return f"{_plain(number, _decimals(number, _MILLILITRES, 0))} ml"
    return f"{_plain(litres, _decimals(litres, _LITRES, 0))} L"


def show_temperature(celsius: float, system: str = METRIC) -> str:
    """A temperature in whole degrees: "60 °C", "140 °F"."""
    if _known(system) == US:
        return f"{celsius * 1.8 + 32:.0f} °F"
    return f"{celsius:.0f} °C"


def show_both(shown_first: str, shown_second: str) -> str:
    """A quantity in both systems: "567 g (1 lb 4 oz)"."""
    return f"{shown_first} ({shown_second})"


def weight_in_both(grams: float, system: str = METRIC) -> str:
    """A weight in the dyer's own system, and in the other in brackets."""
    return show_both(show_weight(grams, system), show_weight(grams, other_system(system)))


def volume_in_both(litres: float, system: str = METRIC) -> str:
    """A volume in the dyer's own system, and in the other in brackets."""
    return show_both(show_volume(litres, system), show_volume(litres, other_system(system)))


def temperature_in_both(celsius: float, system: str = METRIC) -> str:
    """A temperature in the dyer's own system, and in the other in brackets."""
    shown = show_temperature(celsius, other_system(system))
    return show_both(show_temperature(celsius, system), shown)


def show_ratio(ratio: float) -> str:
    """A ratio to one: "2:1", "0.5:1"."""
    return f"{significant(ratio)}:1"


def show_percent(share: float) -> str:
    """A share of the weight of fibre: "15 %" for 0.15."""
    return f"{significant(100 * share)} %"


def significant(number: float, digits: int = 3) -> str:
    """A number to so many significant digits, without an exponent or idle zeros."""
    if number == 0:
        return "0"
    decimals = digits - 1
    size = abs(number)
    while size >= 10 and decimals > 0:
        size, decimals = size / 10, decimals - 1
    while size < 1 and decimals < 12:
        size, decimals = size * 10, decimals + 1
    return _plain(number, decimals)


def _ounces(ounces: float) -> str:
    decimals = _decimals(ounces, _OUNCES, 0)
    rounded = round(ounces, decimals)
    if abs(rounded) < 16:
        return f"{_plain(rounded, decimals)} oz"
    pounds, left = divmod(rounded, 16)
    shown = _plain(left, decimals)
    return f"{pounds:.0f} lb" if shown == "0" else f"{pounds:.0f} lb {shown} oz"


def _decimals(number: float, table: tuple[tuple[float, int], ...], beyond: int) -> int:
    return next((decimals for limit, decimals in table if abs(number) < limit), beyond)


def _plain(number: float, decimals: int) -> str:
    text = f"{number:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _known(system: str) -> str:
    if system not in SYSTEMS:
        raise ValueError(f"not a system of units: {system!r}")
    return system
