"""A colour chart: a grid of patches whose colours somebody has published."""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.adaptation import bradford
from dyeshade.cie.lab import lab_to_xyz, xyz_to_lab
from dyeshade.cie.white import D65

Array = NDArray[np.float64]

CHARTS = ("24", "24-before-2014")
"""Charts whose values are at hand: that of 24 patches, as made since November 2014, and before."""

_CARRIED = {
    "24": "ColorChecker24 - After November 2014",
    "24-before-2014": "ColorChecker24 - Before November 2014",
}
# CIE 15:2018, table of D50 for the 2 degree observer.
D50 = np.array([0.96422, 1.0, 0.82521])


@dataclass(frozen=True, eq=False)
class Chart:
    """A chart and its published values.

    Attributes
    ----------
    name : str
    rows, columns : int
        Of its grid, as it is held upright; patches are counted row by row from the top left.
    lab : ndarray, shape (rows * columns, 3)
        For D65 and the 2 degree observer.
    """

    name: str
    rows: int
    columns: int
    lab: Array

    def __post_init__(self) -> None:
        if self.rows < 2 or self.columns < 2 or self.lab.shape != (self.rows * self.columns, 3):
            raise ValueError("the values do not fill the grid")


def d50_to_d65(lab: Array) -> Array:
    """Lab for D50, as charts are published, to Lab for D65, shape (..., 3).

    References
    ----------
    Bradford's linear adaptation, as in ICC.1:2022, annex E.
    """
    xyz = lab_to_xyz(lab, D50) @ bradford(D50, D65).T
    return np.asarray(xyz_to_lab(xyz))


@cache
def carried_chart(name: str) -> Chart:
    """A chart whose values colour-science carries.

    Parameters
    ----------
    name : str
        One of `CHARTS`.

    References
    ----------
    The maker's values for D50 and the 2 degree observer, as colour-science carries them.
    """
    with warnings.catch_warnings():
        # It warns about optional packages that are not installed.
        warnings.simplefilter("ignore")
        import colour
    published = colour.CCS_COLOURCHECKERS[_CARRIED[name]]
    xy_y = np.array(list(published.data.values()), dtype=float)
    xyz = np.asarray(colour.xyY_to_XYZ(xy_y)) * (D50 / colour.xy_to_XYZ(published.illuminant))
    adapted = xyz @ bradford(D50, D65).T
    return Chart(name, published.rows, published.columns, np.asarray(xyz_to_lab(adapted)))
