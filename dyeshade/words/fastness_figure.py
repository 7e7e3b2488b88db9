"""Home fastness tests as figures: a ladder of grades that a piece goes down as it is exposed."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.insight.change import Change
from dyeshade.insight.fastness import HomeStep, HomeTest
from dyeshade.paper.plot import Axis, Curve, Figure, Label, Level, Mark, Plot, Point, Rgb
from dyeshade.paper.plot_axes import day_axis, days_since, number_axis
from dyeshade.words.change_words import change_words, size_words
from dyeshade.words.drift_figure import GRADES, grade_axis
from dyeshade.words.fastness_lines import day_of_step
from dyeshade.words.figure_words import DELTA_E
from dyeshade.words.home_test_words import HOME_TEST, TESTS

STAINING = "grade for staining of white (ISO 105-A04)"
RUNGS = tuple(Level(float(grade)) for grade in range(1, 6))
"""The steps of the ladder: whole grades."""

_ASIDE, _NAME = 0.05, 0.28
"""How far blue wools stand beside the piece, and the room of a name: shares of the days' width."""

_NAME_BELOW, _NAMES_APART, _CLEAR = 0.42, 0.45, 0.25
"""In grades: so that a name stands level with its mark, clear of the next name and of a rung."""

_DAYS = (0, 1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 1024)


def fastness_figure(piece: str, tests: Sequence[HomeTest], sentences: Sequence[str]) -> Figure:
    """Home tests of a piece, each with its ladder of grades and, beneath, the differences.

    Parameters
    ----------
    piece : str
    tests : sequence of HomeTest
    sentences : sequence of str
        What is said of them.
    """
    rows = [row for test in tests for row in _rows(test, several=len(tests) > 1)]
    heights = tuple(1.0 for _ in rows)
    return Figure(f"{piece}, home tests", (*sentences, HOME_TEST), tuple(rows), heights)


def _rows(test: HomeTest, several: bool) -> list[tuple[Plot, ...]]:
    title = f"home test of {TESTS[test.kind]}" if several else ""
    across = _across(test)
    plots: list[Plot] = []
    if any(step.change is not None for step in test.steps):
        plots += [_ladder(test, across, title), _sizes(test, across)]
    if any(step.staining for step in test.steps):
        plots.append(_stains(test, across, "" if plots else title))
    return [tuple(plots)]


def _x(test: HomeTest, step: HomeStep) -> float:
    """Where a photo stands: by the doublings of its days where the test was set up."""
    if test.begun is None:
        return days_since(test.steps[0].read, step.read)
    days = (step.read.date() - test.begun.date()).days
    return math.log2(1 + max(days, 0))


def _across(test: HomeTest) -> Axis:
    if test.begun is None:
        begin = test.steps[0].read
        return day_axis("", begin, [step.read for step in test.steps])
    last = max(1.0, *(_x(test, step) for step in test.steps))
    beside = max((len(step.blue_wools) for step in test.steps), default=0)
    # Room at the right for the blue wools, and for their names.
    high = last + 0.35 + (_ASIDE * last * beside + _NAME * last if beside else 0.0)
    ticks = [(math.log2(1 + day), str(day)) for day in _DAYS]
    words = "days of light" if test.kind == "light" else "days since it was treated"
    return Axis(words, -0.3, high, tuple(one for one in ticks if one[0] <= last + 0.35))


def _ladder(test: HomeTest, across: Axis, title: str) -> Plot:
    marks: list[Mark] = []
    points: list[Point] = []
    wools: dict[int, list[Point]] = {}
    width = across.high - across.low
    for step in test.steps:
        x = _x(test, step)
        if step.change is not None:
            grade, words = step.change.grade, _step_words(test, step, step.change)
            ends = (grade.worst, grade.best)
            place = (x, grade.grade, words, _rgb(step.change), step.reading_id)
            marks.append(Mark(*place, y_ends=ends))
            points.append((x, grade.grade))
        for number, change in step.blue_wools.items():
            wools.setdefault(number, [])
            aside = x + _ASIDE * width * (1 + list(wools).index(number))
            wools[number].append((aside, change.grade.grade))
            words = f"Blue wool {number}, {step.read:%Y-%m-%d}: {change_words(change)}"
            own = step.wool_ids.get(number)
            marks.append(Mark(aside, change.grade.grade, words, _rgb(change), own))
    curves = [Curve(_stairs(points))]
    curves += [Curve(tuple(one), dashed=True, thin=True) for one in wools.values()]
    return Plot(
        title,
        across,
        grade_axis(GRADES),
        levels=RUNGS,
        curves=tuple(curve for curve in curves if len(curve.points) > 1),
        marks=tuple(marks),
        labels=_names(wools, across),
    )


def _names(wools: Mapping[int, Sequence[Point]], across: Axis) -> tuple[Label, ...]:
    """The blue wools' names to the right of their last marks, none on another."""
    labels: list[Label] = []
    ends = sorted(((one[-1], number) for number, one in wools.items()), key=lambda e: -e[0][1])
    right = max((end[0] for end, _ in ends), default=0.0)
    x = right + _NAME / 2 * (across.high - across.low)
    for (_, grade), number in ends:
        rung = round(grade)
        # Between the rungs, which would strike it out.
        middle = grade if abs(grade - rung) > _CLEAR else rung + math.copysign(_CLEAR, grade - rung)
        y = middle - _NAME_BELOW
        if labels:
            y = min(y, labels[-1].y - _NAMES_APART)
        labels.append(Label(x, y, f"blue wool {number}"))
    return tuple(labels)


def _sizes(test: HomeTest, across: Axis) -> Plot:
    marks = []
    for step in test.steps:
        if step.change is not None:
            size, words = step.change.size, _step_words(test, step, step.change)
            ends = (size.low, size.high)
            place = (_x(test, step), size.value, words, _rgb(step.change), step.reading_id)
            marks.append(Mark(*place, y_ends=ends))
    tops = [one.y_ends[1] for one in marks if one.y_ends]
    height = number_axis(f"{DELTA_E} from the untreated half", [0.0, *tops], 2.0)
    return Plot("", across, height, levels=(Level(0.0, dashed=False),), marks=tuple(marks))


def _stains(test: HomeTest, across: Axis, title: str) -> Plot:
    marks = []
    for step in test.steps:
        for stain in step.staining:
            words = (
                f"White cloth, {step.read:%Y-%m-%d}: {DELTA_E} {size_words(stain.size)}; grade for "
                f"staining {stain.half}"
            )
            srgb = lab_to_srgb(stain.difference.lab_to)[0]
            ends = (stain.worst, stain.best)
            place = (_x(test, step), stain.grade, words, srgb, stain.reading_id)
            marks.append(Mark(*place, y_ends=ends))
    return Plot(title, across, grade_axis(STAINING), levels=RUNGS, marks=tuple(marks))


def _stairs(points: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """A grade holds until the next photo shows another."""
    found = list(points[:1])
    for x, grade in points[1:]:
        found += [(x, found[-1][1]), (x, grade)]
    return tuple(found)


def _step_words(test: HomeTest, step: HomeStep, change: Change) -> str:
    day = day_of_step(test, step)
    when = f"{step.read:%Y-%m-%d}" + (f", {day}" if day else "")
    where = "" if step.in_one_photo else ", untreated and treated in two photos"
    return f"{when}: {change_words(change)}{where}"


def _rgb(change: Change) -> Rgb:
    return lab_to_srgb(change.difference.lab_to)[0]
