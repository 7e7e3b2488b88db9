"""What a camera's light means as colour where nobody has calibrated it.

A camera is not an eye, and a lamp is not daylight: under each kind of light measured cameras miss
many colours to the same side. That common part is put right here, by a root-polynomial learnt from
measured cameras for each kind of light; what differs from camera to camera stays, as a spread.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.lab import xyz_to_lab
from dyeshade.measure.camera_colours import camera_covariance, constants
from dyeshade.measure.lights import spread_name
from dyeshade.measure.root_polynomial import terms
from dyeshade.measure.typical_camera import camera_base

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class TypicalColours:
    """From one photo's light, white divided out, to colour, as cameras are on the whole.

    Attributes
    ----------
    base : ndarray, shape (3, 3)
        The photo's channels (`dyeshade.measure.typical_camera.camera_light`) to XYZ.
    turn : ndarray, shape (3, 3)
        The same to the channels of a typical camera.
    degree : int
        Of the root-polynomial.
    weights : ndarray, shape (3, terms)
        Of its terms in those channels, to XYZ.
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    rendered : bool
        Whether the camera's maker rendered the photo.
    camera_known : bool
        False where a typical camera's matrix stands in for that of a raw file's own camera.
    """

    base: Array
    turn: Array
    degree: int
    weights: Array
    light: str
    rendered: bool
    camera_known: bool

    def lab(self, light: Array) -> Array:
        """Lab of light, shape (..., 3): channels with the white divided out, white 1 in each."""
        held = np.asarray(light, dtype=float)
        added = terms(held @ self.turn.T, self.degree) @ self.weights.T
        return xyz_to_lab(held @ self.base.T + added)

    def covariance(self, lab: Array) -> Array:
        """Covariance of a shade that comes of these colours, shape (3, 3), in Lab units squared."""
        return camera_covariance(lab, self.light, self.rendered, self.camera_known)


def typical_colours(
    to_xyz: Array, rendered: bool, light: str, camera_known: bool = True
) -> TypicalColours:
    """How a photo's light becomes colour where no calibration tells.

    Parameters
    ----------
    to_xyz : ndarray, shape (3, 3)
        The file's primaries to XYZ relative to D65.
    rendered : bool
        False for raw light, whose channels are the camera's own.
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    camera_known : bool
        False for raw light of a camera whose matrix is not known: a typical one's was taken.

    Returns
    -------
    TypicalColours

    Raises
    ------
    ValueError
        For another light.
    """
    base = camera_base(to_xyz, rendered)
    turn = np.asarray(np.linalg.solve(camera_base(to_xyz), base), dtype=np.float64)
    degree, weights = _typical_terms(spread_name(light))
    return TypicalColours(base, turn, degree, weights, light, rendered, camera_known)


@cache
def _typical_terms(kind: str) -> tuple[int, Array]:
    told = constants()["typical_terms"]
    weights = np.array(told["weights"][kind], dtype=float)
    weights.flags.writeable = False
    return int(told["degree"]), weights
