"""The serial number is read from its place on the page, or not at all."""

from __future__ import annotations

import numpy as np
import pytest

from dyeshade.sheet.find import find_sheet
from dyeshade.sheet.layout import Mark

from .warp import SERIAL, Shot, hide, photograph, printed, spoil


@pytest.mark.parametrize("roll", [0, 90, 180, 270])
def test_the_serial_is_read_in_every_orientation(roll: float) -> None:
    layout, page = printed()
    photo = spoil(photograph(page, layout.paper_mm, Shot(roll=roll + 3, fill=0.7)))
    assert find_sheet(photo).layout.serial == SERIAL


def test_the_serial_is_read_through_blur_and_noise() -> None:
    layout, page = printed()
    photo = photograph(page, layout.paper_mm, Shot(tilt=25, towards=200))
    assert find_sheet(spoil(photo, blur=1.5, noise=5)).layout.serial == SERIAL


def test_yarn_over_a_corner_of_the_code_leaves_it_readable() -> None:
    layout, page = printed()
    code = layout.serial_code
    corner = Mark(0, code.x_mm - 2.0, code.y_mm + 0.8 * code.h_mm, 0.3 * code.w_mm)
    photo = spoil(photograph(hide(page, [corner]), layout.paper_mm, Shot()))
    assert find_sheet(photo).layout.serial == SERIAL


def test_a_covered_code_gives_no_serial_and_no_refusal() -> None:
    layout, page = printed()
    code = layout.serial_code
    covered = hide(page, [Mark(0, code.x_mm, code.y_mm, 1.5 * code.w_mm)])
    assert find_sheet(spoil(photograph(covered, layout.paper_mm, Shot()))).layout.serial == ""


def test_noise_in_place_of_the_code_is_not_taken_for_a_serial() -> None:
    layout, page = printed()
    code = layout.serial_code
    false = page.copy()
    rows, columns = round(code.y_mm * 8), round(code.x_mm * 8)
    size = round(code.w_mm * 8)
    chance = np.random.default_rng(5).integers(0, 2, (21, 21)) * 200 + 40
    modules = np.arange(size) * 21 // size
    false[rows : rows + size, columns : columns + size] = chance[np.ix_(modules, modules)]
    assert find_sheet(spoil(photograph(false, layout.paper_mm, Shot()))).layout.serial == ""
