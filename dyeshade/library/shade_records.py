"""What photos told: photos, the sheet in them, readings; and calibrations and unsaved work.

Covariances are kept as six numbers: L*L*, L*a*, L*b*, a*a*, a*b*, b*b*, in Lab units squared.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import PurePosixPath
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import Notice
from dyeshade.library.dye_records import STATES as STATES
from dyeshade.library.dye_records import require
from dyeshade.measure.result import Shade

Array = NDArray[np.float64]
Six = tuple[float, float, float, float, float, float]

_UPPER = np.triu_indices(3)


def six_of(covariance: Array) -> Six:
    """The six numbers of a symmetric 3 x 3 matrix."""
    six = tuple(float(value) for value in np.asarray(covariance)[_UPPER])
    return (six[0], six[1], six[2], six[3], six[4], six[5])


def matrix_of(six: Six) -> Array:
    """The symmetric 3 x 3 matrix of six numbers."""
    a, b, c, d, e, f = six
    return np.array([[a, b, c], [b, d, e], [c, e, f]])


@dataclass(frozen=True)
class KeptPhoto:
    """A photo kept beside the library's file.

    Attributes
    ----------
    sha256 : str
        Hash of the file's bytes, 64 hexadecimal digits in lower case.
    suffix : str
        Of the kept file, with its dot and in lower case, as ".jpg".
    taken : datetime or None
    """

    sha256: str
    suffix: str
    name: str
    file_format: str = ""
    taken: datetime | None = None
    camera: str | None = None
    size_bytes: int = 0
    id: int = 0

    def __post_init__(self) -> None:
        fine = len(self.sha256) == 64 and set(self.sha256) <= set("0123456789abcdef")
        require(fine, f"hash {self.sha256!r}")
        plain = self.suffix == "" or (self.suffix[0] == "." and self.suffix[1:].isalnum())
        require(plain, f"suffix {self.suffix!r}")

    @property
    def relative_path(self) -> PurePosixPath:
        """Where the file lies in the library's folder."""
        return PurePosixPath("photos", self.sha256[:2], self.sha256 + self.suffix)


@dataclass(frozen=True)
class SheetReading:
    """One photo as one method understood it: its sheet, its light, its greys.

    Attributes
    ----------
    method_version : int
        Version of the way of measuring; a later one is a larger number.
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    paper, cells, serial, layout_version, residual
        As `dyeshade.measure.result.SheetSeen`; None where greys were drawn by hand.
    signals : object or None
        Whatever JSON can hold of the patches' signals, so that two readings of one sheet can be
        solved together.
    notices : tuple of Notice
        What concerns the whole photo.
    """

    photo_id: int
    method_version: int
    light: str
    paper: str | None = None
    cells: str | None = None
    serial: str | None = None
    layout_version: int | None = None
    residual: float | None = None
    signals: Any = None
    notices: tuple[Notice, ...] = ()
    calibration_id: int | None = None
    id: int = 0


@dataclass(frozen=True)
class Reading:
    """The colour of a sample of a piece, at a time and in a state.

    Attributes
    ----------
    sample : str
        Name of the cell or of the spot drawn by hand.
    read : datetime
        When the piece looked like this: when the photo was taken.
    state : str
        One of `STATES`.
    lab_l, lab_a, lab_b : float
        CIELAB for D65 and the 2 degree observer, white the perfect reflecting diffuser.
    covariance_photo, covariance_common : tuple of 6 floats
        As `dyeshade.measure.result.Shade`, in Lab units squared.
    u95 : float
        The CIEDE2000 within which the truth lies 95 times in 100.
    srgb : str
        As "#rrggbb"; only near the shade where `in_gamut` is False.
    after_treatment_id : int or None
        The last treatment before the reading; where None, the dates tell.
    photo_id, sheet_reading_id : int or None
        None for a shade that no photo told.
    method_version : int
        0 for a shade that no photo told.
    measured : datetime
        When the value was worked out.
    shades : tuple of ((L*, a*, b*), share)
        Main shades of a piece of several colours.
    outline_px : tuple of (x, y)
        Pixels of the upright photo.
    """

    piece_id: int
    sample: str
    read: datetime
    state: str
    lab_l: float
    lab_a: float
    lab_b: float
    covariance_photo: Six
    covariance_common: Six
    u95: float
    srgb: str
    in_gamut: bool
    measured: datetime
    method_version: int = 0
    photo_id: int | None = None
    sheet_reading_id: int | None = None
    calibration_id: int | None = None
    after_treatment_id: int | None = None
    shades: tuple[tuple[tuple[float, float, float], float], ...] = ()
    outline_px: tuple[tuple[float, float], ...] = ()
    notices: tuple[Notice, ...] = ()
    note: str = ""
    id: int = 0

    def __post_init__(self) -> None:
        require(self.state in STATES, f"state {self.state!r}")
        require(bool(self.sample), "a sample needs a name")

    @property
    def lab(self) -> tuple[float, float, float]:
        """L*, a*, b* (D65, 2 degrees)."""
        return (self.lab_l, self.lab_a, self.lab_b)

    @property
    def shade(self) -> Shade:
        """The reading as measuring states it."""
        return Shade(
            np.array(self.lab),
            matrix_of(self.covariance_photo),
            matrix_of(self.covariance_common),
            self.u95,
        )


@dataclass(frozen=True)
class Calibration:
    """What was learnt once of a camera or a print: `kind` is "camera" or "sheet"."""

    kind: str
    name: str
    made: datetime
    payload: Any = None
    id: int = 0


@dataclass(frozen=True)
class Draft:
    """Work that nobody has saved yet, kept against a crash; `payload` is whatever JSON can hold."""

    name: str
    changed: datetime
    payload: Any = None
    id: int = 0
