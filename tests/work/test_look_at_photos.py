"""A photo for the screen: the numbers of the command line, and two pictures."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from dyeshade.cie.white import D65
from dyeshade.errors import DyeshadeError
from dyeshade.measure.calibrations import NO_CALIBRATIONS, Calibrations, SheetCalibration
from dyeshade.measure.regions import HandGrey, HandSample
from dyeshade.measure.result import Measurement
from dyeshade.photo.read import read_photo
from dyeshade.sheet.find import find_sheet
from dyeshade.work.look_at_photos import LONGEST_PX, Asked, is_behind, look_at, look_at_photos
from dyeshade.work.measure_photos import measure_file

EXAMPLES = Path(__file__).parents[2] / "example_images"


def square(x: float, y: float, size: float) -> np.ndarray:
    return np.array([[x, y], [x + size, y], [x + size, y + size], [x, y + size]])


@pytest.fixture
def board(tmp_path: Path) -> str:
    """A photo of a grey and a yellow on black, without a sheet."""
    pixels = np.zeros((600, 900, 3), np.uint8)
    pixels[100:300, 100:300] = 118
    pixels[300:500, 500:700] = (200, 180, 60)
    noise = np.random.default_rng(5).normal(0, 1.5, pixels.shape)
    path = tmp_path / "board.png"
    Image.fromarray(np.clip(pixels + noise, 0, 255).round().astype(np.uint8)).save(path)
    return str(path)


def test_numbers_are_those_of_the_plain_job_and_both_pictures_come_along() -> None:
    path = str(EXAMPLES / "hw27_1_dry.jpg")
    serial = find_sheet(read_photo(path).grey8()).layout.serial
    greys = 0.97 * np.array([0.88, 0.2, 0.035])[:, None] * D65
    sheet = SheetCalibration(serial, "A4", "six", "typed", greys[:, 1] / 0.97, greys, 0.01, id=5)
    known = Calibrations((), (sheet,))
    look = look_at(Asked(path, "led"), known)
    plain = measure_file(path, light="led", known=known).found
    assert isinstance(look.found, Measurement)
    assert isinstance(plain, Measurement)
    assert look.found.calibration_id == 5
    assert look.known.ids == (5,)
    assert not is_behind(look, known)
    assert is_behind(look, NO_CALIBRATIONS)
    assert not is_behind(replace(look, asked=replace(look.asked, calibrated=False)), known)
    for one, other in zip(look.found.samples, plain.samples, strict=True):
        assert np.array_equal(one.shade.lab, other.shade.lab)
        assert one.shade.u95 == other.shade.u95
    for data in (look.taken, look.corrected):
        size = Image.open(BytesIO(data)).size
        assert max(size) <= LONGEST_PX
        assert size[0] / size[1] == pytest.approx(look.size_px[0] / look.size_px[1], rel=0.01)
    assert look.taken != look.corrected


def test_without_a_sheet_greys_and_samples_are_drawn_one_after_the_other(board: str) -> None:
    grey = HandGrey(square(120, 120, 160), 0.18)
    steps = (Asked(board), Asked(board, greys=(grey,)))
    codes = []
    for asked in steps:
        look = look_at(asked)
        assert isinstance(look.found, DyeshadeError)
        assert look.taken
        assert not look.corrected
        codes.append(look.found.code)
    assert codes == ["no_sheet", "nothing_drawn"]
    weld = HandSample("weld", square(520, 320, 160))
    look = look_at(Asked(board, "window", (grey,), (weld,)))
    assert isinstance(look.found, Measurement)
    # CIELAB of sRGB 200, 180, 60 by IEC 61966-2-1 and CIE 15, worked out with colour-science.
    assert look.found.samples[0].shade.lab == pytest.approx([73.05, -6.20, 60.83], abs=2.0)
    assert look.corrected


def test_what_cannot_be_read_has_its_reason_and_no_picture(tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    asked = [Asked(str(tmp_path / "gone.jpg"))]
    (look,) = look_at_photos(asked, progress=lambda done, of: told.append((done, of)))
    assert isinstance(look.found, DyeshadeError)
    assert look.found.code == "photo_missing"
    assert look.asked is asked[0]
    assert look.size_px == (0, 0)
    assert told == [(0, 1), (1, 1)]
