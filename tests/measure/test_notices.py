"""What the greys and the light tell the reader of a number to mind."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.notices import fit_notices
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
