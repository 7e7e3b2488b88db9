"""The reference sheet as the renderer takes it: a raster of its PDF, and its layout.

The raster is kept as coded grey (or RGB) 0..1, as the page asks for it; what comes out of the
printer is the business of ``ink.py``.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, eq=False)
class Sheet:
    """One sheet.

    Attributes
    ----------
    coded
        The page as asked for, uint8 (h, w, 3), at ``px_per_mm``.
    layout
        The layout JSON as a dict: "paper_mm", "patches", "colours", "cells", "marks", ...
    px_per_mm
        Resolution of ``coded``.
    """

    coded: NDArray[np.uint8]
    layout: dict[str, Any] = field(repr=False)
    px_per_mm: float

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the paper in millimetres."""
        width, height = self.layout["paper_mm"]
        return float(width), float(height)


def box_corners(box: dict[str, Any]) -> NDArray[np.float64]:
    """Corners (4, 2) in mm of a box of the layout, from top left clockwise."""
    w = float(box.get("w_mm", box.get("size_mm", 0.0)))
    h = float(box.get("h_mm", box.get("size_mm", 0.0)))
    x, y = float(box["x_mm"]), float(box["y_mm"])
    return np.array([[x, y], [x + w, y], [x + w, y + h], [x, y + h]])


@lru_cache(maxsize=8)
def _raster(pdf: str, px_per_mm: float, stamp: float) -> NDArray[np.uint8]:
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    try:
        bitmap = document[0].render(scale=px_per_mm * 25.4 / 72.0)
        image = np.asarray(bitmap.to_pil().convert("RGB")).copy()
    finally:
        document.close()
    return image


def load_sheet(pdf: str | Path, layout: dict[str, Any] | str | Path, px_per_mm: float = 8) -> Sheet:
    """Take a sheet from its PDF and its layout (a dict, or the path of the JSON)."""
    if not isinstance(layout, dict):
        layout = json.loads(Path(layout).read_text(encoding="utf-8"))
    path = Path(pdf)
    return Sheet(_raster(str(path), px_per_mm, path.stat().st_mtime), dict(layout), px_per_mm)


def stand_in_sheet(cells: str = "six", px_per_mm: float = 8) -> Sheet:
    """Draw a plain sheet of our own (marks, greys, cells), for tests of the renderer itself."""
    import cv2

    width, height = 210.0, 297.0
    pixels = np.full((round(height * px_per_mm), round(width * px_per_mm)), 255, dtype=np.uint8)

    def fill(x: float, y: float, w: float, h: float, value: float) -> None:
        a, b, c, d = (round(v * px_per_mm) for v in (y, y + h, x, x + w))
        pixels[a:b, c:d] = round(255 * value)

    levels = [0.0, 0.25, 0.42, 0.55, 0.68, 0.8, 0.91]
    patches: list[dict[str, Any]] = []
    for side, (x0, y0, dx, dy) in {
        "top": (38.0, 10.0, 20.0, 0.0),
        "bottom": (38.0, 277.0, 20.0, 0.0),
        "left": (8.0, 70.0, 0.0, 24.0),
        "right": (192.0, 70.0, 0.0, 24.0),
    }.items():
        for i, g in enumerate(levels):
            x, y = x0 + i * dx, y0 + i * dy
            fill(x, y, 10.0, 10.0, g)
            linear = g / 12.92 if g <= 0.04045 else ((g + 0.055) / 1.055) ** 2.4
            patches.append(
                {
                    "name": f"{side}{i + 1}",
                    "x_mm": x,
                    "y_mm": y,
                    "w_mm": 10.0,
                    "h_mm": 10.0,
                    "reflectance": 0.035 + (0.88 - 0.035) * linear,
                }
            )
    marks: list[dict[str, Any]] = []
    places = [(8, 8), (184, 8), (8, 271), (184, 271), (8, 44), (184, 44), (8, 240), (184, 240)]
    book = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_1000)
    for ident, (x, y) in enumerate(places):
        side = round(18 * px_per_mm)
        mark = cv2.aruco.generateImageMarker(book, ident, side)
        a, b = round(y * px_per_mm), round(x * px_per_mm)
        pixels[a : a + side, b : b + side] = mark
        marks.append({"ident": ident, "x_mm": float(x), "y_mm": float(y), "size_mm": 18.0})
    boxes: list[dict[str, Any]] = []
    if cells == "one":
        boxes.append({"name": "A", "x_mm": 40.0, "y_mm": 50.0, "w_mm": 130.0, "h_mm": 190.0})
    else:
        for i, name in enumerate("ABCDEF"):
            x, y = 50.0 + 60.0 * (i % 2), 40.0 + 74.0 * (i // 2)
            boxes.append({"name": name, "x_mm": x, "y_mm": y, "w_mm": 48.0, "h_mm": 64.0})
    for box in boxes:
        corners = np.round(box_corners(box) * px_per_mm).astype(np.int32)
        cv2.polylines(pixels, [corners], True, 120, 2)
    layout = {
        "schema": "stand-in",
        "paper_mm": [width, height],
        "serial": "STANDIN",
        "paper_reflectance": 0.88,
        "ink_reflectance": 0.035,
        "patches": patches,
        "colours": [],
        "cells": boxes,
        "marks": marks,
    }
    return Sheet(np.repeat(pixels[:, :, None], 3, axis=2), layout, px_per_mm)
