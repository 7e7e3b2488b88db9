"""Photos of a flat chart, on a table or on a printed sheet, drawn from published values.

The camera mixes its channels otherwise than sRGB and bends the light; both are known here and
unknown to the program.
"""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import lab_to_xyz
from dyeshade.cie.rgb_spaces import SRGB, srgb_decode, srgb_encode
from dyeshade.measure.chart import Chart
from dyeshade.paper.reference_sheet import write_sheet_pdf
from dyeshade.photo.encoding import srgb_encoding
from dyeshade.photo.photo import Photo
from dyeshade.sheet.layout import build_layout
from dyeshade.sheet.layout_json import layout_to_json
from dyeshade.sheet.serial import check_character
from tests.render import load_sheet

Array = NDArray[np.float64]

PITCH = 60
SERIAL = "K7QF-3M9" + check_character("K7QF3M9")
IN_CELL = (210, 400)
"""Pixels from patch to patch before the photo is turned and tilted."""

MIXING = np.array([[0.86, 0.10, 0.04], [0.06, 0.90, 0.04], [0.02, 0.14, 0.84]])
"""A camera that holds back all colours; whites stay."""


def chart_picture(chart: Chart, pitch: int = PITCH) -> Array:
    """The chart straight from above: linear sRGB reflectance, (h, w, 3)."""
    linear = np.linalg.solve(SRGB.to_xyz, lab_to_xyz(chart.lab).T).T
    out = np.full((chart.rows * pitch + pitch // 2, chart.columns * pitch + pitch // 2, 3), 0.04)
    for number, colour in enumerate(linear):
        y, x = divmod(number, chart.columns)
        top, left = round((y + 0.35) * pitch), round((x + 0.35) * pitch)
        side = round(0.8 * pitch)
        out[top : top + side, left : left + side] = colour
    return out


def corner_middles(chart: Chart, pitch: int = PITCH) -> Array:
    """Middles of the corner patches in `chart_picture`, (4, 2), pixels."""
    right, down = chart.columns - 1, chart.rows - 1
    places = np.array([[0, 0], [right, 0], [right, down], [0, down]])
    return (places + 0.35) * pitch + (round(0.8 * pitch) - 1) / 2


def taken(
    light: Array,
    turn: Array | None = None,
    size: tuple[int, int] = (900, 700),
    bend: float = 1.0,
    noise: float = 0.003,
    camera: str = "Hollow Weir One",
) -> Photo:
    """A photo of a flat linear picture: mixed, bent, noisy, coded in 8 bits.

    `turn` (3, 3) carries the picture's pixels to the photo's; `size` is width and height.
    """
    rng = np.random.default_rng(4)
    seen = light @ MIXING.T
    if turn is not None:
        table = (0.3, 0.22, 0.15)
        seen = cv2.warpPerspective(seen, turn, size, borderValue=table, flags=cv2.INTER_AREA)
    fall = np.linspace(1.0, 0.9, seen.shape[1])[None, :, None]
    seen = 0.85 * seen * fall + 0.003
    seen = seen * (1 + noise * rng.normal(size=seen.shape))
    # A toe and a shoulder, as cameras draw.
    coded = srgb_encode(np.clip(seen, 0, 1) ** bend)
    values = np.asarray(np.clip(np.round(255 * coded), 0, 255), dtype=np.uint8)
    return Photo("chart.jpg", values, srgb_encoding(), None, camera, "JPEG", False, ())


def tilted(size: tuple[int, int], degrees: float = 12.0) -> Array:
    """A turn about the middle and a little perspective, (3, 3)."""
    middle = np.array(size) / 2
    angle = np.radians(degrees)
    turn = np.array(
        [[np.cos(angle), -np.sin(angle), 0], [np.sin(angle), np.cos(angle), 0], [8e-5, -5e-5, 1]]
    )
    to, back = np.eye(3), np.eye(3)
    to[:2, 2], back[:2, 2] = -middle, middle
    return back @ turn @ to


@cache
def printed_page() -> Array:
    """A one-cell sheet with colours, number `SERIAL`, printed plainly: linear reflectance."""
    layout = build_layout("A4", "one", True, serial=SERIAL)
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder) / "sheet.pdf"
        write_sheet_pdf(layout, page)
        sheet = load_sheet(page, layout_to_json(layout), 5)
    return np.asarray(0.035 + (0.88 - 0.035) * srgb_decode(sheet.coded / 255.0))


def with_in_cell(page: Array, picture: Array) -> Array:
    """The page with a picture laid into its cell, its top left corner at `IN_CELL`."""
    out = page.copy()
    x, y = IN_CELL
    out[y : y + picture.shape[0], x : x + picture.shape[1]] = picture
    return out


def shown_sheet(light: Array, camera: str = "Hollow Weir One", bend: float = 1.08) -> Photo:
    """A photo of a page that is a little turned, on a table."""
    height, width = light.shape[:2]
    return taken(light, sheet_turn(width, height), (width + 120, height + 120), bend, camera=camera)


def sheet_turn(width: int, height: int) -> Array:
    """How `shown_sheet` carries pixels of the page to pixels of the photo."""
    return np.array([[1.0, 0, 60], [0, 1, 60], [0, 0, 1]]) @ tilted((width, height), 3)
