"""From light to the camera's raw values, and from those to the colours its maker shows.

The raw values are kept white-balanced: the perfect diffuser in the scene's main light is [1, 1, 1].
The matrix to linear sRGB is each camera's own, fitted to training spectra in daylight with white
kept, as a maker would.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from .curves import Curve, make_curve
from .look import Look, apply_look, make_look
from .spectra import (
    P3_TO_XYZ,
    SRGB_TO_XYZ,
    Array,
    cameras,
    chart_colours,
    light,
    linear_srgb_of,
    training_colours,
)

_DAYLIGHT = "daylight 5500"
_SRGB_TO_P3 = np.linalg.inv(P3_TO_XYZ / P3_TO_XYZ.sum(axis=1, keepdims=True)) @ (
    SRGB_TO_XYZ / SRGB_TO_XYZ.sum(axis=1, keepdims=True)
)


def white_sums(camera: str, light_name: str) -> Array:
    """Raw values (3,) of the perfect diffuser, before any balance."""
    return np.asarray(light(light_name) @ cameras()[camera])


def balanced(
    reflectance: Array, camera: str, light_name: str, white_light: str | None = None
) -> Array:
    """Raw values (..., 3) of reflectances (..., 81), balanced for the diffuser in ``white_light``.

    Lights are compared at equal green signal, so that a second light's tint shows but its
    arbitrary scale does not.
    """
    sums = white_sums(camera, light_name)
    values = np.asarray(reflectance) @ (light(light_name)[:, None] * cameras()[camera])
    white = white_sums(camera, white_light or light_name)
    return np.asarray(values / white * (white[1] / sums[1]))


@cache
def own_matrix(camera: str) -> Array:
    """This camera's matrix (3, 3), balanced raw to linear sRGB; rows sum to 1: white stays."""
    spectra = np.vstack([training_colours(), chart_colours()])
    raw = balanced(spectra, camera, _DAYLIGHT)
    wanted = linear_srgb_of(spectra)
    weight = 1 / np.sqrt(0.02 + wanted[:, 1:2].clip(0))
    matrix = np.zeros((3, 3))
    for row in range(3):
        # White kept: the row is [p, q, 1 - p - q].
        basis = np.stack([raw[:, 0] - raw[:, 2], raw[:, 1] - raw[:, 2]], axis=1)
        rest = (wanted[:, row] - raw[:, 2])[:, None]
        pq = np.linalg.lstsq(basis * weight, (rest * weight)[:, 0], rcond=None)[0]
        matrix[row] = [pq[0], pq[1], 1 - pq.sum()]
    return matrix


@dataclass(frozen=True)
class Development:
    """All that turns balanced raw into shown linear light (before coding).

    Attributes
    ----------
    matrix
        (3, 3) from raw (with the camera's own white error) to linear file primaries.
    look, curve
        The maker's look (None has no effect) and tone curve.
    exposure
        Factor on light before look and curve.
    to_xyz
        (3, 3) from the file's linear primaries to XYZ.
    """

    matrix: Array
    look: Look
    curve: Curve
    exposure: float
    to_xyz: Array
    to_file: Array

    def show(self, raw: NDArray[np.floating]) -> NDArray[np.floating]:
        """Shown linear light (..., 3), 0..1, in the file's primaries."""
        matrix = (self.exposure * self.matrix).astype(raw.dtype)
        rgb = apply_look(raw @ matrix.T, self.look)
        rgb = np.maximum(rgb @ self.to_file.astype(raw.dtype).T, 0)
        shown = self.curve(rgb)
        share = self.look.luminance_share
        if share > 0:
            y = rgb @ np.array([0.2126, 0.7152, 0.0722], dtype=raw.dtype)
            factor = self.curve(y) / np.maximum(y, 1e-6)
            shown = (1 - share) * shown + share * np.minimum(rgb * factor[..., None], 1)
        return np.asarray(shown)


def development(
    camera: str,
    look: str,
    curve: str,
    seed: int,
    exposure: float,
    white_error: tuple[float, float],
    primaries: str,
    curve_strength: float = 1.0,
) -> Development:
    """Put a development together; ``white_error`` multiplies red and blue before the matrix."""
    error = np.diag([white_error[0], 1.0, white_error[1]])
    p3 = primaries == "Display P3"
    return Development(
        matrix=own_matrix(camera) @ error,
        look=make_look(look, seed),
        curve=make_curve(curve, seed, curve_strength),
        exposure=exposure,
        to_xyz=P3_TO_XYZ if p3 else SRGB_TO_XYZ,
        to_file=_SRGB_TO_P3 if p3 else np.eye(3),
    )
