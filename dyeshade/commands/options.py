"""Options whose values have a form of their own: numbers, ranges, times, pairs."""

from __future__ import annotations

import math
import re
from argparse import ArgumentTypeError
from collections.abc import Callable
from datetime import date, datetime

from dyeshade.library.dye_records import WHICH_PH, wall_time

Range = tuple[float | None, float | None]

# A thousand to some, and one to others.
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")


def number(least: float, most: float = math.inf, above: bool = False) -> Callable[[str], float]:
    """A number from `least` (or above it) to `most`."""

    def take(text: str) -> float:
        value = finite(text)
        if not least <= value <= most or (above and value == least):
            bounds = f"above {least:g}" if above else f"from {least:g} on"
            raise ArgumentTypeError(
                f"{text} is not {bounds if math.isinf(most) else f'{least:g} to {most:g}'}"
            )
        return value

    return take


def span(text: str) -> Range:
    """A range as "8:9.5", "8:", ":9.5", or one value."""
    low, colon, high = text.partition(":")
    least = finite(low) if low else None
    most = (finite(high) if high else None) if colon else least
    if least is None and most is None:
        raise ArgumentTypeError("give a value, or a range as 1:2")
    if least is not None and most is not None and least > most:
        raise ArgumentTypeError(f"{text} begins above its end")
    return least, most


def ph_read(text: str) -> tuple[str, float]:
    """A pH with what it is of, as "bath_start=8.5"."""
    which, equals, value = text.partition("=")
    if not equals or which not in WHICH_PH:
        raise ArgumentTypeError(f"give it as WHICH=VALUE, where WHICH is {', '.join(WHICH_PH)}")
    return which, number(0, 14)(value)


def pair(text: str) -> tuple[str, str]:
    """A name, and what stands after "="; "" where nothing does."""
    name, _, value = text.partition("=")
    if not name.strip():
        raise ArgumentTypeError("a name is missing before =")
    return name.strip(), value.strip()


def name(text: str) -> str:
    """A text that says something."""
    if not text.strip():
        raise ArgumentTypeError("it is empty")
    return text.strip()


def day(text: str) -> date:
    """A day as "2025-03-14"."""
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise ArgumentTypeError(f"{text} is not a day as 2025-03-14") from error


def moment(text: str) -> datetime:
    """A time as "2025-03-14T11:20", or a day."""
    try:
        return wall_time(datetime.fromisoformat(text))
    except ValueError as error:
        raise ArgumentTypeError(f"{text} is not a time as 2025-03-14T11:20") from error


def whole(text: str) -> int:
    """A whole number."""
    try:
        return int(text)
    except ValueError as error:
        raise ArgumentTypeError(f"{text} is not a whole number") from error


def finite(text: str) -> float:
    """A number with a decimal point or a decimal comma, and neither without end nor none."""
    if _THOUSANDS.fullmatch(text.strip()):
        point, plain = text.replace(",", "."), text.replace(",", "")
        raise ArgumentTypeError(f"is {text} {point} or {plain}? Write it as one of these")
    try:
        value = float(text.replace(",", ".", 1))
    except ValueError as error:
        raise ArgumentTypeError(f"{text} is not a number") from error
    if not math.isfinite(value):
        raise ArgumentTypeError(f"{text} is not a number")
    return value
