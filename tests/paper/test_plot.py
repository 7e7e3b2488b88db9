"""Plots as they are laid out: round ticks, days, regions, and everything at its place."""

from __future__ import annotations

from datetime import datetime, timedelta
from io import BytesIO

import numpy as np
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from dyeshade.paper.plot import Axis, Band, Curve, Figure, Level, Mark, Patch, Plot, Upright
from dyeshade.paper.plot_axes import day_axis, days_since, number_axis, ring_around, ticks_between
from dyeshade.paper.plot_page import FILE_MM, LaidFigure, figure_pdf, lay_out
from dyeshade.paper.plot_place import GROUND
from dyeshade.paper.typeset import width_mm

BEGIN = datetime(2026, 3, 1, 9, 30)


def a_plot(**given) -> Plot:
    plain = {
        "title": "",
        "x": Axis("pH", 4.0, 10.0, ((4.0, "4"), (7.0, "7"), (10.0, "10"))),
        "y": Axis("L*", 0.0, 100.0, ((0.0, "0"), (50.0, "50"), (100.0, "100"))),
    }
    return Plot(**(plain | given))


def laid(*plots: Plot, size=(200.0, 120.0)) -> LaidFigure:
    rows = tuple((plot,) for plot in plots)
    return lay_out(Figure("A title", (), rows, (1.0,) * len(rows)), size)


def ground(figure: LaidFigure, place: int = 0):
    grounds = [s.rects[0] for s in figure.under.shapes if s.grey == GROUND]
    return grounds[place]


@given(
    st.floats(-1000, 1000, allow_nan=False),
    st.floats(0.01, 1000, allow_nan=False),
)
def test_ticks_are_round_few_and_within_the_axis(low: float, span: float) -> None:
    ticks = ticks_between(low, low + span)
    slack = 1e-6 * max(1.0, abs(low), span)
    assert 1 <= len(ticks) <= 7
    assert all(low - slack <= value <= low + span + slack for value, _ in ticks)
    for value, words in ticks:
        assert float(words.replace("\u2212", "-")) == pytest.approx(value, abs=1e-6 * span + 1e-9)


def test_an_axis_spans_what_it_must_and_goes_no_further_than_it_may() -> None:
    axis = number_axis("ΔE00", [0.0, 0.1], 2.0, 0.0)
    assert axis.low == 0.0
    assert axis.high >= 2.0
    assert number_axis("pH", [13.9, 14.0], 1.0, 0.0, 14.0).high == 14.0
    wide = number_axis("b*", [-30.0, 50.0])
    assert wide.low < -30.0 < 50.0 < wide.high


@pytest.mark.parametrize("days", [2, 9, 40, 200, 900, 8000])
def test_days_are_marked_at_midnight_of_the_day_that_is_written(days: int) -> None:
    axis = day_axis("", BEGIN, [BEGIN, BEGIN + timedelta(days=days)])
    assert 2 <= len(axis.ticks) <= 7
    for value, words in axis.ticks:
        moment = BEGIN + timedelta(days=value)
        assert abs(moment - datetime.fromisoformat(words)) < timedelta(minutes=1)


def test_readings_of_one_day_have_that_day_marked() -> None:
    axis = day_axis("", BEGIN, [BEGIN, BEGIN + timedelta(hours=2)])
    assert axis.ticks == ((0.0, "2026-03-01"),)
    assert axis.low < 0.0 < days_since(BEGIN, BEGIN + timedelta(hours=2)) < axis.high


def test_a_ring_holds_95_of_100() -> None:
    covariance = np.array([[4.0, 1.5], [1.5, 2.0]])
    ring = np.array(ring_around((10.0, -5.0), covariance))
    weighed = np.einsum("ia,ab,ib->i", ring - [10, -5], np.linalg.inv(covariance), ring - [10, -5])
    assert weighed == pytest.approx(np.full(len(ring), weighed[0]))
    random = np.random.default_rng(1)
    drawn = random.multivariate_normal([0, 0], covariance, 20_000)
    inside = np.einsum("ia,ab,ib->i", drawn, np.linalg.inv(covariance), drawn) <= weighed[0]
    assert inside.mean() == pytest.approx(0.95, abs=0.005)


def test_marks_stand_where_their_values_are() -> None:
    mark = Mark(7.0, 50.0, "middle", (200, 10, 10), 7, y_ends=(40.0, 60.0))
    figure = laid(a_plot(marks=(mark,)))
    x, y, wide, high = ground(figure)
    (spot,) = figure.spots
    left, top, size, _ = spot.rect
    assert (left + size / 2, top + size / 2) == pytest.approx((x + wide / 2, y + high / 2))
    assert spot.reading_id == 7
    bar = max(figure.under.strokes, key=lambda one: abs(one.line[1] - one.line[3]))
    assert sorted((bar.line[1], bar.line[3])) == pytest.approx([y + 0.4 * high, y + 0.6 * high])


def test_what_lies_beyond_an_axis_is_drawn_at_its_end() -> None:
    figure = laid(a_plot(marks=(Mark(12.0, -5.0, "", (1, 2, 3)),)))
    x, y, wide, high = ground(figure)
    left, top, size, _ = figure.spots[0].rect
    assert (left + size / 2, top + size / 2) == pytest.approx((x + wide, y + high))


