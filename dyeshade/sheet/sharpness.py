"""How sharp a photo is when no mark can be read in it."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from dyeshade.photo.vision import cv2

_LONGEST_PX = 1600
_LEAST_SLOPE = 4.0


def typical_edge_px(grey: npt.NDArray[np.uint8]) -> float | None:
    """Width of the photo's strongest edges, on a copy of at most 1600 pixels.

    The steepest slopes are compared after a little and after much smoothing. A sharp edge loses
    most of its slope by that, one that is already soft hardly any.

    Parameters
    ----------
    grey : (h, w) uint8
        The photo's luma.

    Returns
    -------
    float or None
        Standard deviation of the blur in pixels of the copy; None where the photo shows no edges
        to speak of.
    """
    ratio = min(1.0, _LONGEST_PX / max(grey.shape))
    small = cv2.resize(grey, None, fx=ratio, fy=ratio, interpolation=cv2.INTER_AREA)
    picture = small.astype(np.float32)
    fine, coarse = (_steepest(picture, sigma) for sigma in (1.5, 6.0))
    if coarse < _LEAST_SLOPE * 0.25:
        return None
    # A step blurred by b and smoothed by s has slope ~ 1 / sqrt(b^2 + s^2).
    gain = max(fine / coarse, 1.001) ** 2
    squared = (6.0**2 - gain * 1.5**2) / (gain - 1.0)
    return float(np.sqrt(max(squared, 0.0)))


def _steepest(picture: npt.NDArray[np.float32], sigma: float) -> float:
    soft = cv2.GaussianBlur(picture, (0, 0), sigma)
    slope = cv2.magnitude(
        cv2.Sobel(soft, cv2.CV_32F, 1, 0, scale=0.125),
        cv2.Sobel(soft, cv2.CV_32F, 0, 1, scale=0.125),
    )
    return float(np.percentile(slope[::2, ::2], 99.5))
