"""RGB colour spaces: primaries, their matrices, and the sRGB curve.

References
----------
sRGB: IEC 61966-2-1:1999 with amendment 1:2003 (primaries of ITU-R BT.709).
Display P3: primaries of SMPTE EG 432-1:2010 with white D65 and the sRGB curve, as in the ICC
three-component colour encoding registry.
Adobe RGB (1998): Adobe RGB (1998) Color Image Encoding, version 2005-05; exponent 2 + 51/256.
White x = 0.3127, y = 0.3290: all three.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from dyeshade.cie.adaptation import bradford
from dyeshade.cie.lab import lab_to_lch, lab_to_xyz, lch_to_lab
from dyeshade.cie.white import D65, FloatArray, xy_to_xyz

Chromaticity = tuple[float, float]

SRGB_EXPONENT: Final = 2.4
SRGB_OFFSET: Final = 0.055
SRGB_SLOPE: Final = 12.92
SRGB_KNEE_CODED: Final = 0.04045
SRGB_KNEE_LINEAR: Final = 0.0031308


@dataclass(frozen=True)
class RgbSpace:
    """An RGB colour space by its chromaticities.

    Attributes
    ----------
    name : str
    red, green, blue, white : tuple of float
        CIE 1931 chromaticities x, y.
    """

    name: str
    red: Chromaticity
    green: Chromaticity
    blue: Chromaticity
    white: Chromaticity

    @cached_property
    def native_to_xyz(self) -> FloatArray:
        """Linear RGB to XYZ under the space's own white, shape (3, 3)."""
        return primaries_to_xyz((self.red, self.green, self.blue), self.white)

    @cached_property
    def to_xyz(self) -> FloatArray:
        """Linear RGB to XYZ under D65 (:data:`dyeshade.cie.white.D65`), shape (3, 3).

        RGB (1, 1, 1) becomes D65 exactly; for a space whose white is D65 the adaptation only
        evens out the rounding of the published chromaticities.
        """
        return np.asarray(bradford(xy_to_xyz(self.white), D65) @ self.native_to_xyz)


def primaries_to_xyz(primaries: tuple[Chromaticity, ...], white: Chromaticity) -> FloatArray:
    """Linear RGB to XYZ from chromaticities.

    Parameters
    ----------
    primaries : tuple of three (x, y)
        Red, green, blue.
    white : (x, y)

    Returns
    -------
    ndarray, shape (3, 3)
        Columns are the primaries; their sum is the white with Y = 1.

    Raises
    ------
    numpy.linalg.LinAlgError
        Where the primaries lie on a line.
    """
    columns = np.array([[x, y, 1.0 - x - y] for x, y in primaries]).T
    return np.asarray(columns * np.linalg.solve(columns, xy_to_xyz(white)))


SRGB: Final = RgbSpace("sRGB", (0.64, 0.33), (0.30, 0.60), (0.15, 0.06), (0.3127, 0.3290))
DISPLAY_P3: Final = RgbSpace(
    "Display P3", (0.680, 0.320), (0.265, 0.690), (0.150, 0.060), (0.3127, 0.3290)
)
ADOBE_RGB: Final = RgbSpace(
    "Adobe RGB (1998)", (0.64, 0.33), (0.21, 0.71), (0.15, 0.06), (0.3127, 0.3290)
)
ADOBE_RGB_EXPONENT: Final = 2.0 + 51.0 / 256.0


def srgb_decode(coded: ArrayLike) -> FloatArray:
    """Linear light of sRGB coded values, 0..1 to 0..1; mirrored below zero.

    Parameters
    ----------
    coded : array_like, any shape

    Returns
    -------
    ndarray, same shape
    """
    coded = np.asarray(coded, dtype=np.float64)
    size = np.abs(coded)
    linear = np.where(
        size <= SRGB_KNEE_CODED,
        size / SRGB_SLOPE,
        ((size + SRGB_OFFSET) / (1.0 + SRGB_OFFSET)) ** SRGB_EXPONENT,
    )
    return np.asarray(np.copysign(linear, coded))


def srgb_encode(linear: ArrayLike) -> FloatArray:
    """Coded sRGB values of linear light, the inverse of :func:`srgb_decode`.

    Parameters
    ----------
    linear : array_like, any shape

    Returns
    -------
    ndarray, same shape
    """
    linear = np.asarray(linear, dtype=np.float64)
    size = np.abs(linear)
    coded = np.where(
        size <= SRGB_KNEE_LINEAR,
        size * SRGB_SLOPE,
        (1.0 + SRGB_OFFSET) * size ** (1.0 / SRGB_EXPONENT) - SRGB_OFFSET,
    )
    return np.asarray(np.copysign(coded, linear))


def xyz_to_srgb(xyz: ArrayLike) -> FloatArray:
    """Coded sRGB, not clipped, of XYZ under D65.

    Parameters
    ----------
    xyz : array_like, shape (..., 3)
        Y = 1 for the perfect diffuser.

    Returns
    -------
    ndarray, shape (..., 3)
        0..1 within the gamut; below or above outside it.
    """
    xyz = np.asarray(xyz, dtype=np.float64)
    return srgb_encode(xyz @ np.linalg.inv(SRGB.to_xyz).T)


def lab_to_srgb(lab: ArrayLike) -> tuple[tuple[int, int, int], bool]:
    """The sRGB to show for a shade, and whether that is the shade itself.

    A shade outside the sRGB gamut is shown with its lightness and hue angle kept and its chroma
    C*ab lowered until it fits. A lightness below 0 or above 100 is shown as black or white.

    Parameters
    ----------
    lab : array_like, shape (3,)
        L*, a*, b*; D65, 2 degrees.

    Returns
    -------
    srgb : tuple of int
        Red, green, blue, 0..255.
    in_gamut : bool
        False where the chroma or lightness had to be changed by more than the rounding to
        8 bits does.
    """
    lightness, chroma, hue = lab_to_lch(np.asarray(lab, dtype=np.float64))
    shown_lightness = min(max(float(lightness), 0.0), 100.0)
    half_step = 0.5 / 255.0

    def coded_at(share: float) -> FloatArray:
        lch = np.array([shown_lightness, chroma * share, hue])
        return xyz_to_srgb(lab_to_xyz(lch_to_lab(lch)))

    def fits(coded: FloatArray) -> bool:
        return bool(np.all((coded >= -half_step) & (coded <= 1.0 + half_step)))

    coded = coded_at(1.0)
    fits_whole = fits(coded)
    if not fits_whole:
        low, high = 0.0, 1.0
        # Twenty halvings bring the chroma to a ten-thousandth of a unit.
        for _ in range(20):
            middle = (low + high) / 2.0
            if fits(coded_at(middle)):
                low = middle
            else:
                high = middle
        coded = coded_at(low)
    red, green, blue = (int(value) for value in np.rint(np.clip(coded, 0.0, 1.0) * 255.0))
    in_gamut = fits_whole and abs(shown_lightness - float(lightness)) < 0.05
    return (red, green, blue), in_gamut
