"""What was learnt once of a camera or a print: values, and how they are kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dyeshade.measure.lights import KINDS, spread_name
from dyeshade.measure.own_colours import OwnColours

Array = NDArray[np.float64]

FORMAT = 1
"""Version of what `to_json` gives; raised when a key changes its meaning."""

CAMERA, SHEET = "camera", "sheet"


@dataclass(frozen=True, eq=False)
class CameraCalibration:
    """How one camera sees, in one format of file and one kind of light.

    Attributes
    ----------
    camera, file_format : str
        As `dyeshade.photo.photo.Photo`.
    light : str
        One of `dyeshade.measure.lights.KINDS`; kinds of daylight stand for each other.
    chart : str
        Name of the chart.
    colours : OwnColours
        With the spread of what is still wrong.
    error, before : float
        Mean CIEDE2000 of the chart's colours, each left out of the fit in turn; and of the camera
        as it was taken before.
    patches : int
        How many patches told it.
    id : int
        In the shade library; 0 where it is not kept.
    made : datetime or None
        When the library took it; None where it is not kept.
    """

    camera: str
    file_format: str
    light: str
    chart: str
    colours: OwnColours
    error: float
    before: float
    patches: int
    id: int = 0
    made: datetime | None = None

    @property
    def name(self) -> str:
        """What people call it."""
        return f"{self.camera}, {self.file_format}, {spread_name(self.light)}"

    def matches(self, camera: str | None, file_format: str, light: str) -> bool:
        """Whether it is of this camera, format and kind of light."""
        return (
            camera is not None
            and camera == self.camera
            and file_format == self.file_format
            and spread_name(light) == spread_name(self.light)
        )

    def to_json(self) -> dict[str, Any]:
        """Plain values that JSON can hold."""
        return {
            "format": FORMAT,
            "camera": self.camera,
            "file_format": self.file_format,
            "light": self.light,
            "chart": self.chart,
            "colours": self.colours.to_json(),
            "error": round(self.error, 4),
            "before": round(self.before, 4),
            "patches": self.patches,
        }

    @classmethod
    def from_json(cls, values: Mapping[str, Any], id_: int = 0) -> CameraCalibration:
        """The value of what `to_json` gave.

        Raises
        ------
        KeyError, TypeError, ValueError
            For anything else, and for a format of a later program.
        """
        _check(values)
        if values["light"] not in KINDS:
            raise ValueError(f"not a kind of light: {values['light']!r}")
        return cls(
            str(values["camera"]),
            str(values["file_format"]),
            str(values["light"]),
            str(values["chart"]),
            OwnColours.from_json(values["colours"]),
            float(values["error"]),
            float(values["before"]),
            int(values["patches"]),
            id_,
        )


@dataclass(frozen=True, eq=False)
class SheetCalibration:
    """What one print reflects.

    Attributes
    ----------
    serial : str
        Of the sheet.
    paper, cells : str
        As `dyeshade.sheet.layout.Layout`.
    how : str
        "chart", "raw", "card" or "typed".
    levels : ndarray, shape (k,)
        Luminance factors of a plain print's greys and bare paper, lightest first.
    greys : ndarray, shape (k, 3)
        What this print reflects there: XYZ for D65, Y = 1 for the perfect diffuser.
    scale_spread : float
        Spread of the log of all of them together.
    colours : mapping of str to ndarray, shape (3,)
        Lab (D65, 2 degrees) of colour patches, as a camera takes them; empty where not learnt.
    error : float or None
        Mean CIEDE2000 of the chart's colours left out, where a chart told the colours.
    id : int
        In the shade library; 0 where it is not kept.
    made : datetime or None
        When the library took it; None where it is not kept.
    """

    serial: str
    paper: str
    cells: str
    how: str
    levels: Array
    greys: Array
    scale_spread: float
    colours: Mapping[str, Array] = field(default_factory=dict)
    error: float | None = None
    id: int = 0
    made: datetime | None = None

    def __post_init__(self) -> None:
        if self.greys.shape != (len(self.levels), 3) or not (self.greys > 0).all():
            raise ValueError("greys of a print are XYZ above zero, one for each level")

    @property
    def name(self) -> str:
        """What people call it."""
        return self.serial

    def at(self, levels: Array) -> Array:
        """XYZ of what a plain print would reflect as `levels`, (n,) to (n, 3)."""
        order = np.argsort(self.levels)
        known = np.log(self.levels[order])
        off = np.log(self.greys[order] / self.levels[order, None])
        asked = np.log(levels)
        moved = [np.interp(asked, known, off[:, k]) for k in range(3)]
        return np.asarray(levels[:, None] * np.exp(np.stack(moved, axis=-1)))

    def to_json(self) -> dict[str, Any]:
        """Plain values that JSON can hold."""
        return {
            "format": FORMAT,
            "serial": self.serial,
            "paper": self.paper,
            "cells": self.cells,
            "how": self.how,
            "levels": [round(float(one), 6) for one in self.levels],
            "greys": [[round(float(x), 6) for x in one] for one in self.greys],
            "scale_spread": round(self.scale_spread, 5),
            "colours": {
                name: [round(float(x), 3) for x in lab] for name, lab in self.colours.items()
            },
            "error": None if self.error is None else round(self.error, 4),
        }

    @classmethod
    def from_json(cls, values: Mapping[str, Any], id_: int = 0) -> SheetCalibration:
        """The value of what `to_json` gave.

        Raises
        ------
        KeyError, TypeError, ValueError
            For anything else, and for a format of a later program.
        """
        _check(values)
        error = values["error"]
        return cls(
            str(values["serial"]),
            str(values["paper"]),
            str(values["cells"]),
            str(values["how"]),
            np.array(values["levels"], dtype=float),
            np.array(values["greys"], dtype=float),
            float(values["scale_spread"]),
            {str(name): np.array(lab, dtype=float) for name, lab in values["colours"].items()},
            None if error is None else float(error),
            id_,
        )


@dataclass(frozen=True, eq=False)
class Calibrations:
    """All calibrations that measuring may use, the newest first.

    Attributes
    ----------
    cameras : tuple of CameraCalibration
    sheets : tuple of SheetCalibration
    """

    cameras: tuple[CameraCalibration, ...] = ()
    sheets: tuple[SheetCalibration, ...] = ()

    def camera_for(
        self, camera: str | None, file_format: str, light: str
    ) -> CameraCalibration | None:
        """That of this camera, format and kind of light, None where there is none."""
        return next((c for c in self.cameras if c.matches(camera, file_format, light)), None)

    def sheet_for(self, serial: str, paper: str, cells: str) -> SheetCalibration | None:
        """That of the sheet of this number, None where there is none or the number is not read."""
        wanted = (serial, paper, cells)
        if not serial:
            return None
        return next((s for s in self.sheets if (s.serial, s.paper, s.cells) == wanted), None)

    def fitting(
        self,
        camera: str | None,
        file_format: str,
        light: str,
        sheet: tuple[str, str, str] | None = None,
    ) -> Calibrations:
        """Those of one photo: at most one camera's, and one sheet's.

        Parameters
        ----------
        camera : str or None
        file_format : str
        light : str
            One of `dyeshade.measure.lights.KINDS`.
        sheet : tuple of (str, str, str), optional
            Serial number, paper and cells of the sheet in the photo.
        """
        of_camera = self.camera_for(camera, file_format, light)
        of_sheet = None if sheet is None else self.sheet_for(*sheet)
        return Calibrations(
            () if of_camera is None else (of_camera,), () if of_sheet is None else (of_sheet,)
        )

    @property
    def _all(self) -> tuple[CameraCalibration | SheetCalibration, ...]:
        return (*self.cameras, *self.sheets)

    @property
    def ids(self) -> tuple[int, ...]:
        """Their numbers in the shade library, cameras first."""
        return tuple(one.id for one in self._all)

    @property
    def newest(self) -> datetime | None:
        """When the last of them was made, None where there is none."""
        return max((one.made for one in self._all if one.made), default=None)


NO_CALIBRATIONS = Calibrations()
"""As with a camera and a print that were never calibrated."""


def _check(values: Mapping[str, Any]) -> None:
    if values["format"] != FORMAT:
        raise ValueError(f"a calibration of format {values['format']!r}")
