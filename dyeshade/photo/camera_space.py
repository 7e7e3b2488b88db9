"""What a camera's own channels stand for: its matrix, or that of a typical camera.

References
----------
Adobe DNG Specification 1.6, chapter 6: a ColorMatrix carries XYZ under its illuminant to the
camera's channels; balanced channels come from it by scaling white to (1, 1, 1).
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from functools import cache

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.rgb_spaces import SRGB
from dyeshade.cie.white import D65
from dyeshade.photo.curves import ParametricCurve
from dyeshade.photo.encoding import Encoding
from dyeshade.resources import resource_path

Array = NDArray[np.float64]

PEDESTAL = 1.0 / 64
"""Share of a raw photo's codes that lies below black, so that noise there is not cut off."""

_LEAST_INVERTIBLE = 1e-3


@cache
def camera_to_srgb() -> Array:
    """Median matrix of measured cameras, balanced camera light to linear sRGB, shape (3, 3).

    Rows sum to one, so that white stays white. Made by ``tests/studies/camera_constants.py`` from
    measured sensitivities (RAW to ACES data repository, Apache-2.0) in daylight of 5500 K.
    """
    with resource_path("measure/constants.json").open(encoding="utf-8") as file:
        return np.array(json.load(file)["typical_camera_to_srgb"], dtype=float)


def from_xyz_to_camera(matrix: Array) -> Array | None:
    """Balanced camera light to XYZ from a matrix the other way round.

    Parameters
    ----------
    matrix : ndarray, shape (3, 3)
        XYZ to the camera's channels, for D65.

    Returns
    -------
    ndarray, shape (3, 3), or None
        (1, 1, 1) becomes D65, Y = 1. None where the matrix says nothing (all zero, not to be
        inverted, white without light in a channel).
    """
    white = matrix @ D65
    if not np.isfinite(matrix).all() or (white <= 0).any():
        return None
    balanced = matrix / white[:, None]
    if np.linalg.cond(balanced) > 1 / _LEAST_INVERTIBLE:
        return None
    return np.asarray(np.linalg.inv(balanced))


def from_camera_to_srgb(matrix: Array) -> Array | None:
    """Balanced camera light to XYZ from a matrix to linear sRGB.

    Parameters
    ----------
    matrix : ndarray, shape (3, 3)
        Balanced camera light to linear sRGB; rows are scaled to sum to one.

    Returns
    -------
    ndarray, shape (3, 3), or None
        As `from_xyz_to_camera`.
    """
    sums = matrix.sum(axis=1)
    if not np.isfinite(matrix).all() or (sums <= 0).any():
        return None
    scaled = matrix / sums[:, None]
    if np.linalg.cond(scaled) > 1 / _LEAST_INVERTIBLE:
        return None
    return np.asarray(SRGB.to_xyz @ scaled)


def raw_encoding(matrices: Iterable[Array | None], white: Array) -> Encoding:
    """What raw light stands for.

    Parameters
    ----------
    matrices : iterable of (3, 3) arrays or None
        Balanced camera light to XYZ, the best first; the first that is there is taken, else that
        of a typical camera.
    white : ndarray, shape (3,)
        What the camera took for white, any scale; zeros where it does not say.

    Returns
    -------
    Encoding
        Linear from `PEDESTAL` on; `assumed` where no matrix was there.
    """
    own = next((matrix for matrix in matrices if matrix is not None), None)
    curve = ParametricCurve(1.0, a=1 / (1 - PEDESTAL), b=-PEDESTAL / (1 - PEDESTAL))
    shown = white if np.isfinite(white).all() and (white > 0).all() else np.array([0.5, 1.0, 0.6])
    shown = shown / shown.max()
    return Encoding(
        curves=(curve,) * 3,
        to_xyz=SRGB.to_xyz @ camera_to_srgb() if own is None else own,
        name="raw light, typical camera" if own is None else "raw light",
        assumed=own is None,
        rendered=False,
        shown_white=(float(shown[0]), float(shown[1]), float(shown[2])),
    )
