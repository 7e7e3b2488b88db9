"""A camera's own colours, against measured cameras, CIE data and real photographs of a chart."""

import json

import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import xyz_to_lab
from dyeshade.measure.calibrated_spread import KINDS, with_spread
from dyeshade.measure.learn_colours import LEAST_COLOURS, learn_colours
from dyeshade.measure.own_colours import OwnColours
from dyeshade.measure.typical_camera import camera_base
from tests.studies import colour_data
from tests.studies.calibration import real_chart_light
from tests.studies.camera_constants import FITTING

RAW_BASE = camera_base(colour_data.srgb_matrix(), rendered=True)
SOME = sorted(set(colour_data.sensitivities()) - set(FITTING))[::9]
CHART, TESTS = colour_data.chart_spectra(), colour_data.test_colours()
LABS = [colour_data.lab_of(colour_data.xyz_of(spectra)) for spectra in (CHART, TESTS)]


@pytest.mark.parametrize(("light", "at_most"), [("D6500", 0.85), ("LED-B3", 0.75)])
def test_a_chart_teaches_measured_cameras_the_cie_test_colours(light, at_most):
    # Sensitivities: RAW to ACES data; illuminants: CIE 15:2018; colours: CIE 224:2017.
    before, after = [], []
    for camera in SOME:
        seen, known = (colour_data.balanced(camera, light, s) for s in (TESTS, CHART))
        learnt = learn_colours(known, LABS[0], RAW_BASE, rendered=False)
        before.append(ciede2000(xyz_to_lab(seen @ RAW_BASE.T), LABS[1]))
        after.append(ciede2000(learnt.colours.lab(seen), LABS[1]))
    assert np.median(after) < at_most * np.median(before)


@pytest.fixture(scope="module")
def real():
    rows = colour_data.real_chart_rows()
    return {number: (real_chart_light(rows[number]), rows[number]["lab"]) for number in (1, 2, 5)}


def test_real_photographs_each_patch_left_out(real):
    # tests/data/real_charts.csv; the study does all eleven, and leaves out all the way.
    learnt = [learn_colours(light, lab, RAW_BASE, rendered=True) for light, lab in real.values()]
    assert sum(one.error for one in learnt) < 0.8 * sum(one.before for one in learnt)


def test_a_real_camera_calibrated_on_one_photo_is_surer_on_another(real):
    # Photos 1 and 2 are of one camera.
    own = learn_colours(*real[1], RAW_BASE, rendered=True).colours
    light, lab = real[2]
    before = ciede2000(xyz_to_lab(light @ RAW_BASE.T), lab)[:18].mean()
    assert ciede2000(own.lab(light), lab)[:18].mean() < 0.8 * before


@pytest.fixture(scope="module")
def learnt(real):
    return learn_colours(*real[5], RAW_BASE, rendered=True)


def test_white_and_greys_stay_what_the_greys_said(learnt):
    for level in (1.0, 0.2, 0.04):
        lab = learnt.colours.lab(np.full(3, level))
        assert lab[1:] == pytest.approx([0, 0], abs=0.02)


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_kept_gives_the_same_colours_and_spread(learnt, real, kind):
    own = with_spread(learnt, real[5][1], kind, "window")
    back = OwnColours.from_json(json.loads(json.dumps(own.to_json())))
    light = real[5][0]
    assert back.lab(light) == pytest.approx(own.lab(light), abs=1e-5)
    grey, vivid = back.covariance(np.array([50, 0, 0])), back.covariance(np.array([50, 60, 20]))
    assert 0 < np.trace(grey) < np.trace(vivid)


def test_too_few_colours_are_our_mistake():
    light = np.ones((LEAST_COLOURS - 1, 3))
    with pytest.raises(ValueError, match="few"):
        learn_colours(light, light, RAW_BASE, rendered=True)
