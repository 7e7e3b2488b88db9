"""What people type, read into values; what cannot be read is answered in a sentence."""

from __future__ import annotations

import re
from datetime import date, datetime

_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)")
_THOUSANDS = re.compile(r"[1-9]\d{0,2},\d{3}")
_RATIO = re.compile(r"([\d.,]+)\s*:\s*([\d.,]+)")
_DAY = "%Y-%m-%d"
_MOMENTS = ("%Y-%m-%d %H:%M", "%Y-%m-%d %H:%M:%S", "%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S")


class MistypedError(Exception):
    """What was typed cannot be meant.

    Attributes
    ----------
    sentence : str
        What is wrong with it, to be shown beside the field.
    """

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


def read_number(
    text: str,
    what: str,
    least: float | None = None,
    most: float | None = None,
    above: float | None = None,
    unit: str = "",
) -> float | None:
    """A number with a decimal point or a decimal comma; None where nothing was typed.

    Parameters
    ----------
    text : str
    what : str
        What it is, as the sentence begins: "The pH".
    least, most : float, optional
        Bounds, both included.
    above : float, optional
        Bound that is not included.
    unit : str
        May stand behind the number.

    Raises
    ------
    MistypedError
    """
    plain = text.strip().replace("−", "-")
    if unit:
        plain = plain.removesuffix(unit).strip()
    if not plain:
        return None
    if not _NUMBER.fullmatch(plain):
        raise MistypedError(f"{what} is a number, as 7.5 or 7,5; “{text.strip()}” is none.")
    value = float(plain.replace(",", "."))
    if _THOUSANDS.fullmatch(plain):
        # A thousand to some, and one to others: told by the bounds, or not at all.
        many = plain.replace(",", "")
        if most is None or float(many) <= most:
            raise MistypedError(
                f"Is “{plain}” {plain.replace(',', '.')} or {many}? Write it as one of these."
            )
    if (least is not None and value < least) or (most is not None and value > most):
        raise MistypedError(f"{what} {_bounds(least, most)}; {text.strip()} does not.")
    if above is not None and value <= above:
        raise MistypedError(f"{what} lies above {above:g}; {text.strip()} does not.")
    return value


def _bounds(least: float | None, most: float | None) -> str:
    if most is None:
        return f"does not lie below {least:g}" if least else "is not negative"
    return f"lies between {least:g} and {most:g}" if least is not None else f"is at most {most:g}"


def read_ratio(text: str, what: str = "The ratio") -> float | None:
    """The weight of dyestuff to that of the fibre, typed in per cent of it or as 2:1.

    Raises
    ------
    MistypedError
    """
    weights = _RATIO.fullmatch(text.strip())
    if weights is not None:
        dyestuff, fibre = (read_number(one, what, above=0) for one in weights.groups())
        assert dyestuff is not None
        assert fibre is not None
        return dyestuff / fibre
    for end in ("% wof", "wof"):
        text = text.strip().removesuffix(end)
    percent = read_number(text, what, above=0, unit="%")
    return None if percent is None else percent / 100


def ratio_typed(ratio: float | None) -> str:
    """A ratio as it is typed, in per cent of the weight of fibre."""
    return "" if ratio is None else number_typed(ratio * 100)


def number_typed(value: float | None) -> str:
    """A number as it is typed, "" for None."""
    return "" if value is None else f"{value:.12g}"


def read_moment(text: str, what: str) -> datetime | None:
    """A day, or a day and a time, as 2026-03-12 or 2026-03-12 14:30.

    Raises
    ------
    MistypedError
    """
    plain = " ".join(text.split())
    if not plain:
        return None
    for form in (_DAY, *_MOMENTS):
        try:
            return datetime.strptime(plain, form)
        except ValueError:
            continue
    raise MistypedError(
        f"{what} is a day as 2026-03-12, or a day and a time as 2026-03-12 14:30; "
        f"“{text.strip()}” is none."
    )


def read_day(text: str, what: str) -> date | None:
    """A day, as 2026-03-12.

    Raises
    ------
    MistypedError
    """
    plain = text.strip()
    if not plain:
        return None
    try:
        return datetime.strptime(plain, _DAY).date()
    except ValueError:
        raise MistypedError(f"{what} is a day as 2026-03-12; “{plain}” is none.") from None


def moment_typed(moment: datetime | None) -> str:
    """A moment as it is typed; midnight stands for the day alone."""
    if moment is None:
        return ""
    if moment.second:
        return f"{moment:%Y-%m-%d %H:%M:%S}"
    return f"{moment:%Y-%m-%d %H:%M}" if moment.hour or moment.minute else f"{moment:%Y-%m-%d}"
