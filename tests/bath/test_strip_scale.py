"""A strip's pad on its printed scale: the blocks' pH, between them, and what is none of them."""

import numpy as np
import pytest

from dyeshade.bath.strip_scale import StripScale, place_on_scale
from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.metric import metric_at, root_of
from dyeshade.errors import DyeshadeError
from tests.bath.strips import pad_labs

PH = np.arange(3.0, 11.0)
SCALE = StripScale(PH, pad_labs(PH))


def errors(own: float, shared: float = 0.0, blocks: int = len(PH)) -> np.ndarray:
    """Covariance of errors of a pad and its blocks, Lab units: each one's own and all of theirs."""
    return np.kron(own**2 * np.eye(1 + blocks) + shared**2, np.eye(3))


@pytest.mark.parametrize("k", range(len(PH)))
def test_a_pad_of_a_blocks_colour_has_its_ph(k):
    found = place_on_scale(SCALE, SCALE.lab[k], errors(0.5))
    assert found.ph == PH[k]
    assert found.on_scale
    assert found.low <= PH[k] <= found.high
    assert found.distance == pytest.approx(0.0, abs=1e-6)
    assert found.at_end == (k in (0, len(PH) - 1))


@pytest.mark.parametrize("k", range(len(PH) - 1))
def test_a_pad_between_two_blocks_lies_between_them(k):
    middle = (SCALE.lab[k] + SCALE.lab[k + 1]) / 2
    found = place_on_scale(SCALE, middle, errors(0.5))
    assert PH[k] < found.ph < PH[k + 1]
    assert found.on_scale


@pytest.mark.parametrize("lab", [(20.0, 0.0, 0.0), (60.0, 0.0, -60.0), (85.0, 60.0, 60.0)])
def test_a_colour_far_from_the_path_is_off_the_scale(lab):
    found = place_on_scale(SCALE, np.array(lab), errors(0.5))
    assert not found.on_scale
    assert found.distance > 10


def test_errors_that_pad_and_blocks_share_do_not_widen_the_answer():
    pad = pad_labs(6.3)[0]
    narrow, same = (place_on_scale(SCALE, pad, errors(0.3, shared)) for shared in (0.0, 6.0))
    wide = place_on_scale(SCALE, pad, errors(6.0))
    assert (same.low, same.high) == (narrow.low, narrow.high)
    assert wide.high - wide.low > 2 * (narrow.high - narrow.low)


def test_a_coarser_scale_gives_no_other_ph():
    coarse = StripScale(PH[1::2], SCALE.lab[1::2])
    pad = pad_labs(6.0)[0]
    fine = place_on_scale(SCALE, pad, errors(0.5))
    found = place_on_scale(coarse, pad, errors(0.5, blocks=len(coarse.ph)))
    assert found.ph == pytest.approx(fine.ph, abs=0.01)


def test_the_interval_holds_95_times_in_100():
    """Pads of any pH by the indicators' own curve, blocks printed off, all measured with errors."""
    rng = np.random.default_rng(6)
    count = 500
    truth = rng.uniform(PH[0], PH[-1], count)
    pads = pad_labs(truth)
    own, shared = 0.6, 3.0
    # What was printed misses the pads' colours by 1.5 CIEDE2000 along each axis.
    print_axes = np.array([np.linalg.inv(root_of(metric_at(lab))) for lab in pads])
    held = widths = on_scale = 0
    for k in range(count):
        common = rng.normal(0.0, shared, 3)
        blocks = SCALE.lab + rng.normal(0.0, own, (len(PH), 3)) + common
        pad = pads[k] + print_axes[k] @ rng.normal(0.0, 1.5, 3) + rng.normal(0.0, own, 3) + common
        found = place_on_scale(StripScale(PH, blocks), pad, errors(own, shared))
        held += found.low <= truth[k] <= found.high
        on_scale += found.on_scale
        widths += found.high - found.low
    assert 0.93 <= held / count <= 0.97
    assert on_scale / count >= 0.995
    # And it is of use: a strip read by eye is good to about half a unit to either side.
    assert widths / count < 0.8


@pytest.mark.parametrize(
    ("ph", "code"),
    [
        ((4.0, 5.0), "strip_scale_short"),
        ((4.0, 5.0, 5.0), "strip_scale_ph"),
        ((4.0, 5.0, 15.0), "ph_off_scale"),
    ],
)
def test_a_scale_that_is_none_is_refused(ph, code):
    with pytest.raises(DyeshadeError) as caught:
        StripScale(np.array(ph), pad_labs(np.linspace(4, 9, len(ph))))
    assert caught.value.code == code


def test_blocks_that_a_camera_takes_for_one_are_refused():
    lab = pad_labs(PH)
    lab[3] = lab[2] + 0.2
    assert ciede2000(lab[2], lab[3]) < 1
    with pytest.raises(DyeshadeError) as caught:
        StripScale(PH, lab)
    assert caught.value.code == "strip_scale_alike"
    assert caught.value.facts == {"first": 5.0, "second": 6.0}
