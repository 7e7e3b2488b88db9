"""Answers about one piece: its drift, its home fastness tests, the check standard."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from dyeshade.insight.check_standard import CheckStandard
from dyeshade.insight.drift import Drift, DriftPoint
from dyeshade.insight.fastness import HomeTest
from dyeshade.paper.plot import Figure
from dyeshade.words.answered import Answered, Line
from dyeshade.words.change_words import size_words, ways_words
from dyeshade.words.drift_figure import drift_cautions, drift_figure, fastness_figure
from dyeshade.words.drift_lines import HOME_TEST, TESTS, blue_wool_words, verdict_words
from dyeshade.words.dye_words import STATES, day_words, listed
from dyeshade.words.repeat_figure import check_figure
from dyeshade.words.repeat_lines import RULES, check_verdict
from dyeshade.words.sentences import counted
from dyeshade.words.shade_lines import step_words
from dyeshade.work.home_tests import RunningTest

FIRST_OF_ALL = -1
"""Stands for "the first dry reading" among choices."""

SET_UP: Mapping[str, tuple[str, ...]] = {
    "light": (
        "Cover one half of the piece with card, tightly, and leave the other half bare.",
        "Lay blue wool references beside it, half covered too, if you have them (ISO 105-B).",
        "Photograph it on the sheet, begin the test here, and put it into a window with sun.",
        "For each photo, take the card off: both halves in one photo, both of this piece.",
        'Give the bare half the state "after light".',
    ),
    "wash": (
        "Photograph the dry piece on the sheet and save the reading.",
        "Wash it as you would wash the cloth, with a piece of undyed white cloth sewn to it.",
        "Begin the test here; photograph both when they have been dry for a day.",
    ),
    "acid_dip": (
        "Photograph the dry piece on the sheet and save the reading.",
        "Dip it into water with white vinegar of known pH, rinse it and dry it for a day.",
        "Begin the test here with that pH, and photograph the piece.",
    ),
    "alkaline_dip": (
        "Photograph the dry piece on the sheet and save the reading.",
        "Dip it into water with a pinch of washing soda of known pH, rinse it and dry it.",
        "Begin the test here with that pH, and photograph the piece.",
        "A dye that turns with pH tells most of itself in this test.",
    ),
    "rubbing": (
        "Photograph the piece, and a dry white cloth, on the sheet.",
        "Rub the white cloth along the piece ten times to and fro with your finger.",
        "Photograph both again, and name the readings here: rubbing is no treatment.",
    ),
}
"""How each of `dyeshade.insight.fastness.TESTS` is set up at home (common practice, no source)."""


def drift_answer(drift: Drift) -> Answered:
    """How a piece has moved."""
    everything = [*(point.reading for point in drift.points), *drift.left_out]
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
    when = f"{reading.read:%Y-%m-%d}"
    before = "; ".join(step_words(step) for step in point.steps)
    if change is None:
        cells = (when, STATES[reading.state], "set beside this one", "", "", before)
        return Line(cells, reading.id)
    ways = ways_words(change.ways) or ("" if change.size.significant else "may be none")
    grade = f"{change.grade.half} ({change.grade.grade:.1f})"
    cells = (when, STATES[reading.state], size_words(change.size), ways, grade, before)
    return Line(cells, reading.id)


def fastness_answer(piece: str, tests: Sequence[HomeTest]) -> Answered:
    """What home tests of a piece came to."""
    said, lines = [], []
    for test in tests:
        grade = test.result.change.grade
        said.append(
            f"{TESTS[test.kind]}: grade {grade.half} (from {grade.worst:.1f} to {grade.best:.1f})"
        )
        for step in test.steps:
            change = step.change
            where = "one photo" if step.in_one_photo else "two photos: less sure"
            grade_cell = f"{change.grade.half} ({change.grade.grade:.1f})"
            ways = ways_words(change.ways)
            cells = (TESTS[test.kind], f"{step.read:%Y-%m-%d}", size_words(change.size))
            lines.append(Line((*cells, ways, grade_cell, where)))
        for stain in test.staining:
            cells = ("white cloth beside it", "", size_words(stain.size))
            lines.append(Line((*cells, "stained", f"{stain.half} ({stain.grade:.1f})", "")))
    beside = [blue_wool_words(t.beside_blue_wools) for t in tests if t.beside_blue_wools]
    first = f"Home test of {piece}: {'; '.join(said)}."
    rows = [row for test in tests for row in fastness_figure(piece, test).rows]
    title = f"{piece}, home tests"
    figure = Figure(title, (first, HOME_TEST), tuple(rows), (1.0,) * len(rows))
    heads = ("Test", "Read", "ΔE00 (95 %)", "In which way", "Grade", "Halves in")
    return Answered((first, *beside, HOME_TEST), figure, heads, tuple(lines))


def running_words(tests: Sequence[RunningTest], now: datetime) -> str:
    """When the next photos of light tests are due, in sentences; "" where none runs."""
    told = []
    for one in tests[:4]:
        late = one.due <= now
        when = "now" if late else f"on {day_words(one.due)}"
        told.append(f"{one.piece} {when}")
    if not told:
        return ""
    more = f" and {counted(len(tests) - 4, 'other', 'others')}" if len(tests) > 4 else ""
    return f"Next photo of light tests: {listed(told)}{more}."


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
