"""A camera and a print, learnt once from photos, and used where they match."""

import json
from dataclasses import replace

import cv2
import numpy as np
import pytest

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import lab_to_xyz
from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.cie.white import D65
from dyeshade.errors import DyeshadeError
from dyeshade.measure.calibrate_camera import calibrate_camera
from dyeshade.measure.calibrate_sheet import (
    calibrate_sheet_by_chart,
    calibrate_sheet_by_photo,
    calibrate_sheet_by_values,
    refuse_unlikely_paper,
)
from dyeshade.measure.calibrations import Calibrations, CameraCalibration, SheetCalibration
from dyeshade.measure.chart import carried_chart
from dyeshade.measure.photo_to_shade import measure_photo
from dyeshade.photo.camera_space import PEDESTAL, raw_encoding
from dyeshade.photo.photo import Photo
from dyeshade.sheet.layout import build_layout
from tests.measure.chart_photos import (
    IN_CELL,
    SERIAL,
    chart_picture,
    corner_middles,
    printed_page,
    sheet_turn,
    shown_sheet,
    with_in_cell,
)

CHART = carried_chart("24")
MADDER = np.array([38.0, 45.0, 28.0])


@pytest.fixture(scope="module")
def chart_on_sheet():
    """A photo of the chart on the sheet, and where its corner patches are."""
    page = with_in_cell(printed_page(), chart_picture(CHART, 90))
    middles = corner_middles(CHART, 90) + np.array(IN_CELL)
    turn = sheet_turn(page.shape[1], page.shape[0])
    return shown_sheet(page), cv2.perspectiveTransform(middles[None], turn)[0]


@pytest.fixture(scope="module")
def of_camera(chart_on_sheet):
    return calibrate_camera(chart_on_sheet[0], CHART, "window", chart_on_sheet[1])


@pytest.fixture(scope="module")
def of_sheet(chart_on_sheet):
    return calibrate_sheet_by_chart(chart_on_sheet[0], CHART, chart_on_sheet[1])


@pytest.fixture(scope="module")
def cloth_on_sheet():
    """A photo of a red cloth in the cell."""
    linear = np.linalg.solve(SRGB.to_xyz, lab_to_xyz(MADDER))
    grain = 1 + 0.08 * np.random.default_rng(8).normal(size=(110, 90, 1))
    cloth = np.kron(linear * grain, np.ones((4, 4, 1)))
    return shown_sheet(with_in_cell(printed_page(), cloth))


def off(photo, known=None):
    found = measure_photo(photo, light="window", known=known)
    error = float(ciede2000(found.samples[0].shade.lab, MADDER))
    return error, found, {notice.code for notice in found.notices}


def test_the_camera_learns_its_chart(of_camera, chart_on_sheet):
    made = of_camera.calibration
    assert of_camera.chart_photo.on_sheet
    assert made.error < 0.4 * made.before
    assert ciede2000(of_camera.after, CHART.lab).mean() < 1
    assert made.matches("Hollow Weir One", "JPEG", "outdoors-shade")
    assert not made.matches("Hollow Weir One", "JPEG", "led")
    assert not made.matches("Hollow Weir One", "HEIC", "window")
    assert not made.matches(None, "JPEG", "window")


def test_a_chart_alone_teaches_the_same(of_camera, chart_on_sheet):
    photo, corners = chart_on_sheet
    low = corners.min(axis=0).astype(int) - 60
    high = corners.max(axis=0).astype(int) + 60
    cut = replace(photo, coded=photo.coded[low[1] : high[1], low[0] : high[0]])
    alone = calibrate_camera(cut, CHART, "window", corners - low)
    assert not alone.chart_photo.on_sheet
    assert ciede2000(alone.after, of_camera.after).mean() < 1


def test_the_print_learns_its_greys_and_colours(of_sheet):
    made = of_sheet.calibration
    assert (made.serial, made.how, len(made.colours)) == (SERIAL, "chart", 24)
    # It was printed plainly.
    assert made.greys[:, 1] == pytest.approx(made.levels, rel=0.03)


