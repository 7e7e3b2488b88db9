"""Nearest shades as lines for people, and as plain values for JSON."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.words.change_words import size_words
from dyeshade.words.drift_json import DIGITS, size_record
from dyeshade.words.figure_words import DELTA_E
from dyeshade.words.shade_lines import acted_words, dyestuff_names, mordant_words
from dyeshade.words.shades_json import shade_record
from dyeshade.words.wanted_words import wanted_words
from dyeshade.work.ask_nearest import NearAnswer
from dyeshade.work.wanted_colour import WantedColour


def nearest_lines(wanted: WantedColour, found: Sequence[NearAnswer], tolerance: float) -> list[str]:
    """A line for each shade, the nearest first.

    Parameters
    ----------
    wanted : WantedColour
    found : sequence of NearAnswer
    tolerance : float
        CIEDE2000.
    """
    if not found:
        return [f"Wanted: {wanted_words(wanted)}. There is no shade to set beside it."]
    lines = [f"Wanted: {wanted_words(wanted)}"]
    for one in found:
        reading, conditions = one.shade.reading, one.shade.conditions
        told = [
            dyestuff_names(conditions),
            conditions.fibre,
            mordant_words(conditions),
            f"pH {acted_words(conditions)}" if acted_words(conditions) else "",
        ]
        beside = ", ".join(filter(None, told))
        lines.append(
            f"  {one.shade.history.piece.code:<8} {reading.srgb}  {size_words(one.near.difference)}"
            f"  {100 * one.near.chance:3.0f} % within {DELTA_E} {tolerance:g}  {beside}".rstrip()
        )
    lines.append("In CIEDE2000; in brackets where the true difference lies 95 times in 100")
    return lines


def nearest_record(answer: NearAnswer, tolerance: float) -> dict[str, object]:
    """One shade with how near it comes."""
    return {
        **size_record(answer.near.difference),
        "tolerance": tolerance,
        "chance_below": round(answer.near.chance, DIGITS),
        "reading": answer.near.reading_id,
        "shade": shade_record(answer.shade),
    }
