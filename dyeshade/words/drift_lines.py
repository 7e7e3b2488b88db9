"""Drift of a piece and its home fastness tests as lines for people."""

from __future__ import annotations

import textwrap

from dyeshade.insight.components import Parts
from dyeshade.insight.drift import Drift, DriftPoint
from dyeshade.insight.occasions import WANTED_SHOWN
from dyeshade.words.change_words import change_words, how_words
from dyeshade.words.dye_words import STATES, TREATMENTS, listed, treatment_in
from dyeshade.words.figure_words import DELTA_E
from dyeshade.words.sentences import counted

NUMBERS = {2: "Two", 3: "Three", 4: "Four"}

_TERMS = (
    "Differences in CIEDE2000, in brackets where the true one lies 95 times in 100; grades for "
    "change in colour by the formula of ISO 105-A05, 5 is none."
)


def verdict_words(drift: Drift) -> str:
    """What can be said of a piece, in a sentence."""
    shown = "" if drift.smallest_shown is None else f"{drift.smallest_shown:.1f}"
    if drift.verdict is None:
        return (
            "Read once so far: nothing to set beside it yet. Three photos each time, on the same "
            "sheet, show smaller changes than one."
        )
    if drift.verdict == "not_seen_to_move":
        told = f"Not seen to move. A change of {DELTA_E} {shown} would have shown 9 times in 10."
        return " ".join(filter(None, (told, advice_words(drift))))
    if drift.verdict == "still_moving":
        return "Still moving: the last reading differs from the one before it."
    if drift.verdict == "settled":
        return "It has moved, and settled: the last two readings agree."
    return "It has moved."


def advice_words(drift: Drift) -> str:
    """How a smaller change would show, in a sentence; "" where a just visible one would."""
    advice = drift.advice
    if advice is not None:
        when = "each time" if advice.each_time else "next time"
        return (
            f"{NUMBERS[advice.photos]} photos {when} (same sheet, within the hour, each turned a "
            "little, some lighter, some darker) would show a change of "
            f"{DELTA_E} {advice.shown:.1f}."
        )
    if drift.smallest_shown is None or drift.smallest_shown <= WANTED_SHOWN:
        return ""
    return "Smaller ones show on one sheet with colours, with three photos each time."


def drift_lines(drift: Drift) -> list[str]:
    """Readings of a piece over time, each beside the chosen one.

    Parameters
    ----------
    drift : Drift
    """
    piece = drift.history.piece
    name = f"{piece.code}, {piece.name}" if piece.name else piece.code
    lines = [*textwrap.wrap(f"{name}: {verdict_words(drift)}", 90), ""]
    for point in drift.points:
        lines += _point_lines(point, drift.chosen(point))
    if drift.left_out:
        wet = "wet" if drift.left_out[0].state == "wet" else "dry"
        left = counted(len(drift.left_out), f"{wet} reading is", f"{wet} readings are")
        lines += ["", f"{left} left out: wet and dry are compared only when asked."]
    for told in sorted({how_words(p.since_base.difference) for p in drift.points if p.since_base}):
        if told:
            lines += ["", *textwrap.wrap(f"Mind: {told}", 90)]
    if any(point.since_base for point in drift.points):
        lines += ["", *textwrap.wrap(_TERMS, 90)]
    return lines


def _point_lines(point: DriftPoint, base: bool) -> list[str]:
    reading = point.reading
    lines = [f"  {', '.join(_step_words(point))}"] if point.steps else []
    ids = listed([str(one.id) for one in point.readings])
    which = f"reading {ids}" if len(point.readings) == 1 else f"readings {ids}"
    told = f"  {reading.read:%Y-%m-%d}  {which}, {STATES[reading.state]}"
    if base or point.since_base is None:
        return [*lines, f"{told}: the others are set beside this one"]
    return [
        *lines,
        f"{told}: {change_words(point.since_base)}",
        f"    {_parts(point.since_base.parts)}",
    ]


def _step_words(point: DriftPoint) -> list[str]:
    told = []
    for step in point.steps:
        kind = step.treatment.kind
        if step.bath is not None and not step.treatment.substance:
            told.append(treatment_in(kind, step.bath.bath.code))
        else:
            told.append(f"{TREATMENTS[kind]} {step.treatment.substance}".strip())
    return told


def _parts(parts: Parts) -> str:
    return (
        f"dL* {parts.delta_l:+.1f} ± {parts.sd_l:.1f}, dC*ab {parts.delta_c:+.1f} ± "
        f"{parts.sd_c:.1f}, dH*ab {parts.delta_h:+.1f} ± {parts.sd_h:.1f} (one standard deviation)"
    )
