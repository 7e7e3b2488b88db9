"""Printed tags lying on or beside pieces: cut out of the page that the program printed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from .sheet import box_corners
from .spectra import WAVELENGTHS
from .texture import CARDS, Field, Place, Texture, smooth

_INK = np.full(WAVELENGTHS.size, 0.04)
_BLEED_MM = 0.06


@dataclass(frozen=True, eq=False)
class Tag:
    """One tag.

    Attributes
    ----------
    cell
        Name of the cell that it lies in.
    printed
        (h, w) float, what was printed: 1 paper, 0 ink; at `px_per_mm`.
    offset_mm, angle_deg
        Its middle from the cell's middle, and how it is turned.
    height_mm
        Of its face above the sheet.
    hidden
        0 to 1: share of it, from its lower end, that something dark lies over.
    """

    cell: str
    printed: NDArray[np.floating]
    px_per_mm: float
    offset_mm: tuple[float, float] = (0.0, 0.0)
    angle_deg: float = 0.0
    height_mm: float = 1.0
    hidden: float = 0.0


def printed_tags(pdf: str | Path, px_per_mm: float = 16.0) -> dict[str, NDArray[np.floating]]:
    """Every tag of a printed page, cut out along its line, by the largest words on it."""
    import pdfplumber

    found = {}
    with pdfplumber.open(pdf) as document:
        for page in document.pages:
            whole = page.to_image(resolution=px_per_mm * 25.4, antialias=True).original
            pixels = np.asarray(whole.convert("L"), dtype=np.float32) / 255
            scale = pixels.shape[1] / float(page.width)
            for rect in page.rects:
                if rect["height"] < 40 or not rect["stroke"]:
                    continue
                words = page.crop((rect["x0"], rect["top"], rect["x1"], rect["bottom"]))
                large = max(words.extract_words(extra_attrs=["size"]), key=lambda w: w["size"])
                # The cut line itself falls to the scissors.
                a, b, c, d = (
                    round(rect[key] * scale) + inwards
                    for key, inwards in (("top", 3), ("bottom", -3), ("x0", 3), ("x1", -3))
                )
                found[large["text"]] = pixels[a:b, c:d]
    return found


def tag_texture(tag: Tag, cell: dict[str, float], px_per_mm: float) -> Texture:
    """A tag as it lies on the page."""
    h, w = tag.printed.shape
    half = w / 2 / tag.px_per_mm, h / 2 / tag.px_per_mm
    middle = box_corners(cell).mean(axis=0) + np.array(tag.offset_mm)
    reach = float(np.hypot(*half)) + 1.0
    low = middle - reach
    count = int(np.ceil(2 * reach * px_per_mm))
    x = low[0] + (np.arange(count) + 0.5) / px_per_mm
    y = low[1] + (np.arange(count) + 0.5) / px_per_mm
    gx, gy = np.meshgrid(x - middle[0], y - middle[1])
    angle = np.radians(tag.angle_deg)
    c, s = np.cos(angle), np.sin(angle)
    u, v = (c * gx + s * gy).astype(np.float32), (-s * gx + c * gy).astype(np.float32)
    soft = cv2.GaussianBlur(tag.printed.astype(np.float32), (0, 0), _BLEED_MM * tag.px_per_mm)
    px, py = (u + half[0]) * tag.px_per_mm - 0.5, (v + half[1]) * tag.px_per_mm - 0.5
    paper: Field = cv2.remap(
        soft,
        px.astype(np.float32),
        py.astype(np.float32),
        cv2.INTER_AREA if px_per_mm < tag.px_per_mm else cv2.INTER_LINEAR,
        borderMode=cv2.BORDER_REPLICATE,
    )
    if tag.hidden:
        paper = np.where(v > half[1] * (1 - 2 * tag.hidden), 0.0, paper)
    alpha = smooth(np.minimum(half[0] - np.abs(u), half[1] - np.abs(v)), 0.05)
    weights = np.stack([paper * alpha, (1 - paper) * alpha], axis=-1).astype(np.float32)
    place = Place((float(x[0]), float(y[0])), px_per_mm, u, v, half, np.array([0.0, 0.0, 1.0]))
    zero = np.zeros_like(alpha)
    return Texture(place, weights, alpha, zero, zero, np.array([CARDS["white"], _INK]))