def test_calibrated_cloth_is_surer_and_says_so(of_camera, of_sheet, cloth_on_sheet):
    plain, before, told = off(cloth_on_sheet)
    assert not any("calibration" in code for code in told)
    camera = Calibrations((replace(of_camera.calibration, id=3),))
    sheet = Calibrations((), (replace(of_sheet.calibration, id=4),))
    for known, code, number in (
        (camera, "camera_calibration_used", 3),
        (sheet, "sheet_colours_used", 4),
    ):
        error, found, told = off(cloth_on_sheet, known)
        assert code in told
        assert found.calibration_id == number
        assert error < 0.6 * plain
        assert found.samples[0].shade.u95 < before.samples[0].shade.u95
        assert error < found.samples[0].shade.u95


def test_another_camera_and_another_light_use_nothing(of_camera, cloth_on_sheet):
    known = Calibrations((of_camera.calibration,))
    other = replace(cloth_on_sheet, camera="Hollow Weir Two")
    assert "camera_calibration_used" not in off(other, known)[2]
    by_lamp = measure_photo(cloth_on_sheet, light="led", known=known)
    assert "camera_calibration_used" not in {notice.code for notice in by_lamp.notices}


def test_a_print_that_has_changed_is_noticed(of_sheet, cloth_on_sheet):
    made = of_sheet.calibration
    tint = np.where(made.levels < 0.85, 1.06, 1.0)[:, None] ** np.array([1, 0, -1])
    tinted = replace(made, greys=made.greys * tint)
    _, found, told = off(cloth_on_sheet, Calibrations((), (tinted,)))
    assert "sheet_changed" in told
    assert found.calibration_id is None
    names = list(made.colours)
    faded = {
        name: lab + np.array([20.0, 0, 0]) * (k % 3 == 0) + np.array([0, 25.0, -25]) * (k % 3 == 1)
        for k, (name, lab) in enumerate(made.colours.items())
    }
    assert len(names) == 24
    told = off(cloth_on_sheet, Calibrations((), (replace(made, colours=faded),)))[2]
    assert "sheet_colours_changed" in told


def test_a_card_in_the_cell_tells_the_paper():
    page = 0.95 * printed_page()
    photo = shown_sheet(with_in_cell(page, np.full((700, 560, 3), 0.18)))
    made = calibrate_sheet_by_photo(photo, card=("A", 0.18)).calibration
    assert made.how == "card"
    assert made.greys[0, 1] == pytest.approx(0.95 * 0.88, rel=0.03)
    with pytest.raises(DyeshadeError) as refused:
        calibrate_sheet_by_photo(photo, card=("F", 0.18))
    assert refused.value.code == "no_such_cell"


@pytest.mark.parametrize(("share", "percent"), [(1.2, 106), (0.6, 53)])
def test_a_card_of_a_wrong_value_would_make_paper_that_there_is_not(share, percent):
    levels = np.array([0.88, 0.2, 0.035])
    refuse_unlikely_paper(levels, levels[:, None] * D65)
    with pytest.raises(DyeshadeError) as refused:
        refuse_unlikely_paper(levels, share * levels[:, None] * D65)
    assert (refused.value.code, refused.value.facts) == ("card_disagrees", {"percent": percent})


def test_a_rendered_photo_without_a_card_tells_nothing(cloth_on_sheet):
    with pytest.raises(DyeshadeError) as refused:
        calibrate_sheet_by_photo(cloth_on_sheet)
    assert refused.value.code == "photo_not_raw"


def test_typed_greys_move_their_neighbours():
    layout = build_layout("A4", "six", False, serial=SERIAL)
    made = calibrate_sheet_by_values(layout, {"paper": 0.90, "8": 0.03}).calibration
    assert made.at(np.array([0.88]))[0, 1] == pytest.approx(0.90)
    middle = made.at(np.array([0.2]))[0, 1]
    assert 0.2 * 0.03 / 0.035 < middle < 0.2 * 0.90 / 0.88
    for values in ({"9": 0.5}, {"1": 1.5}, {}):
        with pytest.raises(DyeshadeError) as refused:
            calibrate_sheet_by_values(layout, values)
        assert refused.value.code == "grey_values"


