"""What was learnt of a camera or a print, in words for a screen."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from dyeshade.measure.calibrations import CameraCalibration
from dyeshade.words.calibrations import HOW
from dyeshade.words.lights import LIGHTS
from dyeshade.words.sentences import counted

if TYPE_CHECKING:
    from dyeshade.measure.calibrations import Calibrations, SheetCalibration
    from dyeshade.work.calibrate import KeptCalibration
    from dyeshade.work.chart_compared import ChartCompared, PatchCompared


def sheet_words(value: SheetCalibration) -> str:
    """What was learnt of a sheet, before it is kept."""
    paper = float(value.greys[value.levels.argmax(), 1])
    words = f"Sheet {value.serial}: its lightest part reflects {100 * paper:.1f} %."
    if value.colours:
        words += f" {counted(len(value.colours), 'colour', 'colours')} of it were learnt"
        off = "." if value.error is None else f"; a chart's colours are met to {value.error:.1f}."
        words += off
    return words


def what_words(one: KeptCalibration) -> str:
    """What a calibration is of."""
    value = one.value
    if value is None:
        return one.record.name
    if isinstance(value, CameraCalibration):
        return f"Camera {value.camera}, {value.file_format}, {LIGHTS[value.light]}"
    return f"Sheet {value.serial}, {HOW[value.how]}"


def worth_words(one: KeptCalibration) -> str:
    """What a calibration brings."""
    value = one.value
    if value is None:
        return "written by a newer dyeshade"
    if isinstance(value, CameraCalibration):
        return f"off by {value.error:.1f}, before by {value.before:.1f}"
    if not value.colours:
        return "greys"
    colours = counted(len(value.colours), "colour", "colours")
    off = "" if value.error is None else f", off by {value.error:.1f}"
    return f"greys and {colours}{off}"


def use_words(one: KeptCalibration) -> str:
    """Whether a calibration is used."""
    if not one.in_use:
        return "no"
    return "no: a newer one is" if one.replaced else "yes"


def compared_words(compared: ChartCompared) -> str:
    """How far a chart's colours were off before and are since."""
    before, after = compared.before, compared.after
    return (
        f"Before, half of the chart's colours were off by more than {before.median:.1f} "
        f"(CIEDE2000), and 5 in 100 by more than {before.most:.1f}. Calibrated, half are off by "
        f"more than {after.median:.1f}, and 5 in 100 by more than {after.most:.1f}; each was "
        "judged by the others, as a colour that the chart does not have."
    )


def patch_words(number: int, patch: PatchCompared) -> str:
    """How far one patch of a chart was off and is."""
    if not patch.used:
        return f"Patch {number}: not used"
    return f"Patch {number}: off by {patch.off_before:.1f} before, {patch.off_after:.1f} since"


def grey_words(reflectance: float) -> str:
    """How much a grey reflects, in per cent."""
    return f"{100 * reflectance:.1f}"


def fitting_words(fitting: Calibrations, codes: Collection[str]) -> str:
    """What a switch says that uses the calibrations of one photo, or leaves them out.

    Parameters
    ----------
    fitting : Calibrations
        Of the photo's camera and sheet; not empty.
    codes : collection of str
        Codes of the photo's notices, which tell what of them was used.
    """
    camera = [
        f"this camera's calibration of {one.made:%Y-%m-%d}, {LIGHTS[one.light]}"
        for one in fitting.cameras
    ]
    sheet = [f"this sheet's calibration of {one.made:%Y-%m-%d}" for one in fitting.sheets]
    used = [*sheet] if {"sheet_calibration_used", "sheet_colours_used"} & set(codes) else []
    if "camera_calibration_used" in codes:
        used += camera
    if used:
        return f"Corrected by {' and '.join(used)}"
    return f"Use {' and '.join([*sheet, *camera])}"
