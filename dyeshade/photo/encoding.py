"""How a photo's coded values become light, and the encodings that need no profile."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.adaptation import bradford
from dyeshade.cie.rgb_spaces import ADOBE_RGB, ADOBE_RGB_EXPONENT, DISPLAY_P3, SRGB
from dyeshade.cie.white import D65
from dyeshade.photo.curves import SRGB_CURVE, Curve, ParametricCurve


@dataclass(frozen=True, eq=False)
class Encoding:
    """How coded values become light: a profile honoured as numbers.

    Attributes
    ----------
    curves : tuple of three curves
        Red, green, blue; each maps coded 0..1 to linear 0..1.
    to_xyz : ndarray, shape (3, 3)
        Linear light in the file's primaries to XYZ under D65; (1, 1, 1) becomes D65, Y = 1.
    name : str
        "sRGB", "Display P3", or what the profile calls itself.
    assumed : bool
        True where the file does not say, or not so that it could be read, and sRGB is assumed (for
        raw light, the space of a typical camera).
    rendered : bool
        False for raw light: the channels are the sensor's own, untouched by any look, tone curve
        or white balance. (1, 1, 1) is then no white that was seen.
    shown_white : tuple of three float
        Raw light only: the linear values that the camera took for white, the largest 1. For
        showing; what is measured takes its white from greys.
    """

    curves: tuple[Curve, Curve, Curve]
    to_xyz: NDArray[np.float64]
    name: str
    assumed: bool
    rendered: bool = True
    shown_white: tuple[float, float, float] = (1.0, 1.0, 1.0)

    @property
    def own_known(self) -> bool:
        """False for raw light of a camera whose own matrix is not known."""
        return self.rendered or not self.assumed


def adapted_to_d65(native: NDArray[np.float64]) -> NDArray[np.float64]:
    """A matrix of primaries under any white, carried over to D65.

    Parameters
    ----------
    native : ndarray, shape (3, 3)
        Linear RGB to XYZ; its rows' sums are the white.

    Returns
    -------
    ndarray, shape (3, 3)
        (1, 1, 1) becomes D65 exactly.

    Raises
    ------
    ValueError
        Where the sum of the primaries is no white.
    """
    return np.asarray(bradford(native.sum(axis=1), D65) @ native)


def srgb_encoding(assumed: bool = False) -> Encoding:
    """sRGB, IEC 61966-2-1."""
    return Encoding((SRGB_CURVE,) * 3, SRGB.to_xyz, "sRGB", assumed)


def display_p3_encoding() -> Encoding:
    """Display P3: SMPTE EG 432-1 primaries, D65, the sRGB curve."""
    return Encoding((SRGB_CURVE,) * 3, DISPLAY_P3.to_xyz, "Display P3", assumed=False)


def adobe_rgb_encoding() -> Encoding:
    """Adobe RGB (1998)."""
    curve = ParametricCurve(ADOBE_RGB_EXPONENT)
    return Encoding((curve,) * 3, ADOBE_RGB.to_xyz, ADOBE_RGB.name, assumed=False)