def test_a_photo_that_does_not_say_its_camera_calibrates_none(chart_on_sheet):
    photo, corners = chart_on_sheet
    with pytest.raises(DyeshadeError) as refused:
        calibrate_camera(replace(photo, camera=None), CHART, "window", corners)
    assert refused.value.code == "camera_unknown"


def test_a_wrong_chart_is_refused(chart_on_sheet):
    photo, corners = chart_on_sheet
    with pytest.raises(DyeshadeError) as refused:
        calibrate_camera(photo, CHART, "window", corners[[2, 3, 0, 1]])
    assert refused.value.code in ("chart_disagrees", "chart_greys_unusable")


def test_calibrations_are_kept_as_they_are(of_camera, of_sheet):
    for value in (of_camera.calibration, of_sheet.calibration):
        kept = json.loads(json.dumps(value.to_json()))
        assert type(value).from_json(kept, 7).to_json() == kept
        assert type(value).from_json(kept, 7).id == 7
        with pytest.raises(ValueError, match="format"):
            type(value).from_json({**kept, "format": 99})
    assert {type(of_camera.calibration), type(of_sheet.calibration)} == {
        CameraCalibration,
        SheetCalibration,
    }


def raw_of(page, exposure=0.8):
    """A raw photo of a page, in the channels of a typical camera, by a lamp that it sees red."""
    encoding = raw_encoding([], np.zeros(3))
    height, width = page.shape[:2]
    turn, size = sheet_turn(width, height), (width + 120, height + 120)
    channels = page @ np.linalg.solve(encoding.to_xyz, SRGB.to_xyz).T
    seen = cv2.warpPerspective(channels, turn, size, borderValue=(0.2, 0.2, 0.2))
    seen = exposure * seen * np.array([0.9, 1.0, 0.5])
    coded = PEDESTAL + (1 - PEDESTAL) * np.clip(seen, 0, 1)
    values = np.round(65535 * coded).astype(np.uint16)
    return Photo("sheet.dng", values, encoding, None, "Hollow Weir Raw", "DNG", False, ())


def test_a_raw_photo_teaches_a_print_that_then_corrects_what_a_phone_renders(cloth_on_sheet):
    made = calibrate_sheet_by_photo(raw_of(printed_page())).calibration
    assert (made.how, len(made.colours)) == ("raw", 24)
    assert made.greys[:, 1] == pytest.approx(made.levels, rel=0.03, abs=0.002)
    plain, _, _ = off(cloth_on_sheet)
    error, found, told = off(cloth_on_sheet, Calibrations((), (replace(made, id=4),)))
    assert "sheet_colours_used" in told
    assert error < 0.5 * plain
    assert error < found.samples[0].shade.u95


def test_a_chart_beside_the_sheet_teaches_colours_and_no_greys():
    page, chart = printed_page(), chart_picture(CHART, 90)
    wide = np.full((page.shape[0], page.shape[1] + chart.shape[1] + 160, 3), (0.3, 0.22, 0.15))
    wide[:, : page.shape[1]] = page
    right = page.shape[1] + 80
    wide[400 : 400 + chart.shape[0], right : right + chart.shape[1]] = chart
    turn = sheet_turn(wide.shape[1], wide.shape[0])
    middles = corner_middles(CHART, 90) + np.array((right, 400))
    corners = cv2.perspectiveTransform(middles[None], turn)[0]
    made = calibrate_sheet_by_chart(shown_sheet(wide), CHART, corners)
    assert [one.code for one in made.notices] == ["chart_beside_sheet"]
    value = made.calibration
    assert value.greys[:, 1] == pytest.approx(value.levels)
    assert len(value.colours) == 24
    assert value.error < 1


def test_patches_that_something_lies_on_are_left_out(of_camera, chart_on_sheet):
    photo, corners = chart_on_sheet
    covered = photo.coded.copy()
    for x, y in of_camera.chart_photo.place.middles_px[[7, 8, 14]].astype(int):
        covered[y - 50 : y + 50, x - 50 : x + 50] = (120, 90, 60)
    made = calibrate_camera(replace(photo, coded=covered), CHART, "window", corners)
    assert not made.used[[7, 8, 14]].any()
    assert made.calibration.error < 2 * of_camera.calibration.error
    assert ("chart_hidden", {"patches": 3}) in [(one.code, one.facts) for one in made.notices]
