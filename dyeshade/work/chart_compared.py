"""A chart's colours before and after its camera was learnt, as a screen shows them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from dyeshade.cie.ciede2000 import ciede2000
from dyeshade.cie.lab import xyz_to_lab
from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.cie.white import D65
from dyeshade.measure.calibrations import SheetCalibration
from dyeshade.measure.chart import Chart
from dyeshade.sheet.layout import Layout

if TYPE_CHECKING:
    # With it comes OpenCV, which a window that opens must not wait for.
    from dyeshade.measure.calibrate_camera import CameraCalibrated

Array = NDArray[np.float64]
Rgb = tuple[int, int, int]


@dataclass(frozen=True)
class PatchCompared:
    """One patch of a chart.

    Attributes
    ----------
    published, before, after : tuple of int
        As an sRGB screen shows them, 0..255.
    off_before, off_after : float
        CIEDE2000 from what is published; `off_after` by a fit that did not know the patch, NaN
        where the patch was not used.
    """

    published: Rgb
    before: Rgb
    after: Rgb
    off_before: float
    off_after: float

    @property
    def used(self) -> bool:
        """False where it was clipped, or something lay on it."""
        return not bool(np.isnan(self.off_after))


@dataclass(frozen=True)
class Off:
    """How far colours are off, CIEDE2000: the middle one, and what 95 in 100 stay below."""

    median: float
    most: float


@dataclass(frozen=True)
class ChartCompared:
    """A chart's patches, row by row.

    Attributes
    ----------
    rows, columns : int
    patches : tuple of PatchCompared
    before : Off
        Of the camera as it is taken without a calibration.
    after : Off
        Of patches that were left out in turn.
    """

    rows: int
    columns: int
    patches: tuple[PatchCompared, ...]
    before: Off
    after: Off


@dataclass(frozen=True)
class GreyCompared:
    """A grey of a print: as a plain print has it, and as this one was learnt.

    Attributes
    ----------
    plain, learnt : float
        Luminance factors, 0..1.
    plain_shown, learnt_shown : tuple of int
        As an sRGB screen shows them, 0..255.
    """

    plain: float
    learnt: float
    plain_shown: Rgb
    learnt_shown: Rgb


def chart_compared(made: CameraCalibrated) -> ChartCompared:
    """Compare a chart's published colours with those that its camera told."""
    chart = made.chart_photo.chart
    off = ciede2000(made.before, chart.lab)
    patches = tuple(
        PatchCompared(
            lab_to_srgb(chart.lab[k])[0],
            lab_to_srgb(made.before[k])[0],
            lab_to_srgb(made.after[k])[0],
            float(off[k]),
            float(made.left_out[k]),
        )
        for k in range(len(chart.lab))
    )
    used = made.used
    return ChartCompared(
        chart.rows, chart.columns, patches, _off(off[used]), _off(made.left_out[used])
    )


def greys_compared(value: SheetCalibration) -> tuple[GreyCompared, ...]:
    """Greys of a print beside those of a plain one, the lightest first."""
    return tuple(
        GreyCompared(
            float(plain),
            float(learnt[1]),
            lab_to_srgb(xyz_to_lab(plain * D65))[0],
            lab_to_srgb(xyz_to_lab(learnt))[0],
        )
        for plain, learnt in zip(value.levels, value.greys, strict=True)
    )


def colours_shown(value: SheetCalibration) -> tuple[Rgb, ...]:
    """The learnt colours of a print as an sRGB screen shows them, 0..255."""
    return tuple(lab_to_srgb(lab)[0] for lab in value.colours.values())


def _off(values: Array) -> Off:
    return Off(float(np.median(values)), float(np.quantile(values, 0.95)))


def grey_numbers(layout: Layout) -> tuple[tuple[tuple[float, float], int], ...]:
    """Where each grey of a sheet is (middle, mm), and its number: 1 is the lightest."""
    levels = sorted({patch.reflectance for patch in layout.patches}, reverse=True)
    return tuple(
        ((float(patch.centre[0]), float(patch.centre[1])), levels.index(patch.reflectance) + 1)
        for patch in layout.patches
    )


def corner_colours(chart: Chart) -> tuple[Rgb, Rgb, Rgb, Rgb]:
    """Published colours of a chart's corner patches, in the order of `ChartPlace.corners_px`."""
    last = chart.columns - 1
    below = (chart.rows - 1) * chart.columns
    first, right, end, left = (lab_to_srgb(chart.lab[k])[0] for k in (0, last, below + last, below))
    return first, right, end, left


def first_guess(size_px: tuple[int, int]) -> Array:
    """Where corners lie that hands are to drag: about the middle of the photo, (4, 2)."""
    shares = np.array([[0.3, 0.35], [0.7, 0.35], [0.7, 0.65], [0.3, 0.65]])
    return np.asarray(shares * np.array(size_px, dtype=np.float64))
