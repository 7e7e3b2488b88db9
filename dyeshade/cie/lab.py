"""CIELAB from XYZ and back, and its chroma and hue.

All functions take and return float64 arrays whose last axis has three entries, of any shape
before it. XYZ is relative: the white has Y = 1.

References
----------
CIE 15:2018, *Colorimetry*, 4th edition, 8.2.1 and its inverse in annex D; ISO/CIE 11664-4:2019.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from dyeshade.cie.white import D65, FloatArray

# The exact rationals of CIE 15 rather than 0.008856 and 7.787, so that both branches meet.
_EPSILON = (6.0 / 29.0) ** 3
_SLOPE = (29.0 / 6.0) ** 2 / 3.0
_OFFSET = 4.0 / 29.0


def xyz_to_lab(xyz: ArrayLike, white: ArrayLike = D65) -> FloatArray:
    """CIELAB of XYZ.

    Parameters
    ----------
    xyz : array_like, shape (..., 3)
        Tristimulus values, Y = 1 for the perfect diffuser.
    white : array_like, shape (3,), optional
        XYZ of the white; D65 at 2 degrees unless told.

    Returns
    -------
    ndarray, shape (..., 3)
        L* (0 to 100), a*, b*.
    """
    ratio = np.asarray(xyz, dtype=np.float64) / np.asarray(white, dtype=np.float64)
    # Values a little below zero come from noise around black: the straight part carries them on.
    f = np.where(
        ratio > _EPSILON,
        np.cbrt(ratio),
        _SLOPE * ratio + _OFFSET,
    )
    lab = np.empty_like(f)
    lab[..., 0] = 116.0 * f[..., 1] - 16.0
    lab[..., 1] = 500.0 * (f[..., 0] - f[..., 1])
    lab[..., 2] = 200.0 * (f[..., 1] - f[..., 2])
    return lab


def lab_to_xyz(lab: ArrayLike, white: ArrayLike = D65) -> FloatArray:
    """XYZ of CIELAB, the inverse of :func:`xyz_to_lab`.

    Parameters
    ----------
    lab : array_like, shape (..., 3)
        L*, a*, b*.
    white : array_like, shape (3,), optional
        XYZ of the white; D65 at 2 degrees unless told.

    Returns
    -------
    ndarray, shape (..., 3)
        Tristimulus values, Y = 1 for the perfect diffuser.
    """
    lab = np.asarray(lab, dtype=np.float64)
    f = np.empty_like(lab)
    f[..., 1] = (lab[..., 0] + 16.0) / 116.0
    f[..., 0] = f[..., 1] + lab[..., 1] / 500.0
    f[..., 2] = f[..., 1] - lab[..., 2] / 200.0
    ratio = np.where(f > 6.0 / 29.0, f**3, (f - _OFFSET) / _SLOPE)
    return np.asarray(ratio * np.asarray(white, dtype=np.float64))


def lab_to_lch(lab: ArrayLike) -> FloatArray:
    """Lightness, chroma and hue angle of CIELAB.

    Parameters
    ----------
    lab : array_like, shape (..., 3)
        L*, a*, b*.

    Returns
    -------
    ndarray, shape (..., 3)
        L*, C*ab, and hab in degrees from 0 up to, not including, 360. The hue of an exact
        neutral is given as 0.
    """
    lab = np.asarray(lab, dtype=np.float64)
    lch = np.empty_like(lab)
    lch[..., 0] = lab[..., 0]
    lch[..., 1] = np.hypot(lab[..., 1], lab[..., 2])
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1])) % 360.0
    # A tiny negative angle rounds up to 360 itself under the remainder.
    lch[..., 2] = np.where((hue >= 360.0) | (lch[..., 1] == 0.0), 0.0, hue)
    return lch


def lch_to_lab(lch: ArrayLike) -> FloatArray:
    """CIELAB of lightness, chroma and hue angle.

    Parameters
    ----------
    lch : array_like, shape (..., 3)
        L*, C*ab, hab in degrees.

    Returns
    -------
    ndarray, shape (..., 3)
        L*, a*, b*.
    """
    lch = np.asarray(lch, dtype=np.float64)
    lab = np.empty_like(lch)
    hue = np.radians(lch[..., 2])
    lab[..., 0] = lch[..., 0]
    lab[..., 1] = lch[..., 1] * np.cos(hue)
    lab[..., 2] = lch[..., 1] * np.sin(hue)
    return lab
