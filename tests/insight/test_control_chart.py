"""Control charts against a published example, and the rules one by one.

Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, individuals control charts: ten
flow rates, mean 50.81, mean moving range 1.8778, limits 55.8041 and 45.8159.
"""

import numpy as np
import pytest

from dyeshade.insight.control_chart import RULES, control_chart

FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
CALM = [0.0, 1.0, -1.0, 0.5, -0.5, 1.0, -1.0, 0.0, 0.5, -0.5]


def test_centre_and_limits_are_those_of_the_published_example():
    chart = control_chart(FLOW, 10)
    assert chart.centre == pytest.approx(50.81)
    assert chart.mean_range == pytest.approx(1.8778, abs=1e-4)
    assert (chart.upper, chart.lower) == (
        pytest.approx(55.8041, abs=1e-3),
        pytest.approx(45.8159, abs=1e-3),
    )
    assert all(not {"beyond_limits", "jump"} & set(point.warnings) for point in chart.points)


def warnings_after(*later):
    chart = control_chart(CALM + list(later), len(CALM))
    # Moving ranges of 11.5 in nine: 1.278 on average, over 1.128.
    assert chart.sd == pytest.approx(1.1328, abs=1e-3)
    return [set(point.warnings) for point in chart.points[len(CALM) :]]


def test_a_value_beyond_three_standard_deviations_is_a_warning():
    assert warnings_after(3.5)[0] == {"beyond_limits"}
    assert warnings_after(3.5, 0.0)[1] == set()


def test_two_of_three_far_out_on_one_side_are_a_warning():
    assert warnings_after(2.3, 0.0, 2.4)[2] == {"two_of_three"}
    assert warnings_after(2.3, 0.0, -2.4)[2] == set()
    assert warnings_after(2.3, 2.4, 0.0)[2] == set()


def test_seven_on_one_side_and_seven_one_way_are_warnings():
    side = warnings_after(0.4, 0.9, 0.3, 0.8, 0.2, 0.9, 0.5)
    assert side[5] == set()
    assert side[6] == {"seven_on_one_side"}
    way = warnings_after(-1.4, -1.0, -0.6, -0.2, 0.2, 0.6, 1.0)
    assert way[6] == {"seven_one_way"}


def test_a_jump_is_a_warning_though_both_values_are_within():
    found = warnings_after(-2.1, 2.2)
    assert found[1] == {"jump"}


def test_a_process_that_stays_warns_rarely():
    random = np.random.default_rng(1)
    chart = control_chart(list(random.normal(size=3000)), 500)
    share = {
        rule: np.mean([rule in point.warnings for point in chart.points[500:]]) for rule in RULES
    }
    # 0.27 % of a normal distribution lies beyond three standard deviations.
    assert share["beyond_limits"] < 0.006
    assert share["two_of_three"] < 0.005
    # Seven of one sign: 2 x (1/2)**7; seven rising or falling: 2 / 7!.
    assert share["seven_on_one_side"] == pytest.approx(1 / 64, abs=0.012)
    assert share["seven_one_way"] < 0.002
    assert share["jump"] < 0.02


def test_values_that_never_differ_do_not_make_limits_of_no_width():
    chart = control_chart([5.0] * 6 + [5.2], 6, least_sd=0.1)
    assert (chart.lower, chart.upper) == (pytest.approx(4.7), pytest.approx(5.3))
    assert chart.points[-1].warnings == ()


def test_limits_need_two_values():
    with pytest.raises(ValueError, match="two values"):
        control_chart([1.0, 2.0], 1)
