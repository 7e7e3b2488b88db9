"""How far and in which way a colour has changed, said to people."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from dyeshade.words.dye_words import listed
from dyeshade.words.figure_words import DELTA_E

if TYPE_CHECKING:
    # They take a second to import, and the window begins with cards.
    from dyeshade.insight.change import Change
    from dyeshade.insight.difference import Difference
    from dyeshade.insight.interval import DifferenceInterval

WAYS: Mapping[str, str] = {
    "lighter": "lighter",
    "darker": "darker",
    "more_vivid": "more vivid",
    "less_vivid": "less vivid",
    "redder": "redder",
    "greener": "greener",
    "yellower": "yellower",
    "bluer": "bluer",
}
"""Words for each of `dyeshade.insight.components.WAYS`."""

APART: Mapping[str, str] = {
    "camera": "the camera",
    "sheet": "the sheet",
    "light": "the kind of light",
    "file_format": "the kind of file",
    "method": "the way of measuring",
    "calibration": "the calibration",
}
"""Words for what `dyeshade.insight.difference.Difference.apart` lists."""


def ways_words(ways: Sequence[str]) -> str:
    """Ways as in "lighter and yellower"; "" for none."""
    return listed([WAYS[way] for way in ways]) if ways else ""


def size_words(size: DifferenceInterval) -> str:
    """A difference with its interval, as in "3.1 (2.0 to 4.2)", or "0.8 (0 to 2.1)"."""
    low = "0" if size.low == 0 else f"{size.low:.1f}"
    return f"{size.value:.1f} ({low} to {size.high:.1f})"


def change_words(change: Change) -> str:
    """A change as in "ΔE00 3.1 (2.0 to 4.2), lighter and yellower; grade 3-4"."""
    ways = ways_words(change.ways)
    moved = f", {ways}" if ways else "" if change.size.significant else ", may be none"
    return f"{DELTA_E} {size_words(change.size)}{moved}; grade {change.grade.half}"


def how_words(difference: Difference) -> str:
    """What of the errors stays in a difference; "" where all that can cancel does."""
    if difference.how != "separate":
        return ""
    apart = listed([APART[name] for name in difference.apart])
    verb = "is" if len(difference.apart) == 1 else "are"
    return (
        f"{apart} {verb} another or not known, so that little of the errors cancels: such a "
        "difference is less sure."
    )
