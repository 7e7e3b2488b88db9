"""What measuring a photo yields: plain values that the floors above keep, print and draw."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import Notice
from dyeshade.measure.seen import PatchesSeen, SampleSeen, signals_json

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Shade:
    """A colour as CIELAB with its uncertainty.

    Attributes
    ----------
    lab : ndarray, shape (3,)
        L*, a*, b* for D65 and the 2 degree observer; white is the perfect reflecting diffuser.
    covariance_photo : ndarray, shape (3, 3)
        What differs from photo to photo: noise, texture, fit, light. In Lab units squared.
    covariance_common : ndarray, shape (3, 3)
        What stays: this camera's colours, this sheet's print. In Lab units squared.
    u95 : float
        The CIEDE2000 within which the truth lies 95 times in 100.
    """

    lab: Array
    covariance_photo: Array
    covariance_common: Array
    u95: float

    @property
    def covariance(self) -> Array:
        """Both parts together, shape (3, 3)."""
        return self.covariance_photo + self.covariance_common


@dataclass(frozen=True)
class ShadeShare:
    """One of the main shades of a piece of several colours, and its share of the cloth (0..1)."""

    lab: Array
    share: float


@dataclass(frozen=True)
class Sample:
    """A measured region of a piece in a photo.

    Attributes
    ----------
    name : str
        The cell's name, or the region's.
    shade : Shade
        The mean shade, averaged in linear light as an instrument does.
    srgb : tuple of int
        The shade as shown on an sRGB screen, 0..255.
    in_gamut : bool
        False where sRGB cannot show the shade, so that `srgb` is only near it.
    shades : tuple of ShadeShare
        The main shades with their shares, the largest first; one for a plain piece.
    notices : tuple of Notice
        What a reader of this number must know.
    tag : str
        The piece's code, as the tag that lies with it says; "" where none does, or not for sure.
    outline_px : ndarray, shape (k, 2)
        Outline of what was averaged, in pixels of the upright photo.
    seen : SampleSeen or None
        The signals behind the number; None where they were not kept.
    """

    name: str
    shade: Shade
    srgb: tuple[int, int, int]
    in_gamut: bool
    shades: tuple[ShadeShare, ...]
    notices: tuple[Notice, ...] = ()
    outline_px: Array = field(default_factory=lambda: np.zeros((0, 2)))
    seen: SampleSeen | None = field(default=None, compare=False)
    tag: str = ""


@dataclass(frozen=True)
class SheetSeen:
    """The reference sheet as found in the photo.

    Attributes
    ----------
    paper : str
        "A4" or "Letter".
    cells : str
        "six" or "one".
    serial : str or None
        The sheet's serial number, None where its code could not be read.
    version : int
        Version of the sheet's layout.
    residual : float
        Root mean square by which the greys disagree with the fitted light and tone curve,
        as a share of their light (0.01 = 1 %).
    outline_px : ndarray, shape (k, 2)
        The page's edge, clockwise from its top left corner, in pixels of the upright photo.
    greys_px : ndarray, shape (n, 4, 2)
        Corners of each grey patch.
    """

    paper: str
    cells: str
    serial: str | None
    version: int
    residual: float
    outline_px: Array = field(default_factory=lambda: np.zeros((0, 2)), compare=False)
    greys_px: Array = field(default_factory=lambda: np.zeros((0, 4, 2)), compare=False)


@dataclass(frozen=True)
class Measurement:
    """All that one photo told.

    Attributes
    ----------
    photo : str
        The photo's name as it was given.
    taken : datetime or None
    camera : str or None
    sheet : SheetSeen or None
        None where greys were drawn by hand.
    light : str
        The kind of light assumed, one of `dyeshade.measure.lights.KINDS`.
    samples : tuple of Sample
    notices : tuple of Notice
        What concerns the whole photo.
    patches : PatchesSeen or None
        The signals of greys and bare paper; None where they were not kept.
    file_format : str
        As `dyeshade.photo.photo.Photo`, "" where unknown.
    calibration_id : int or None
        In the shade library, of the calibration that was used.
    """

    photo: str
    taken: datetime | None
    camera: str | None
    sheet: SheetSeen | None
    light: str
    samples: tuple[Sample, ...]
    notices: tuple[Notice, ...] = ()
    white: str = "D65"
    observer: str = "2"
    patches: PatchesSeen | None = field(default=None, compare=False)
    file_format: str = ""
    calibration_id: int | None = None

    def signals(self) -> dict[str, object] | None:
        """Signals of patches and samples as plain values, so that they can be solved anew."""
        if self.patches is None:
            return None
        samples = {one.name: one.seen for one in self.samples if one.seen is not None}
        return signals_json(self.patches, samples)
