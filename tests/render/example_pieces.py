"""The invented workshop's pieces: their shades, and spectra that have about those shades."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np

from .pieces import Piece
from .spectra import Array, cie224_colours, delta_e, lab_of, mixture

# Shades of a cochineal-like red on alum-mordanted wool against the pH that acted last: invented
# numbers, from memory of what such series look like.
WOOL = {
    3: (44, 53, 33),
    4: (43, 52, 24),
    5: (41, 50, 14),
    6: (39, 46, 5),
    7: (37, 41, -3),
    8: (35, 36, -10),
    9: (34, 31, -15),
    10: (33, 26, -18),
}
# The same baths on cotton: paler, less red.
COTTON = {ph: (L + 17, a * 0.66, b * 0.62) for ph, (L, a, b) in WOOL.items()}


@lru_cache(maxsize=64)
def spectrum_near(L: float, a: float, b: float) -> Array:  # noqa: N803
    """A mixture of two CIE 224 test colours whose fibre has about the given CIELAB."""
    target = np.array([L, a, b])
    colours = cie224_colours()
    nearest = np.argsort(delta_e(lab_of(colours), target[None, :]))[:14]
    tried = []
    for i in nearest:
        for j in nearest:
            for share in (0.0, 0.25, 0.5):
                pair = [(colours[i], 1 - share), (colours[j], share)]
                tried.extend(mixture(pair, depth) for depth in np.geomspace(0.3, 3.0, 13))
    made = np.array(tried)
    return np.asarray(made[np.argmin(delta_e(lab_of(made), target[None, :]))])


def skein_piece(cell: str, lab: tuple[float, float, float], seed: int, **changes: Any) -> Piece:
    """A wound skein whose face has about the given CIELAB."""
    rng = np.random.default_rng(seed)
    # A wound skein looks darker than its fibre by the shadow between strands.
    lighter = (lab[0] * 1.13 + 3, lab[1] * 1.05, lab[2] * 1.05)
    fields: dict[str, Any] = {
        "size": (float(rng.uniform(0.7, 0.8)), float(rng.uniform(0.74, 0.84))),
        "angle_deg": float(rng.normal(0, 1.5)),
        "strand_mm": 1.7,
        "gaps": float(rng.uniform(0.05, 0.3)),
        "height_mm": float(rng.uniform(3, 5)),
        "card": "white",
    }
    return Piece(cell, "skein", spectrum_near(*lighter), seed=seed, **(fields | changes))


def swatch_piece(cell: str, lab: tuple[float, float, float], seed: int) -> Piece:
    """A woven swatch whose face has about the given CIELAB."""
    rng = np.random.default_rng(seed)
    lighter = (lab[0] * 1.10 + 3, lab[1] * 1.05, lab[2] * 1.05)
    return Piece(
        cell,
        "swatch",
        spectrum_near(*lighter),
        size=(float(rng.uniform(0.68, 0.76)), float(rng.uniform(0.68, 0.76))),
        angle_deg=float(rng.normal(0, 4)),
        strand_mm=0.75,
        gaps=0.1,
        height_mm=0.5,
        seed=seed,
    )
