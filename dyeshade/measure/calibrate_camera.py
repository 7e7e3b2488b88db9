"""Learns how a camera sees from one photo of a colour chart."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import xyz_to_lab
from dyeshade.errors import DyeshadeError, Notice
from dyeshade.measure.calibrated_spread import with_spread
from dyeshade.measure.calibrations import CameraCalibration
from dyeshade.measure.chart import Chart
from dyeshade.measure.chart_photo import ChartPhoto, solve_chart_photo
from dyeshade.measure.learn_colours import LEAST_COLOURS, Learnt, learn_colours, no_neutrals
from dyeshade.measure.lights import KINDS
from dyeshade.measure.typical_camera import camera_base
from dyeshade.measure.typical_colours import typical_colours
from dyeshade.photo.photo import Photo

Array = NDArray[np.float64]

MOST_OFF = 25.0
"""A chart whose colours are off by more than this on average before any fit is not the chart."""

_STRAY, _STRAY_TIMES = 20.0, 5.0
"""A patch that is off by more than either, the second times the middle patch, has something on it.
In the photos of ``tests/data/real_charts.csv`` none is off by more than 14.4, or 3.2 times that."""

_UNSURE = 5.0


@dataclass(frozen=True, eq=False)
class CameraCalibrated:
    """A calibration, and what a person wants to see of it.

    Attributes
    ----------
    calibration : CameraCalibration
    chart_photo : ChartPhoto
        Where chart and sheet are.
    used : ndarray of bool, shape (n,)
        Which patches told it.
    before, after : ndarray, shape (n, 3)
        Lab of each patch as a camera without a calibration is taken, and as it is calibrated.
    left_out : ndarray, shape (n,)
        CIEDE2000 of each used patch by a fit that did not know it; NaN for the others.
    notices : tuple of Notice
        ``chart_clipped`` (patches), ``chart_hidden`` (patches), ``calibration_unsure`` (error),
        and those of the photo.
    """

    calibration: CameraCalibration
    chart_photo: ChartPhoto
    used: NDArray[np.bool_]
    before: Array
    after: Array
    left_out: Array
    notices: tuple[Notice, ...]


def calibrate_camera(
    photo: Photo, chart: Chart, light: str, corners_px: Array | None = None
) -> CameraCalibrated:
    """Learn how a camera sees.

    Parameters
    ----------
    photo : Photo
        Of the chart, alone or beside or on a reference sheet.
    chart : Chart
    light : str
        One of `dyeshade.measure.lights.KINDS`.
    corners_px : ndarray, shape (4, 2), optional
        Middles of the first patch, the last of the first row, the last patch, the first of the
        last row, in pixels of the upright photo; found where they are not given.

    Returns
    -------
    CameraCalibrated

    Raises
    ------
    DyeshadeError
        ``camera_unknown`` where the photo does not say its camera; ``chart_disagrees`` (error)
        where these can't be that chart's colours; ``chart_too_few`` (usable, needed); as
        `solve_chart_photo`.
    ValueError
        For a kind of light that is none.
    """
    if light not in KINDS:
        raise ValueError(f"not a kind of light: {light!r}")
    if not photo.camera:
        raise DyeshadeError("camera_unknown")
    found = solve_chart_photo(photo, chart, corners_px)
    learnt, used = learn_from_chart(photo, found)
    encoding = photo.encoding
    typical = typical_colours(encoding.to_xyz, encoding.rendered, light, encoding.own_known)
    before = typical.lab(found.solved.light)
    kind = "camera_rendered" if photo.encoding.rendered else "camera_raw"
    colours = with_spread(learnt, chart.lab[used], kind, light)
    left_out = np.full(len(chart.lab), np.nan)
    left_out[used] = np.linalg.norm(learnt.left_out, axis=1)
    calibration = CameraCalibration(
        photo.camera,
        photo.file_format,
        light,
        chart.name,
        colours,
        learnt.error,
        float(ciede2000(before[used], chart.lab[used])[no_neutrals(chart.lab[used])].mean()),
        int(used.sum()),
    )
    told = [*photo.notices]
    if found.seen.clipped:
        told.append(Notice("chart_clipped", {"patches": found.seen.clipped}))
    hidden = int((~used).sum()) - found.seen.clipped
    if hidden > 0:
        told.append(Notice("chart_hidden", {"patches": hidden}))
    if learnt.error > _UNSURE:
        told.append(Notice("calibration_unsure", {"error": round(learnt.error, 1)}))
    return CameraCalibrated(
        calibration,
        found,
        used,
        before,
        colours.lab(found.solved.light),
        left_out,
        tuple(told),
    )


def learn_from_chart(photo: Photo, found: ChartPhoto) -> tuple[Learnt, NDArray[np.bool_]]:
    """Learn a camera's colours from a solved photo of a chart; and which patches told them.

    Raises
    ------
    DyeshadeError
        ``chart_disagrees``, ``chart_too_few``.
    """
    encoding = photo.encoding
    base = camera_base(encoding.to_xyz, encoding.rendered)
    used = found.signals.usable & (found.solved.light > 0).all(axis=1)
    if used.sum() < LEAST_COLOURS:
        raise DyeshadeError("chart_too_few", usable=int(used.sum()), needed=LEAST_COLOURS)
    off = ciede2000(xyz_to_lab(found.solved.light[used] @ base.T), found.chart.lab[used])
    if off.mean() > MOST_OFF:
        raise DyeshadeError("chart_disagrees", error=round(float(off.mean()), 1))
    used[used] = off < max(_STRAY, _STRAY_TIMES * float(np.median(off)))
    if used.sum() < LEAST_COLOURS:
        raise DyeshadeError("chart_too_few", usable=int(used.sum()), needed=LEAST_COLOURS)
    light, lab = found.solved.light[used], found.chart.lab[used]
    return learn_colours(light, lab, base, encoding.rendered), used
