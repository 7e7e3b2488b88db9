"""Answers about one piece: its drift, the check standard."""

from __future__ import annotations

from dyeshade.insight.check_standard import CheckStandard
from dyeshade.insight.drift import Drift, DriftPoint
from dyeshade.words.answered import FIRST_OF_ALL, Answered, Line
from dyeshade.words.change_words import size_words, ways_words
from dyeshade.words.drift_figure import drift_cautions, drift_figure
from dyeshade.words.drift_lines import verdict_words
from dyeshade.words.dye_words import STATES, day_words, listed
from dyeshade.words.repeat_figure import check_figure
from dyeshade.words.repeat_lines import RULES, check_verdict
from dyeshade.words.sentences import counted
from dyeshade.words.shade_lines import step_words


def drift_answer(drift: Drift) -> Answered:
    """How a piece has moved."""
    everything = [*(one for point in drift.points for one in point.readings), *drift.left_out]
    return Answered(
        (verdict_words(drift), *drift_cautions(drift)),
        drift_figure(drift),
        ("Read", "State", "ΔE00 (95 %)", "In which way", "Grade", "Before it"),
        tuple(_drift_line(point) for point in drift.points),
        (
            (FIRST_OF_ALL, "its first dry reading"),
            *((one.id, f"{day_words(one.read)}, {STATES[one.state]}") for one in everything),
        ),
    )


def _drift_line(point: DriftPoint) -> Line:
    reading, change = point.reading, point.since_base
    several = f", {len(point.readings)} readings" if len(point.readings) > 1 else ""
    when = f"{reading.read:%Y-%m-%d}{several}"
    before = "; ".join(step_words(step) for step in point.steps)
    if change is None:
        cells = (when, STATES[reading.state], "set beside this one", "", "", before)
        return Line(cells, reading.id)
    ways = ways_words(change.ways) or ("" if change.size.significant else "may be none")
    grade = f"{change.grade.half} ({change.grade.grade:.1f})"
    cells = (when, STATES[reading.state], size_words(change.size), ways, grade, before)
    return Line(cells, reading.id)


def check_answer(found: CheckStandard) -> Answered:
    """Whether set-up, sheet or light have moved."""
    sessions = counted(found.learning, "session", "sessions")
    said = (
        check_verdict(found),
        f"Limits: three standard deviations from the mean of the first {sessions} (ISO 7870-2).",
    )
    lines = []
    for session in found.sessions:
        reading = session.reading
        warned = listed([f"{channel} {RULES[rule]}" for channel, rule in session.warnings])
        values = tuple(f"{value:.1f}" for value in reading.lab)
        lines.append(Line((f"{reading.read:%Y-%m-%d}", *values, warned), reading.id))
    heads = ("Read", "L*", "a*", "b*", "Warning")
    return Answered(said, check_figure(found, said), heads, tuple(lines))
