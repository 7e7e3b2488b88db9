"""What two readings by one camera have in common, and what the light of another day changes.

Run from the checkout's top; takes some seconds and prints the constants that stand in
``dyeshade/insight/common_part.py`` and ``dyeshade/measure/shared_error.py``::

    python -m tests.studies.drift_constants

A piece that fades keeps the shape of its spectrum: here the CIE test colours fade by taking their
reflectance to a power below one, and a camera's error with the faded colour is set beside its error
with the fresh one. The light of another day is another temperature of CIE daylight (or another
lamp of the same kind), its white divided out as by a sheet. Every other camera, in the order of
their names, is used; the rest judge (``tests/insight/test_common_part.py``).

Sources: as ``tests.studies.camera_constants``.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from dyeshade.cie.ciede2000 import ciede2000
from tests.studies import colour_data
from tests.studies.camera_constants import FITTING, parts_of
from tests.studies.colour_change import normal_spread
from tests.studies.colour_data import LIGHTS, Array

POWERS = (0.9, 0.8, 0.65, 0.5)


def seen_by(camera: str, light: str, reflectance: Array) -> Array:
    """Lab that a camera tells of colours, its white divided out, shape (n, 3)."""
    matrix = colour_data.srgb_matrix() @ colour_data.own_matrix(camera)
    return colour_data.lab_of(colour_data.balanced(camera, light, reflectance) @ matrix.T)


def fades(cameras: Sequence[str], power: float) -> tuple[Array, Array, Array]:
    """Fading in daylight: errors fresh and faded by parts, each (m, 3), and the CIEDE2000, (m,)."""
    fresh = colour_data.test_colours()
    faded = fresh**power
    true = [colour_data.lab_of(colour_data.xyz_of(one)) for one in (fresh, faded)]
    parts = [
        np.concatenate([_error_parts(camera, one, lab, true[0]) for camera in cameras])
        for one, lab in zip((fresh, faded), true, strict=True)
    ]
    return parts[0], parts[1], np.tile(ciede2000(true[0], true[1]), len(cameras))


def _error_parts(camera: str, reflectance: Array, true: Array, about: Array) -> Array:
    # Both errors along the axes of the fresh colour, so that they can be subtracted.
    error = seen_by(camera, "D5500", reflectance) - true
    return parts_of(about + error, about)


def another_light(cameras: Sequence[str], kind: str) -> tuple[Array, Array]:
    """What two lights of a kind change, by parts, shape (m, 3), and the chroma, shape (m,)."""
    colours = colour_data.test_colours()
    parts, chroma = [], []
    for camera in cameras:
        for one, other in combinations(LIGHTS[kind], 2):
            first, second = seen_by(camera, one, colours), seen_by(camera, other, colours)
            parts.append(parts_of(second, first))
            chroma.append(np.hypot(first[:, 1], first[:, 2]))
    return np.concatenate(parts), np.concatenate(chroma)


def main() -> None:
    """Fit and print."""
    for power in POWERS:
        fresh, faded, size = fades(FITTING, power)
        alike = 1 - ((faded - fresh) ** 2).mean() / (2 * (fresh**2).mean())
        scale = np.median(size) / np.sqrt(-2 * np.log(alike))
        print(f"faded by {np.median(size):5.2f} CIEDE2000: alike {alike:.4f}, scale {scale:.1f}")
    for kind in LIGHTS:
        if len(LIGHTS[kind]) > 1:
            parts, chroma = another_light(FITTING, kind)
            neutral, vivid = normal_spread(parts, chroma)
            print(f"{kind}: neutral {neutral.round(3)}, vivid {vivid.round(3)}")


if __name__ == "__main__":
    main()
