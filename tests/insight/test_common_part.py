"""What the errors of two readings have in common, judged by cameras that were not fitted to."""

import numpy as np
import pytest

from dyeshade.insight.common_part import light_change
from dyeshade.measure.camera_colours import weighted_axes
from dyeshade.measure.shared_error import alike
from tests.studies import colour_data
from tests.studies.camera_constants import FITTING
from tests.studies.drift_constants import POWERS, another_light, fades

JUDGING = sorted(set(colour_data.sensitivities()) - set(FITTING))


@pytest.mark.parametrize("power", POWERS)
def test_a_camera_errs_with_a_faded_shade_as_stated(power):
    fresh, faded, size = fades(JUDGING, power)
    left = ((faded - fresh) ** 2).mean() / (2 * (fresh**2).mean())
    stated = np.mean([1 - alike(float(one)) for one in size])
    # Within a third in spread is as well as other cameras can agree.
    assert left**0.5 == pytest.approx(stated**0.5, rel=0.33)


@pytest.mark.parametrize(("kind", "light"), [("daylight", "window"), ("led", "led")])
def test_another_light_of_the_same_kind_changes_as_much_as_stated(kind, light):
    parts, chroma = another_light(JUDGING[::4], kind)
    stated = []
    for one in chroma:
        lab = np.array([50.0, one, 0.0])
        axes = np.linalg.inv(weighted_axes(lab))
        stated.append(np.diag(axes @ light_change(lab, light) @ axes.T))
    ratio = np.sqrt((parts**2).mean(axis=0) / np.mean(stated, axis=0))
    assert ratio == pytest.approx([1, 1, 1], rel=0.25)


def test_equal_shades_have_the_same_error():
    assert alike(0.0) == 1.0
    assert alike(200.0) == pytest.approx(0.0, abs=1e-6)


def test_a_neutral_is_hardly_changed_by_light_that_the_greys_divide_out():
    grey = np.sqrt(np.diag(light_change(np.array([50.0, 0.0, 0.0]), "window")))
    madder = np.sqrt(np.diag(light_change(np.array([42.0, 45.0, 28.0]), "window")))
    assert grey.max() < 0.5
    assert madder.max() > 1.0
