"""How well a dyer repeats, and the check standard's Shewhart charts, as figures."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.insight.check_standard import CHANNELS, CheckStandard
from dyeshade.insight.control_chart import ControlChart
from dyeshade.insight.repeatability import Repeatability
from dyeshade.library.find import FoundShade
from dyeshade.paper.plot import Axis, Curve, Figure, Level, Mark, Plot, Upright
from dyeshade.paper.plot_axes import number_axis
from dyeshade.words.change_words import APART
from dyeshade.words.dye_words import listed
from dyeshade.words.figure_words import DELTA_E, reading_words, rgb_of, signed
from dyeshade.words.repeat_lines import RULES, claim_words, spread_lines
from dyeshade.words.shade_lines import dyestuff_names

MOST_GROUPS = 12
_PARTS = ("measuring", "pieces of one bath", "baths")


def repeat_figure(found: Repeatability, shades: Mapping[int, FoundShade]) -> Figure:
    """The parts of the spread, and each set of conditions about its mean.

    Parameters
    ----------
    found : Repeatability
    shades : mapping of int to FoundShade
        The readings of its groups, by their ids.
    """
    parts = (found.measuring, found.between_pieces, found.between_baths)
    marks = []
    for place, (name, part) in enumerate(zip(_PARTS, parts, strict=True)):
        if part is not None:
            ends = None if part.stated else (part.low, part.high)
            sure = "as the photos state" if part.stated else f"{part.low:.2f} to {part.high:.2f}"
            words = f"{name}: standard deviation {part.sd:.2f} ({sure})"
            marks.append(Mark(float(place), part.sd, words, y_ends=ends))
    tops = [mark.y_ends[1] if mark.y_ends else mark.y for mark in marks]
    height = number_axis("standard deviation, CIEDE2000", [0.0, *tops], 1.0, 0.0)
    across = Axis("", -0.6, 2.6, tuple((float(k), name) for k, name in enumerate(_PARTS)))
    spread = Plot("", across, height, marks=tuple(marks))
    groups = _groups(found, shades)
    sentences = (claim_words(found), *(line.strip() for line in spread_lines(found)))
    return Figure("How well shades repeat", sentences, ((spread, groups),), (1.0,))


def _groups(found: Repeatability, shades: Mapping[int, FoundShade]) -> Plot:
    marks, ticks = [], []
    for place, group in enumerate(found.groups[:MOST_GROUPS]):
        of = [shades[one] for one in group.reading_ids if one in shades]
        if not of:
            continue
        middle = np.mean([one.reading.lab for one in of], axis=0)
        fibre = group.conditions.fibre or "fibre not written down"
        name = f"{dyestuff_names(group.conditions)} on {fibre}"
        ticks.append((float(place), str(place + 1)))
        for k, one in enumerate(of):
            off = float(ciede2000(middle, one.reading.lab))
            told = reading_words(one.history.piece.code, one.reading)
            # Beside each other within a set, so that none hides another.
            x = place + 0.6 * ((k + 0.5) / len(of) - 0.5)
            words = f"{name}: {told}. {DELTA_E} {off:.1f} from the mean"
            marks.append(Mark(x, off, words, rgb_of(one.reading.srgb), one.reading.id))
    count = len(ticks)
    return Plot(
        "",
        Axis("sets of equal conditions, the largest first", -0.6, count - 0.4, tuple(ticks)),
        number_axis(f"{DELTA_E} from the mean of its set", [0.0, *(m.y for m in marks)], 1.0, 0.0),
        marks=tuple(marks),
    )


def check_figure(found: CheckStandard, sentences: tuple[str, ...]) -> Figure:
    """Charts of L*, a* and b* over the sessions.

    Parameters
    ----------
    found : CheckStandard
    sentences : tuple of str
        Said above them.
    """
    rows = tuple(
        (_chart(found, channel, chart, place == len(CHANNELS) - 1),)
        for place, (channel, chart) in enumerate(zip(CHANNELS, found.charts, strict=True))
    )
    title = f"Check standard {found.piece}"
    return Figure(title, sentences, rows, (1.0, 1.0, 1.2))


def _chart(found: CheckStandard, channel: str, chart: ControlChart, last: bool) -> Plot:
    marks = []
    for place, (point, session) in enumerate(zip(chart.points, found.sessions, strict=True)):
        reading = session.reading
        told = [f"{channel} {point.value:.1f}, {reading_words(found.piece, reading)}"]
        told += [RULES[rule] for rule in point.warnings]
        if session.changed and point.warnings:
            told.append(f"{listed([APART[one] for one in session.changed])} may be another")
        colour, warns = rgb_of(reading.srgb), bool(point.warnings)
        words = "; ".join(told)
        marks.append(Mark(float(place), point.value, words, colour, reading.id, chosen=warns))
    values = [chart.lower, chart.upper, *(point.value for point in chart.points)]
    count = len(marks)
    step = max(1, -(-count // 8))
    dates = [
        (float(k), f"{found.sessions[k].reading.read:%Y-%m-%d}") for k in range(0, count, step)
    ]
    learnt = found.learning - 0.5
    uprights = (
        (Upright(learnt, "limits are made of what is left of this"),)
        if (channel == CHANNELS[0] and count > found.learning)
        else ()
    )
    return Plot(
        "",
        Axis("", -0.6, count - 0.4, tuple(dates) if last else ()),
        number_axis(channel, values, 1.0),
        levels=(
            Level(chart.upper, signed(chart.upper)),
            Level(chart.centre, signed(chart.centre), dashed=False),
            Level(chart.lower, signed(chart.lower)),
        ),
        uprights=uprights,
        curves=(Curve(tuple((mark.x, mark.y) for mark in marks)),),
        marks=tuple(marks),
    )
