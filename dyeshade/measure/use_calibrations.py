"""Which calibrations a photo is measured with, and what its reader is told of them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from dyeshade.errors import Notice
from dyeshade.measure.calibrations import Calibrations, CameraCalibration, SheetCalibration
from dyeshade.measure.grey_fit import GreyFit, GreySignals
from dyeshade.measure.greys import fit_greys
from dyeshade.measure.light_field import field_for_page
from dyeshade.measure.lights import spread_name
from dyeshade.measure.own_colours import OwnColours
from dyeshade.measure.propagate import PAPER_SPREAD, PAPER_TINT_SPREAD
from dyeshade.measure.sheet_colours import (
    MOST_GREYS_OFF,
    colours_by_sheet,
    greys_off,
    with_known_greys,
)
from dyeshade.photo.photo import Photo
from dyeshade.sheet.layout import Layout
from dyeshade.sheet.place import SheetPlace

Array = NDArray[np.float64]

KNOWN_TINT_SPREAD = 0.0061
"""Spread of log reflectance of paper whose tint was learnt, in blue against green, where nothing
makes a brightener shine (``tests/studies/calibration.py --fitting`` prints it)."""


@dataclass(frozen=True, eq=False)
class Used:
    """What calibrations say of one photo.

    Attributes
    ----------
    own : OwnColours or None
        How this photo's light becomes colour.
    reference_spread, tint_spread : float
        Spread of the log reflectance of what stands for white: of all channels, and between them.
    notices : tuple of Notice
    calibration_id : int or None
        In the shade library, of the calibration that told most.
    """

    own: OwnColours | None = None
    reference_spread: float = PAPER_SPREAD
    tint_spread: float = PAPER_TINT_SPREAD
    notices: tuple[Notice, ...] = ()
    calibration_id: int | None = None


NOTHING = Used()
"""A photo without calibrations."""


@dataclass(frozen=True, eq=False)
class GreysUsed:
    """Greys solved, as of a plain print or as learnt of this one.

    Attributes
    ----------
    signals : GreySignals
    fit : GreyFit
    sheet : SheetCalibration or None
        None where there is none, or where the print no longer agrees with it.
    notices : tuple of Notice
    """

    signals: GreySignals
    fit: GreyFit
    sheet: SheetCalibration | None
    notices: tuple[Notice, ...]


def solve_greys(
    photo: Photo, layout: Layout, signals: GreySignals, known: Calibrations
) -> GreysUsed:
    """Solve a photo's greys, by this print's own values where they were learnt.

    Returns
    -------
    GreysUsed
        Notices ``sheet_calibration_used`` (serial), ``sheet_changed`` (percent, serial).
    """
    field = field_for_page(layout.paper_mm)
    raw = not photo.encoding.rendered
    sheet = known.sheet_for(layout.serial, layout.paper, layout.cells_kind)
    if sheet is None:
        return GreysUsed(signals, fit_greys(signals, field, linear=raw), None, ())
    own = with_known_greys(signals, sheet, photo.encoding.to_xyz)
    fit = fit_greys(own, field, linear=raw)
    off = greys_off(fit, own)
    if off > MOST_GREYS_OFF:
        told = Notice("sheet_changed", {"percent": round(100 * off, 1), "serial": sheet.serial})
        return GreysUsed(signals, fit_greys(signals, field, linear=raw), None, (told,))
    told = Notice("sheet_calibration_used", {"serial": sheet.serial})
    return GreysUsed(own, fit, sheet, (told,))


def calibrations_on_sheet(
    photo: Photo, place: SheetPlace, greys: GreysUsed, light: str, known: Calibrations
) -> Used:
    """What calibrations say of a photo of the sheet.

    A rendered photo is corrected by the sheet's colours, since its camera may have rendered it
    otherwise than the photo that calibrated the camera. Raw light is the same in every photo: the
    camera's calibration goes first; in daylight its own matrix is surer than the sheet's inks.
    """
    camera = known.camera_for(photo.camera, photo.file_format, light)
    notices = greys.notices
    sheet = greys.sheet
    raw = not photo.encoding.rendered
    wanted = not raw or (camera is None and spread_name(light) != "daylight")
    own = None
    if sheet is not None and sheet.colours and place.layout.with_colours and wanted:
        own, told = colours_by_sheet(photo, place, greys.fit, sheet, light)
        notices += told
    used = calibrations_of_camera(camera, own, notices)
    if sheet is None:
        return used
    return replace(
        used,
        reference_spread=sheet.scale_spread,
        tint_spread=KNOWN_TINT_SPREAD if sheet.scale_spread < PAPER_SPREAD else used.tint_spread,
        calibration_id=sheet.id or used.calibration_id,
    )


def calibrations_of_camera(
    camera: CameraCalibration | None,
    own: OwnColours | None = None,
    notices: tuple[Notice, ...] = (),
) -> Used:
    """What a camera's calibration says, where nothing nearer does.

    Returns
    -------
    Used
        Notice ``camera_calibration_used`` (name, error, before).
    """
    if camera is None or own is not None:
        return Used(own, notices=notices)
    facts = {
        "name": camera.name,
        "error": round(camera.error, 1),
        "before": round(camera.before, 1),
    }
    told = Notice("camera_calibration_used", facts)
    return Used(camera.colours, notices=(*notices, told), calibration_id=camera.id or None)
