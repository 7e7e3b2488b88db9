"""Drift of a piece as a figure."""

from __future__ import annotations

from dyeshade.insight.drift import SETTLED_WITHIN, Drift, DriftPoint
from dyeshade.paper.plot import Axis, Figure, Level, Mark, Plot, Upright
from dyeshade.paper.plot_axes import day_axis, days_since, number_axis
from dyeshade.words.change_words import change_words, how_words
from dyeshade.words.drift_lines import verdict_words
from dyeshade.words.dye_words import TREATMENTS, first_capital
from dyeshade.words.figure_words import DELTA_E, reading_words, rgb_of
from dyeshade.words.shade_lines import step_words

GRADES = "grade for change in colour (ISO 105-A05)"


def drift_title(drift: Drift) -> str:
    """The piece by its code and name."""
    piece = drift.history.piece
    return ", ".join(filter(None, (piece.code, piece.name)))


def drift_figure(drift: Drift) -> Figure:
    """Differences from the chosen reading over time, with treatments, and grades below them.

    Parameters
    ----------
    drift : Drift
    """
    points = drift.points
    base = next(one.reading for one in points if drift.chosen(one))
    begin = points[0].reading.read
    treatments = [
        (step.treatment.started, TREATMENTS[step.treatment.kind], step_words(step))
        for point in points[1:]
        for step in point.steps
        if step.treatment.started is not None
    ]
    moments = [point.reading.read for point in points] + [when for when, _, _ in treatments]
    across = day_axis("", begin, moments)
    code = drift.history.piece.code
    shown, grades = [], []
    for point in points:
        words = _point_words(code, point)
        x = days_since(begin, point.reading.read)
        common = (rgb_of(point.reading.srgb), point.reading.id)
        change = point.since_base
        if change is None:
            shown.append(Mark(x, 0.0, words, *common, chosen=point.reading is base))
            grades.append(Mark(x, 5.0, words, *common, chosen=True))
            continue
        size, grade = change.size, change.grade
        shown.append(Mark(x, size.value, words, *common, y_ends=(size.low, size.high)))
        ends = (grade.worst, grade.best)
        grades.append(Mark(x, grade.grade, words, *common, y_ends=ends))
    # Read once, there is nothing above none; the scale is to say so.
    tops = [one.y_ends[1] for one in shown if one.y_ends] or [SETTLED_WITHIN]
    uprights = tuple(
        Upright(days_since(begin, when), words) for when, words, _ in sorted(treatments)
    )
    said = f"{DELTA_E} from {base.read:%Y-%m-%d}, with its 95 % interval"
    height = number_axis(said, [0.0, *tops], 2.0)
    levels = (Level(0.0, dashed=False),)
    return Figure(
        drift_title(drift),
        (verdict_words(drift), *drift_cautions(drift)),
        (
            (Plot("", across, height, levels=levels, uprights=uprights, marks=tuple(shown)),),
            (Plot("", across, grade_axis(GRADES), marks=tuple(grades)),),
        ),
        (3.0, 2.0),
    )


def grade_axis(words: str) -> Axis:
    """Grades with the best on top."""
    return Axis(words, 0.7, 5.3, tuple((float(one), str(one)) for one in range(1, 6)))


def drift_cautions(drift: Drift) -> tuple[str, ...]:
    """What keeps differences from being as sure as they might be, and what was left out."""
    told = {how_words(one.since_base.difference) for one in drift.points if one.since_base}
    cautions = [first_capital(words) for words in sorted(filter(None, told))]
    if drift.left_out:
        kind = "Wet" if drift.left_out[0].state == "wet" else "Dry"
        cautions.append(f"{kind} readings are left out: wet and dry differ by the water alone.")
    return tuple(cautions)


def _point_words(code: str, point: DriftPoint) -> str:
    told = reading_words(code, point.reading)
    if len(point.readings) > 1:
        told += f", the first of {len(point.readings)} taken together"
    if point.since_base is None:
        return f"{told}. The others are set beside this one."
    after = "; ".join(step_words(step) for step in point.steps)
    between = f" Before it: {after}." if after else ""
    return f"{told}. {change_words(point.since_base)}.{between}"
