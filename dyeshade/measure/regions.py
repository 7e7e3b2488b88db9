"""Greys and samples that a person drew on a photo, with a reference sheet in it or without."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class HandGrey:
    """A grey of known reflectance, drawn by hand.

    Attributes
    ----------
    corners : ndarray, shape (4, 2)
        In order around it; pixels of the upright photo, x right and y down.
    reflectance : float
        Luminance factor, above 0 and up to 1.
    """

    corners: Array
    reflectance: float


@dataclass(frozen=True, eq=False)
class HandSample:
    """A region of a piece, drawn by hand.

    Attributes
    ----------
    name : str
    corners : ndarray, shape (k, 2)
        Three or more, in order around it; pixels of the upright photo, x right and y down.
    """

    name: str
    corners: Array


@dataclass(frozen=True, eq=False)
class Regions:
    """All that was drawn on one photo.

    Attributes
    ----------
    greys : tuple of HandGrey
        At least one.
    samples : tuple of HandSample
        At least one, each with a name of its own.
    """

    greys: tuple[HandGrey, ...]
    samples: tuple[HandSample, ...]

    def __post_init__(self) -> None:
        if not self.greys or not self.samples:
            raise ValueError("at least one grey and one sample")


@dataclass(frozen=True, eq=False)
class DrawnOnSheet:
    """What a person changed on a photo of the reference sheet.

    Attributes
    ----------
    samples : tuple of HandSample
        Drawn by hand, each with a name of its own.
    without : frozenset of str
        Names of the cells that are not read: removed, or drawn anew.
    """

    samples: tuple[HandSample, ...] = ()
    without: frozenset[str] = frozenset()
