"""Which of a photo's patches can be believed, and how well each is known."""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.grey_fit import GreySignals

Array = NDArray[np.float64]

_CODE_STEP = 1.0 / 255.0
_PATCHY = 0.08
"""A patch whose parts differ by more than this has something lying on it."""


class BoxesSeen(Protocol):
    """What a photo shows of n boxes, as `dyeshade.measure.signals.PatchSignals` has it."""

    @property
    def mean(self) -> Array:
        """Mean linear light, 0..1, shape (n, 3)."""

    @property
    def spread(self) -> Array:
        """Standard deviation of it over the box, shape (n, 3)."""

    @property
    def pixels(self) -> NDArray[np.int64]:
        """Pixels read, shape (n,); 0 where the box is not wholly in the photo."""

    @property
    def clipped(self) -> Array:
        """Share of pixels at an end of their scale, shape (n,)."""

    @property
    def patchy(self) -> Array:
        """Unevenness within the box, shape (n,)."""


def standard_error(seen: BoxesSeen, eight_bit: bool) -> Array:
    """Standard error of each box's mean light, shape (n, 3)."""
    pixels = np.maximum(seen.pixels, 1)[:, None]
    # JPEG's blocks and print grain hold neighbours together: sixteen pixels tell as much as one.
    error = np.nan_to_num(seen.spread) / np.sqrt(np.maximum(pixels / 16, 1.0))
    if eight_bit:
        # Rounding averages out within a noisy patch, but not in the darkest ones.
        mean = np.maximum(np.nan_to_num(seen.mean), 1e-4)
        error = np.hypot(error, 0.1 * _CODE_STEP * np.sqrt(mean))
    return np.asarray(error)


def usable(seen: BoxesSeen) -> NDArray[np.bool_]:
    """Which channels of which boxes are neither clipped nor hidden, shape (n, 3)."""
    whole = (seen.pixels > 0) & (seen.clipped < 0.02) & ~(seen.patchy > _PATCHY)
    return np.asarray(whole[:, None] & (np.nan_to_num(seen.mean) > 0))


def usable_greys(
    places: Array, reflectance: Array, seen: BoxesSeen, eight_bit: bool
) -> GreySignals:
    """Greys and bare paper as the fit wants them, the clipped and the hidden left out.

    Parameters
    ----------
    places : ndarray, shape (n, 2)
        Middles on the page, mm.
    reflectance : ndarray, shape (n,)
        Of a plain print.
    seen : BoxesSeen
    eight_bit : bool

    Returns
    -------
    GreySignals
    """
    return GreySignals(
        places,
        reflectance,
        np.nan_to_num(seen.mean),
        standard_error(seen, eight_bit),
        usable(seen),
    )
