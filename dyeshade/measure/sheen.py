"""One reading of two photos of a piece that was turned between them: sheen.

Silk and smooth twills throw light back along their threads: turned by 90 degrees they look lighter
or darker. A mean of both ways is what the eye takes for the piece's shade, and how far the two lie
apart is part of what such a reading leaves open.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import lab_to_xyz, xyz_to_lab
from dyeshade.cie.spread import u95_of
from dyeshade.measure.result import Shade

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class TurnedShade:
    """A shade of two photos.

    Attributes
    ----------
    shade : Shade
        Averaged in linear light. Variances of what differs from photo to photo are averaged and
        halved, and along the gap between the two its size / sqrt(12) is added.
    sheen : float
        CIEDE2000 between the two.
    """

    shade: Shade
    sheen: float


def turned_shade(first: Shade, second: Shade, gap: Array | None = None) -> TurnedShade:
    """One shade of two photos, the piece turned by 90 degrees between them.

    Parameters
    ----------
    first, second : Shade
    gap : ndarray, shape (3,), optional
        ``second - first`` in Lab where both photos were solved together; else as they stand.

    Returns
    -------
    TurnedShade

    References
    ----------
    JCGM 100:2008, 4.3.7 and F.2.2.2 (two values seen of one quantity: their mean, and the spread of
    an even distribution between the two, gap / sqrt(12)).
    """
    lab = xyz_to_lab((lab_to_xyz(first.lab) + lab_to_xyz(second.lab)) / 2)
    apart = np.asarray(second.lab - first.lab if gap is None else gap, dtype=float)
    photo = (first.covariance_photo + second.covariance_photo) / 4 + np.outer(apart, apart) / 12
    # One camera and one print err alike in both.
    common = (first.covariance_common + second.covariance_common) / 2
    shade = Shade(lab, photo, common, u95_of(lab, photo + common))
    middle = (first.lab + second.lab) / 2
    return TurnedShade(shade, float(ciede2000(middle - apart / 2, middle + apart / 2)))
