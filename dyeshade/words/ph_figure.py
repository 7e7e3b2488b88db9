"""pH series as a figure: the a* b* plane, L* along pH, and a strip of swatches."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.insight.components import SURE
from dyeshade.insight.ph_curve import CurveValue
from dyeshade.paper.plot import Axis, Band, Curve, Figure, Label, Mark, Patch, Plot, Upright
from dyeshade.paper.plot_axes import number_axis, ring_around, ticks_between
from dyeshade.words.dye_words import WHICH_PH, ph_words
from dyeshade.words.figure_words import reading_words, rgb_of
from dyeshade.words.ph_series_lines import nearest_ph_words, next_words, series_words
from dyeshade.words.shades import lab_words, sure_to
from dyeshade.words.wanted_words import wanted_words
from dyeshade.work.ask_ph_series import SeriesAnswer
from dyeshade.work.wanted_colour import WantedColour

_STRIP = 24
_OVER = 0.03
_RINGS = 6
_LINES = ("solid", "dashed")


def ph_sentences(answer: SeriesAnswer) -> tuple[str, ...]:
    """What a series says of the wanted shade, of the next bath and of its ends."""
    if answer.curve is None:
        return ()
    low, high = ph_words(round(answer.curve.lowest, 2)), ph_words(round(answer.curve.highest, 2))
    told = [f"Measured from pH {low} to {high}; nothing is said beyond."]
    if answer.wanted is not None:
        told.insert(0, nearest_ph_words(answer.wanted))
    if answer.next is not None:
        told.append(next_words(answer.next, answer.wanted is not None))
    return tuple(told)


def ph_figure(answers: Sequence[SeriesAnswer], wanted: WantedColour | None = None) -> Figure:
    """One series, or two side by side: the second is dashed.

    Parameters
    ----------
    answers : sequence of SeriesAnswer
        One or two, of one kind of pH.
    wanted : WantedColour, optional
        Shown where it lies.
    """
    which = f"pH {WHICH_PH[answers[0].series.which]}"
    ph = [point.ph for one in answers for point in one.series.points]
    across = number_axis(which, ph, 1.0, 0.0, 14.0)
    uprights = tuple(
        Upright(one.wanted.ph, _nearest_words(one)) for one in answers if one.wanted is not None
    )
    rows: list[tuple[Plot, ...]] = [
        (_plane(answers, wanted), _lightness(answers, across, uprights))
    ]
    if any(one.values for one in answers):
        rows.append((_strip(answers, across),))
    said = [f"{series_words(one.series)}: {' '.join(ph_sentences(one))}" for one in answers]
    title = " and ".join(series_words(one.series) for one in answers)
    return Figure(title, tuple(said), tuple(rows), (5.0, 0.7 + 0.6 * len(answers))[: len(rows)])


def _plane(answers: Sequence[SeriesAnswer], wanted: WantedColour | None) -> Plot:
    marks, curves, labels = [], [], []
    for place, answer in enumerate(answers):
        for point in answer.series.points:
            reading = point.taken.reading
            ring = ring_around(reading.lab[1:], reading.shade.covariance[1:, 1:])
            words = _point_words(answer, point.ph, point.ph_sd)
            told = f"{words}. {reading_words(point.shade.history.piece.code, reading)}"
            marks.append(
                Mark(
                    reading.lab_a,
                    reading.lab_b,
                    told,
                    rgb_of(reading.srgb),
                    reading.id,
                    # Rings of readings and of the curve together could not be told apart.
                    ring=() if answer.values else ring,
                )
            )
        curves.append(Curve(tuple((one.lab[1], one.lab[2]) for one in answer.values), bool(place)))
        for value in _spread_out(answer.values):
            ring = ring_around(value.lab[1:], value.covariance[1:, 1:])
            curves.append(Curve(ring, bool(place), thin=True))
        labels += [
            Label(v.lab[1], v.lab[2], f"pH {ph_words(round(v.ph, 1))}") for v in _ends(answer)
        ]
    if wanted is not None:
        srgb, _ = lab_to_srgb(wanted.lab)
        a, b = float(wanted.lab[1]), float(wanted.lab[2])
        marks.append(Mark(a, b, f"The wanted shade: {wanted_words(wanted)}", srgb, chosen=True))
    points = [point for curve in curves for point in curve.points]
    points += [(mark.x, mark.y) for mark in marks]
    points += [point for mark in marks for point in mark.ring]
    return Plot(
        "",
        number_axis("a*", [x for x, _ in points], 4.0),
        number_axis(
            "b* over a*, rings hold the curve 95 times in 100", [y for _, y in points], 4.0
        ),
        equal=True,
        curves=tuple(curves),
        marks=tuple(marks),
        labels=tuple(labels),
    )


def _lightness(
    answers: Sequence[SeriesAnswer], across: Axis, uprights: tuple[Upright, ...]
) -> Plot:
    marks, curves, bands = [], [], []
    for place, answer in enumerate(answers):
        code = [point.shade.history.piece.code for point in answer.series.points]
        for piece, point in zip(code, answer.series.points, strict=True):
            reading, off = point.taken.reading, SURE * point.ph_sd
            sd = float(reading.shade.covariance[0, 0]) ** 0.5
            told = _point_words(answer, point.ph, point.ph_sd)
            marks.append(
                Mark(
                    point.ph,
                    reading.lab_l,
                    f"{told}. {reading_words(piece, reading)}",
                    rgb_of(reading.srgb),
                    reading.id,
                    x_ends=(point.ph - off, point.ph + off),
                    y_ends=(reading.lab_l - SURE * sd, reading.lab_l + SURE * sd),
                )
            )
        if answer.values:
            curves.append(Curve(tuple((one.ph, one.lab[0]) for one in answer.values), bool(place)))
            spread = [
                (v.ph, v.lab[0], SURE * float(v.covariance[0, 0]) ** 0.5) for v in answer.values
            ]
            bands.append(Band(tuple((ph, mid - off, mid + off) for ph, mid, off in spread)))
            for side in (-1, 1):
                edge = tuple((ph, mid + side * off) for ph, mid, off in spread)
                curves.append(Curve(edge, bool(place), thin=True))
    values = [end for mark in marks if mark.y_ends for end in mark.y_ends]
    values += [end for band in bands for _, *ends in band.points for end in ends]
    return Plot(
        "",
        across,
        number_axis("L*, the band holds the curve 95 times in 100", values, 4.0),
        bands=tuple(bands),
        uprights=uprights,
        curves=tuple(curves),
        marks=tuple(marks),
    )


def _strip(answers: Sequence[SeriesAnswer], across: Axis) -> Plot:
    """Swatches along the measured pH, series below series; bare ground where nothing was measured.

    It is the key to solid and dashed lines, too.
    """
    count = len(answers)
    patches: list[Patch] = []
    names = []
    for place, answer in enumerate(answers):
        step = max(1, (len(answer.values) - 1) // _STRIP)
        chosen = list(answer.values[::step])
        if chosen:
            halves = [(one.ph + other.ph) / 2 for one, other in pairwise(chosen)]
            edges = [chosen[0].ph, *halves, chosen[-1].ph]
            level = count - 1 - place
            patches += [
                Patch(
                    # Each under the next one, so that the ground shows through no seam.
                    (low, min(high + _OVER, chosen[-1].ph)),
                    (level + 0.08, level + 0.92),
                    value.srgb,
                    _value_words(value),
                )
                for value, low, high in zip(chosen, edges, edges[1:], strict=False)
            ]
        name = series_words(answer.series)
        names.append(name if count == 1 else f"{_LINES[place]}: {name}")
    ticks = ticks_between(across.low, across.high, 12)
    levels = [(count - 0.5 - k, _LINES[k]) for k in range(count)] if count > 1 else []
    axis = Axis("", across.low, across.high, ticks)
    uprights = tuple(Upright(one.wanted.ph, "") for one in answers if one.wanted is not None)
    height = Axis("", 0.0, float(count), tuple(levels))
    return Plot("; ".join(names), axis, height, patches=tuple(patches), uprights=uprights)


def _spread_out(values: Sequence[CurveValue]) -> list[CurveValue]:
    count = min(_RINGS, len(values))
    return [values[round(k * (len(values) - 1) / max(count - 1, 1))] for k in range(count)]


def _ends(answer: SeriesAnswer) -> list[CurveValue]:
    return [answer.values[0], answer.values[-1]] if answer.values else []


def _nearest_words(answer: SeriesAnswer) -> str:
    assert answer.wanted is not None
    fibre = answer.series.conditions.fibre
    return f"nearest{f' on {fibre}' if fibre else ''}: pH {ph_words(round(answer.wanted.ph, 1))}"


def _value_words(value: CurveValue) -> str:
    sure = sure_to(value.u95).partition(":")[0]
    near = "" if value.in_gamut else "; the screen can't show it, only come near"
    return f"pH {value.ph:.1f}: {lab_words(value.lab)}, sure to {sure}{near}"


def _point_words(answer: SeriesAnswer, ph: float, sd: float) -> str:
    return f"pH {ph_words(ph)} {WHICH_PH[answer.series.which]}, sure to {SURE * sd:.1f}"
