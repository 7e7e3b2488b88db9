"""What the greys and the light tell the reader of a number to mind."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.notices import fit_notices, sample_notices
from tests.measure.grey_scenes import PAGE, grey_signals, random_scene


def test_a_lamp_beside_a_window_is_told_and_one_light_is_not() -> None:
    rng = np.random.default_rng(4)
    signals = grey_signals(random_scene(rng), rng)
    fit = fit_greys(signals, field_for_page(PAGE))
    unburnt = np.zeros(len(signals.reflectance))
    told = {}
    for name, slope in (("one light", 0.002), ("two lights", 0.04)):
        tilt = np.array([[slope, 0.0], [-slope, 0.0]])
        notices = fit_notices(replace(fit, colour_tilt=tilt), signals, unburnt)
        told[name] = {one.code: one.facts for one in notices}
    assert "light_mixed" not in told["one light"]
    assert 4 <= told["two lights"]["light_mixed"]["percent"] <= 12


def test_a_sample_is_set_beside_greys_that_are_burnt_in_one_channel() -> None:
    rng = np.random.default_rng(4)
    signals = grey_signals(random_scene(rng), rng)
    fit = fit_greys(signals, field_for_page(PAGE))
    burnt = signals.usable.copy()
    burnt[:, 0] = False
    signals = replace(signals, usable=burnt)
    near = np.ones(len(signals.reflectance), bool)
    told = {
        level: [one.code for one in sample_notices(fit, signals, near, np.full(3, level))]
        for level in (0.01, 0.2, 1.1)
    }
    assert told == {0.01: ["darker_than_greys"], 0.2: [], 1.1: ["lighter_than_paper"]}
