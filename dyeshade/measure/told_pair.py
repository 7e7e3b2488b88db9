"""What two photos say of equal spots: Lab by each, and how Lab follows what is not known."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.grey_fit import GreyFit
from dyeshade.measure.propagate import lab_of

Array = NDArray[np.float64]

_STEP = 1e-4


@dataclass(frozen=True, eq=False)
class Told:
    """Colours of n spots by one photo.

    Attributes
    ----------
    lab : ndarray, shape (n, 3)
    reflectance : ndarray, shape (n, 3)
        Per channel of the file, the light's colour not divided out of its own space.
    by_fit : ndarray, shape (n, 3, q)
        Derivatives of Lab by the unknowns of the photo, the print's departure left out: a spot's
        colour does not depend on it.
    by_scale : ndarray, shape (n, 3, 3)
        Derivatives of Lab by the log of each channel's reflectance.
    slope : ndarray, shape (n, 3)
        Change of log light with log signal.
    """

    lab: Array
    reflectance: Array
    by_fit: Array
    by_scale: Array
    slope: Array


def told_by(fit: GreyFit, signal: Array, places: Array, to_xyz: Array, rendered: bool) -> Told:
    """Colours of spots by one photo's fit.

    Parameters
    ----------
    fit : GreyFit
    signal : ndarray, shape (n, 3)
        Linear light in the file's primaries, 0..1.
    places : ndarray, shape (n, 2)
        Middles on the page, mm.
    to_xyz : ndarray, shape (3, 3)
        The file's primaries to XYZ relative to D65.
    rendered : bool
        False for raw light.

    Returns
    -------
    Told
    """
    reflectance = fit.reflectance(signal, places)
    vector = fit.parameters()
    columns = []
    for k in range(len(vector) - len(fit.print_departure)):
        sides = []
        for step in (_STEP, -_STEP):
            moved = vector.copy()
            moved[k] += step
            other = fit.with_parameters(moved)
            sides.append(lab_of(other.reflectance(signal, places), other.white, to_xyz, rendered))
        columns.append((sides[0] - sides[1]) / (2 * _STEP))
    scales = []
    for channel in np.eye(3):
        up, down = (
            lab_of(reflectance * np.exp(step * channel), fit.white, to_xyz, rendered)
            for step in (_STEP, -_STEP)
        )
        scales.append((up - down) / (2 * _STEP))
    return Told(
        lab_of(reflectance, fit.white, to_xyz, rendered),
        reflectance,
        np.stack(columns, axis=-1),
        np.stack(scales, axis=-1),
        fit.curve.slope(np.log(np.maximum(signal, 1e-5))),
    )