def test_a_swatch_at_an_end_of_the_axis_stays_off_the_words() -> None:
    low, high = Mark(7.0, 0.0, "", (1, 2, 3)), Mark(7.0, 100.0, "", (1, 2, 3), chosen=True)
    figure = laid(a_plot(marks=(low, high)))
    _, y, _, tall = ground(figure)
    for spot in figure.spots:
        assert y <= spot.rect[1]
        assert spot.rect[1] + spot.rect[3] <= y + tall


def test_on_a_low_page_a_strip_keeps_its_words() -> None:
    strip = a_plot(x=Axis("", 4.0, 10.0, ((7.0, "7"),)), y=Axis("", 0.0, 1.0, ()), title="weld")
    figure = Figure("", (), ((a_plot(),), (strip,)), (5.0, 1.3))
    laid_out = lay_out(figure, (180.0, 69.0), 8.0, alone=False, margin=2.0)
    assert max(one.baseline_mm for one in laid_out.frame) < 67.0


def test_steps_of_a_and_b_are_of_one_length() -> None:
    ends = (Mark(4.0, 40.0, "", (1, 2, 3)), Mark(10.0, 40.0, "", (1, 2, 3)))
    up = Mark(4.0, 46.0, "", (1, 2, 3))
    figure = laid(a_plot(equal=True, marks=(*ends, up)))
    a, b, c = (np.array(spot.rect[:2]) for spot in figure.spots)
    assert b[0] - a[0] == pytest.approx(a[1] - c[1])


def test_plots_above_each_other_stand_in_line() -> None:
    wide = Axis("", 0.0, 1.0, ((0.5, "a very long tick"),))
    figure = laid(a_plot(), a_plot(y=wide))
    assert ground(figure, 0)[0] == ground(figure, 1)[0]
    assert ground(figure, 0)[2] == ground(figure, 1)[2]


def test_words_of_treatments_never_run_into_each_other() -> None:
    days = (5.0, 5.1, 5.2, 5.3, 9.0)
    uprights = tuple(Upright(day, f"treatment {k}") for k, day in enumerate(days))
    figure = laid(a_plot(uprights=uprights))
    told = [text for text in figure.frame if text.words.startswith("treatment")]
    # Three rows of words; the fourth of those that crowd is told only when it is pointed at.
    assert [text.words[-1] for text in told] == ["0", "1", "2", "4"]
    assert {spot.words[-1] for spot in figure.spots} == set("01234")
    for text in told:
        others = [o for o in told if o is not text and o.baseline_mm == text.baseline_mm]
        end = text.x_mm + width_mm(text.words, "sans", text.points)
        assert all(o.x_mm > end or o.x_mm < text.x_mm for o in others)


@pytest.mark.parametrize("size", [(120.0, 60.0), (200.0, 120.0), FILE_MM])
def test_nothing_is_drawn_off_the_page(size: tuple[float, float]) -> None:
    plot = a_plot(
        levels=(Level(50.0, "50.0"),),
        uprights=(Upright(10.0, "a treatment at the very end"),),
        marks=(Mark(10.0, 100.0, "corner", (9, 9, 9)),),
    )
    figure = lay_out(Figure("t", (), ((plot, plot),), (1.0,)), size, alone=False, margin=3.0)
    for text in figure.frame:
        assert text.x_mm >= 0.0, text.words
        end = text.x_mm + width_mm(text.words, "sans", text.points)
        assert end <= size[0] + 0.1, text.words
        assert 0.0 < text.baseline_mm <= size[1]


def test_a_dashed_line_is_drawn_for_three_fifths() -> None:
    line = Curve(((4.0, 50.0), (7.0, 50.0), (10.0, 50.0)), dashed=True)
    plain, dashed = (laid(a_plot(curves=(one,))) for one in (Curve(line.points), line))
    width = ground(plain)[2]
    drawn = sum(one.line[2] - one.line[0] for one in dashed.under.strokes if one.width_mm > 0.3)
    assert drawn / width == pytest.approx(1.8 / 3.0, abs=0.02)
    whole = sum(one.line[2] - one.line[0] for one in plain.under.strokes if one.width_mm > 0.3)
    assert whole == pytest.approx(width)


def test_the_pdf_shows_ground_band_and_swatch_in_their_colours() -> None:
    plot = a_plot(
        bands=(Band(((4.0, 60.0, 90.0), (10.0, 60.0, 90.0))),),
        patches=(Patch((5.0, 6.0), (10.0, 20.0), (12, 200, 90), "a field"),),
        marks=(Mark(7.0, 30.0, "a swatch", (214, 200, 74), 3),),
    )
    figure = Figure("Weld", ("It has moved.",), ((plot,),), (1.0,))
    data = figure_pdf(figure)
    assert data == figure_pdf(figure)
    text = PdfReader(BytesIO(data)).pages[0].extract_text()
    assert "Weld" in text
    assert "It has moved." in text
    placed = lay_out(figure, FILE_MM)
    x, y, wide, high = ground(placed)
    scale = 4.0
    with pypdfium2.PdfDocument(data) as pdf:
        seen = pdf[0].render(scale=scale * 25.4 / 72).to_numpy()[:, :, ::-1]

    def at(ph: float, lightness: float) -> tuple[int, ...]:
        across, down = x + wide * (ph - 4) / 6, y + high * (1 - lightness / 100)
        return tuple(int(v) for v in seen[round(scale * down), round(scale * across)])

    assert at(9.0, 30.0) == (119, 119, 119)
    assert at(9.0, 75.0) == (158, 158, 158)
    assert at(7.0, 30.0) == (214, 200, 74)
    assert at(5.5, 15.0) == (12, 200, 90)
