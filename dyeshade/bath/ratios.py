"""Ratios and shares of the weight of fibre as written: "2:1", "two to one", "150 % wof"."""

from __future__ import annotations

import re
from fractions import Fraction

from dyeshade.bath.quantities import parse_number
from dyeshade.errors import DyeshadeError

MOST_RATIO = 100.0
"""More of anything than a hundred times the fibre is a slip of the finger, water apart."""

_ONE_TO_TEN = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_WORDS = {"half": Fraction(1, 2)} | {
    word: Fraction(number) for number, word in enumerate(_ONE_TO_TEN, 1)
}
_TO = re.compile(r"\s*(?::|\bto\b)\s*", re.IGNORECASE)
_PERCENT = re.compile(
    r"\s*(?:%|per\s*cent|percent)\s*(?:wof|owf|of\s+(?:the\s+)?fib(?:re|er))?\s*$", re.IGNORECASE
)


def parse_ratio(text: str, alone: str = "ratio") -> float:
    """The weight of something to the weight of fibre.

    Parameters
    ----------
    text : str
        "2:1", "two to one", "1/2 : 1", "150 %", "150 % wof", or a number alone.
    alone : str
        What a number alone is: "ratio", so that 2 is 2:1, or "percent", so that 15 is 15 %.

    Returns
    -------
    float
        2.0 for 2:1 and for 200 %.

    Raises
    ------
    DyeshadeError
        ``ratio_bad``, ``ratio_too_large`` (most), or as `quantities.parse_number`.
    """
    if alone not in ("ratio", "percent"):
        raise ValueError(f"a number alone is no {alone!r}")
    return _checked(text, _ratio(text, alone), MOST_RATIO)


def is_percent(text: str) -> bool:
    """Whether a ratio is written as a per cent."""
    return _PERCENT.search(text) is not None


def is_number_alone(text: str) -> bool:
    """Whether neither a per cent nor a second side says what a number is."""
    return not is_percent(text) and len(_TO.split(text.strip())) == 1


def parse_liquor_ratio(text: str) -> float:
    """Weight of water to weight of fibre; 30:1 and 1:30 are the same, as both are in use.

    Raises
    ------
    DyeshadeError
        As `parse_ratio`.
    """
    ratio = _ratio(text, "ratio")
    if 0 < ratio < 1:
        ratio = 1 / ratio
    return _checked(text, ratio, 1000.0)


def _ratio(text: str, alone: str) -> Fraction:
    percent = _PERCENT.search(text)
    if percent is not None:
        return _number(text, text[: percent.start()]) / 100
    sides = _TO.split(text.strip())
    if len(sides) == 1:
        return _number(text, text) / (100 if alone == "percent" else 1)
    if len(sides) != 2 or not sides[0] or not sides[1]:
        raise DyeshadeError("ratio_bad", text=text)
    first, second = (_number(text, side) for side in sides)
    if second == 0:
        raise DyeshadeError("ratio_bad", text=text)
    return first / second


def _number(text: str, side: str) -> Fraction:
    word = side.strip().lower()
    if word in _WORDS:
        return _WORDS[word]
    try:
        return parse_number(side)
    except DyeshadeError as error:
        if error.code in ("quantity_no_number", "quantity_bad_number"):
            raise DyeshadeError("ratio_bad", text=text) from error
        raise


def _checked(text: str, ratio: Fraction, most: float) -> float:
    if ratio == 0:
        raise DyeshadeError("quantity_zero", text=text, position=0, length=len(text))
    if ratio > most:
        raise DyeshadeError("ratio_too_large", text=text, most=round(most))
    return float(ratio)
