"""A maker's look: what a camera does to colours (not to greys) on top of its own 3 x 3 matrix.

Worked in square-root-like values, on luma and two chroma axes: saturation that depends on hue,
chroma and lightness; hue shifts that depend on hue; lightness that depends on hue and chroma.
Greys stay exactly grey. The amounts of "typical" are set so that a chart photographed by measured
cameras is as far off as the real charts in ``tests/data/real_charts.csv`` are, once the grey axis
is put right; ``calibrate_look.py`` prints that comparison.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .spectra import Array

STRENGTHS = {"none": 0.0, "mild": 0.45, "typical": 1.0, "strong": 1.6}


@dataclass(frozen=True)
class Look:
    """Amounts of a look.

    Attributes
    ----------
    saturation
        (5,): constant, then cos and sin of hue and of twice the hue, relative.
    hue
        (5,): the same for the hue's shift, radians.
    lightness
        (5,): the same for the change of lightness per chroma.
    compress
        How strongly vivid colours are held back.
    by_lightness
        Change of saturation from black to white, relative.
    luminance_share
        Share of the tone curve that works on luminance rather than on each channel, 0..1.
    """

    saturation: Array
    hue: Array
    lightness: Array
    compress: float
    by_lightness: float
    luminance_share: float

    @property
    def is_none(self) -> bool:
        """Whether nothing is changed."""
        return not (np.any(self.saturation) or np.any(self.hue) or np.any(self.lightness))


def make_look(strength: str, seed: int) -> Look:
    """A look of the strength "none", "mild", "typical" or "strong", with its own character by seed.

    Raises
    ------
    KeyError
        When the strength is unknown.
    """
    k = STRENGTHS[strength]
    # Means as the real charts show them: vivid colours held back, blues lighter, yellows darker.
    rng = np.random.default_rng([seed, 31])
    saturation = rng.normal([0.05, 0, 0, 0, 0], [0.11, 0.09, 0.09, 0.06, 0.06])
    hue = rng.normal(0.0, [0.03, 0.06, 0.06, 0.05, 0.05])
    lightness = rng.normal([0.0, -0.03, 0.05, 0, 0], [0.10, 0.11, 0.11, 0.08, 0.08])
    return Look(
        k * saturation,
        k * hue,
        k * lightness,
        compress=k * float(rng.uniform(0.0, 0.4)),
        by_lightness=k * float(rng.normal(0.0, 0.10)),
        luminance_share=min(1.0, k * float(rng.choice([0.0, 0.0, 0.3, 0.6]))),
    )


def apply_look(linear: NDArray[np.floating], look: Look) -> NDArray[np.floating]:
    """Linear RGB (..., 3) after the look; negative light is cut off first."""
    if look.is_none:
        return np.maximum(linear, 0)
    v = np.sqrt(np.maximum(linear, 0))
    r, g, b = v[..., 0], v[..., 1], v[..., 2]
    y = 0.3 * r + 0.59 * g + 0.11 * b
    # Two axes at right angles for equal steps of red, green, blue.
    c1 = r - y
    c2 = b - y
    chroma = np.sqrt(c1 * c1 + c2 * c2) + 1e-6
    co, si = c1 / chroma, c2 / chroma
    co2, si2 = co * co - si * si, 2 * co * si

    def wave(a: Array) -> NDArray[np.floating]:
        a = a.astype(v.dtype)
        out = a[0] + a[1] * co + a[2] * si + a[3] * co2 + a[4] * si2
        return np.asarray(out)

    gain = 1 + wave(look.saturation) + v.dtype.type(look.by_lightness) * (y - 0.5)
    gain = gain / (1 + v.dtype.type(look.compress) * chroma)
    turn = wave(look.hue)
    lift = 1 + wave(look.lightness) * chroma
    c, s = np.cos(turn) * gain, np.sin(turn) * gain
    n1, n2 = c * c1 - s * c2, s * c1 + c * c2
    out = np.empty_like(v)
    out[..., 0] = y + n1
    out[..., 2] = y + n2
    out[..., 1] = y - (0.3 * n1 + 0.11 * n2) / 0.59
    out *= lift[..., None]
    return np.maximum(out, 0) ** 2
