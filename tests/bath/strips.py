"""Strips as they might be: three indicator dyes on paper, and the scale that is printed beside.

Nothing here comes from dyeshade. Each dye has an acid and an alkaline form whose absorption bands
are bell curves; what they do on paper follows Kubelka and Munk. All of it is invented.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tests.render.spectra import WAVELENGTHS, lab_of

Array = NDArray[np.float64]

PAPER = 0.85
DYES = (
    # pK; (middle nm, width nm, depth) of the acid form, and of the alkaline one
    (4.4, (515.0, 45.0, 2.4), (430.0, 50.0, 1.2)),
    (7.1, (435.0, 45.0, 1.5), (615.0, 40.0, 2.2)),
    (9.2, (400.0, 50.0, 0.3), (555.0, 45.0, 2.6)),
)


def pad_spectra(ph: Array) -> Array:
    """Reflectance of pads at some pH, shape (n, 81)."""
    waves = np.asarray(WAVELENGTHS, float)
    absorbs = np.full((len(ph), len(waves)), (1 - PAPER) ** 2 / (2 * PAPER))
    for pk, *forms in DYES:
        alkaline = 1.0 / (1.0 + 10.0 ** (pk - ph))
        for share, (middle, width, depth) in zip((1.0 - alkaline, alkaline), forms, strict=True):
            band = depth * np.exp(-0.5 * ((waves - middle) / width) ** 2)
            absorbs += share[:, None] * band
    return np.asarray(1.0 + absorbs - np.sqrt(absorbs * (absorbs + 2.0)))


def pad_labs(ph: Array) -> Array:
    """CIELAB of pads at some pH, shape (n, 3)."""
    return np.asarray(lab_of(pad_spectra(np.atleast_1d(np.asarray(ph, float)))))
