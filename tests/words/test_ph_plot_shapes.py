"""The plot of a bath on its way to a pH stays within its frame and keeps pH in their order."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dyeshade.bath.reach.plot import NextPoint, ReachPlot, ReadPoint
from dyeshade.bath.reach.propose import Spread
from dyeshade.words.ph_plot_shapes import plot_shapes

PLOT = ReachPlot(
    tuple(ReadPoint(k, ph, 0.5, "strip") for k, ph in ((0, 5.2), (1, 6.0), (1, 6.3))),
    (Spread(5.2, 4.8, 5.7), Spread(6.1, 5.8, 6.5)),
    tuple(NextPoint(float(k), Spread(6.1 + k / 10, 5.8, 6.5 + k / 5)) for k in range(11)),
    7.5,
    3.5,
    9.5,
)


def test_readings_lie_after_their_additions_and_those_of_one_beside_each_other():
    shapes = plot_shapes(PLOT, "ml")
    xs = [one.x for one in shapes.readings]
    assert xs == sorted(set(xs))
    assert shapes.readings[1].y < shapes.readings[2].y
    assert [words for _, words in shapes.step_marks] == ["before", "1", "+ 10 ml"]


def test_target_lies_below_the_ceiling_and_their_words_are_apart():
    for target in (7.5, 9.4, 9.5):
        bounds = {one.kind: one for one in plot_shapes(replace(PLOT, target=target)).bounds}
        assert bounds["target"].y <= bounds["ceiling"].y
        assert bounds["ceiling"].label_y - bounds["target"].label_y >= 0.07


def test_all_that_is_believed_lies_within_the_frame():
    shapes = plot_shapes(PLOT)
    for x, y in (point for shape in (*shapes.bands, *shapes.lines) for point in shape):
        assert 0 <= x <= 1
        assert 0 <= y <= 1


def test_the_line_of_what_would_come_begins_where_the_bath_is():
    first, second = plot_shapes(PLOT).lines
    assert first[-1] == pytest.approx(second[0])


def test_a_liquor_that_was_only_read_has_a_band_of_some_width():
    only = replace(PLOT, read=PLOT.read[:1], believed=PLOT.believed[:1], to_come=())
    (band,) = plot_shapes(only).bands
    assert max(x for x, _ in band) > min(x for x, _ in band)


def test_it_is_told_in_words():
    words = plot_shapes(PLOT).in_words
    assert "5.2 before any addition" in words
    assert "between 5.8 and 6.5" in words
