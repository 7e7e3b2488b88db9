"""What lies in a drawn cell and how it is seen; random pieces as dyers have them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from dyeshade.photo.vision import cv2

Array = NDArray[np.float64]

KINDS = ("swatch", "skein", "felt", "window", "empty")
BACKINGS = {"paper": (1.0, 1.0, 1.0), "grey": (0.45, 0.45, 0.46), "kraft": (0.5, 0.36, 0.24)}


@dataclass(frozen=True)
class Recipe:
    """What lies in a cell and how it is seen.

    `body` is the fibre's own linear light relative to paper's; `second` another colour over
    `second_share` of the piece (dipped, or in stripes with `stripes`); `slope` an even change of
    depth along it; `gaps` the share of bare room between strands; `lift_mm` softens the edge and
    widens the shadow; `gloss` the strength of highlights; `light_error` how wrongly the light is
    divided out; `neighbour` the depth of a shadow that another piece casts into the cell.
    """

    kind: str = "swatch"
    body: tuple[float, float, float] = (0.5, 0.25, 0.12)
    second: tuple[float, float, float] | None = None
    second_share: float = 0.4
    stripes: bool = False
    slope: float = 0.0
    size_mm: tuple[float, float] = (45.0, 60.0)
    piece: tuple[float, float] = (0.75, 0.75)
    turn_deg: float = 4.0
    offset_mm: tuple[float, float] = (1.0, -1.0)
    strand_mm: float = 1.4
    gaps: float = 0.1
    backing: str = "paper"
    lift_mm: float = 2.0
    shadow: float = 0.35
    gloss: float = 0.0
    ends: int = 1
    light_error: float = 0.03
    neighbour: float = 0.0
    texture: float = 1.0
    px_per_mm: float = 8.0
    blur_px: float = 0.8
    sharpen: float = 0.3
    noise: float = 0.008
    quality: int = 92
    seed: int = 0


def _dyed(rng: np.random.Generator) -> Array:
    """A colour that dyed fibre may have: CIELAB drawn until sRGB holds it, relative to paper."""
    while True:
        chroma, hue = rng.uniform(3, 75), rng.uniform(0, 2 * np.pi)
        lab = np.float32([[[rng.uniform(14, 90), chroma * np.cos(hue), chroma * np.sin(hue)]]])
        # cv2's own conversion: independent of the program's.
        body = cv2.cvtColor(lab, cv2.COLOR_Lab2LRGB)[0, 0].astype(float) / 0.88
        if body.min() > 0.012 and body.max() < 0.98:
            return np.asarray(body)


def random_recipe(seed: int) -> Recipe:
    """Any piece as dyers have them, troubles mixed in."""
    rng = np.random.default_rng([seed, 4])
    kind = str(rng.choice(KINDS, p=[0.33, 0.37, 0.12, 0.08, 0.10]))
    body = _dyed(rng)
    special = rng.random()
    if special < 0.10:
        body = rng.uniform(0.75, 0.97) * np.array([1.0, 0.98, rng.uniform(0.85, 0.99)])
    elif special < 0.18:
        body = rng.uniform(0.02, 0.05) * np.array([1.1, 1.0, 1.0])
    lift = float(rng.choice([rng.uniform(0.3, 3), rng.uniform(5, 40)], p=[0.8, 0.2]))
    backing = str(rng.choice(list(BACKINGS), p=[0.5, 0.25, 0.25]))
    px_per_mm = float(rng.choice([3.0, 4.5, 6.0, 8.0, 11.0]))
    return Recipe(
        kind=kind,
        body=tuple(float(b) for b in body),
        piece=(float(rng.uniform(0.5, 0.9)), float(rng.uniform(0.5, 0.9))),
        turn_deg=float(rng.normal(0, 8)),
        offset_mm=(float(rng.normal(0, 1.5)), float(rng.normal(0, 1.5))),
        # What a photo can't resolve no reader can leave out: gaps go with strand, blur and scale.
        strand_mm=float(max(rng.uniform(0.9, 2.4), 5.0 / px_per_mm)),
        gaps=float(rng.choice([0.0, rng.uniform(0.02, 0.25)])) * (kind == "skein" and lift < 12),
        backing=backing,
        lift_mm=lift,
        shadow=float(rng.uniform(0.15, 0.55)),
        gloss=float(rng.choice([0.0, rng.uniform(0.2, 0.6)], p=[0.85, 0.15])),
        ends=int(rng.integers(3)),
        light_error=float(rng.uniform(0.0, 0.04)),
        neighbour=float(rng.choice([0.0, rng.uniform(0.1, 0.5)], p=[0.7, 0.3])),
        texture=float(rng.uniform(0.5, 1.1)),
        px_per_mm=px_per_mm,
        blur_px=float(rng.uniform(0.5, 1.1)),
        sharpen=float(rng.uniform(0, 0.7)),
        noise=float(rng.uniform(0.003, 0.015)),
        quality=int(rng.integers(82, 97)),
        seed=seed,
    )


def with_changes(recipe: Recipe, **changes: object) -> Recipe:
    """The same recipe with some fields changed."""
    return replace(recipe, **changes)  # type: ignore[arg-type]
