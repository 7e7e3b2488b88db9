"""Drift of a piece and its home fastness tests as lines for people."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from dyeshade.insight.components import Parts
from dyeshade.insight.drift import Drift, DriftPoint
from dyeshade.insight.fastness import BesideBlueWools, HomeTest
from dyeshade.words.change_words import change_words, how_words, size_words
from dyeshade.words.dye_words import STATES, TREATMENTS
from dyeshade.words.home_test_words import HOME_TEST, TESTS
from dyeshade.words.sentences import counted

_TERMS = (
    "Differences in CIEDE2000, in brackets where the true one lies 95 times in 100; grades for "
    "change in colour by the formula of ISO 105-A05, 5 is none."
)


def verdict_words(drift: Drift) -> str:
    """What can be said of a piece, in a sentence."""
    shown = "" if drift.smallest_shown is None else f"{drift.smallest_shown:.1f}"
    if drift.verdict is None:
        return "Read once so far: nothing to set beside it yet."
    if drift.verdict == "not_seen_to_move":
        return f"Not seen to move. A change of {shown} would have shown 9 times in 10."
    if drift.verdict == "still_moving":
        return "Still moving: the last reading differs from the one before it."
    if drift.verdict == "settled":
        return "It has moved, and settled: the last two readings agree."
    return "It has moved."


def drift_lines(drift: Drift) -> list[str]:
    """Readings of a piece over time, each beside the chosen one.

    Parameters
    ----------
    drift : Drift
    """
    piece = drift.history.piece
    name = f"{piece.code}, {piece.name}" if piece.name else piece.code
    lines = [f"{name}: {verdict_words(drift)}", ""]
    for point in drift.points:
        lines += _point_lines(point, point.reading.id == drift.base_id)
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
    told = f"  {reading.read:%Y-%m-%d}  reading {reading.id}, {STATES[reading.state]}"
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
        what = step.treatment.substance or (step.bath.bath.code if step.bath else "")
        told.append(" ".join(filter(None, (TREATMENTS[step.treatment.kind], what))))
    return told


def _parts(parts: Parts) -> str:
    return (
        f"dL* {parts.delta_l:+.1f} ± {parts.sd_l:.1f}, dC*ab {parts.delta_c:+.1f} ± "
        f"{parts.sd_c:.1f}, dH*ab {parts.delta_h:+.1f} ± {parts.sd_h:.1f} (one standard deviation)"
    )


def home_test_lines(piece: str, tests: Sequence[HomeTest]) -> list[str]:
    """Home tests of a piece."""
    lines: list[str] = []
    for test in tests:
        lines.append(f"{piece}, home test of {TESTS[test.kind]}:")
        for step in test.steps:
            where = "" if step.in_one_photo else ", untreated and treated in two photos"
            lines.append(f"  {step.read:%Y-%m-%d}  {change_words(step.change)}{where}")
        for stain in test.staining:
            lines.append(f"  staining of white cloth: {size_words(stain.size)}; grade {stain.half}")
        if test.beside_blue_wools is not None:
            lines.append(f"  {blue_wool_words(test.beside_blue_wools)}")
        lines.append("")
    return [*lines, *textwrap.wrap(HOME_TEST, 90)]


def blue_wool_words(beside: BesideBlueWools) -> str:
    """How a piece faded beside blue wools, in a sentence."""
    if beside.faded_more is None:
        told = f"It fades more than blue wool {beside.faded_less}."
    elif beside.faded_less is None:
        told = f"It fades less than blue wool {beside.faded_more}."
    else:
        told = f"It fades between blue wools {beside.faded_more} and {beside.faded_less}."
    if beside.alike:
        told += f" It can't be told from {' and '.join(map(str, beside.alike))}."
    return told
