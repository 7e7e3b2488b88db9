"""Tap water as the water works report it."""

import pytest

from dyeshade.bath.equilibrium import solve
from dyeshade.bath.water import Water, alkalinity_mg_l, in_degrees, water_contents
from dyeshade.errors import DyeshadeError


@pytest.mark.parametrize(("mg_l", "ph"), [(20, 6.8), (150, 7.5), (300, 8.2), (100, 9.0)])
def test_water_has_the_ph_that_was_read(mg_l, ph):
    assert solve(water_contents(Water(mg_l, ph), 5.0)).ph == pytest.approx(ph, abs=0.002)


def test_soft_water_holds_no_ph():
    assert solve(water_contents(Water(0.0, 7.8), 5.0)).ph == pytest.approx(7.0, abs=0.01)


def test_degrees_of_hardness_are_what_they_were_made_from():
    # DIN: 1 degree dH = 17.85 mg/L CaCO3; French 10; English 14.25 (common tables).
    assert alkalinity_mg_l(1.0, "german") == pytest.approx(17.85, abs=0.01)
    assert alkalinity_mg_l(1.0, "french") == 10.0
    assert alkalinity_mg_l(7.0, "english") == pytest.approx(100.0, abs=0.3)
    assert in_degrees(100.0)["german"] == pytest.approx(5.60, abs=0.01)


@pytest.mark.parametrize(
    ("water", "volume_l", "code"),
    [
        (Water(100.0, 7.5), 0.0, "bath_volume"),
        (Water(100.0, 7.5), float("nan"), "bath_volume"),
        (Water(-1.0, 7.5), 5.0, "water_alkalinity"),
        (Water(float("nan"), 7.5), 5.0, "water_alkalinity"),
        (Water(100.0, 15.0), 5.0, "ph_off_scale"),
        (Water(0.0, 11.0), 5.0, "water_impossible"),
        (Water(300.0, 3.5), 5.0, "water_impossible"),
    ],
)
def test_water_that_cannot_be_is_refused(water, volume_l, code):
    with pytest.raises(DyeshadeError, match=code):
        water_contents(water, volume_l)
