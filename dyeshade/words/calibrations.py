"""What was learnt of a camera or a print, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from dyeshade.words.lights import LIGHTS
from dyeshade.words.sentences import Facts, Sentence, counted

if TYPE_CHECKING:
    from dyeshade.library.shade_records import Calibration
    from dyeshade.measure.calibrations import CameraCalibration, SheetCalibration
    from dyeshade.work.calibrate import KeptCalibration

HOW: Mapping[str, str] = {
    "chart": "from a colour chart",
    "raw": "from a raw photo",
    "card": "from a card in a cell",
    "typed": "from measured values",
}
"""How a sheet was learnt."""


def camera_lines(value: CameraCalibration, number: int) -> list[str]:
    """What a person hears when a camera was calibrated."""
    off = (
        f"The chart's colours were off by {value.before:.1f} (CIEDE2000, mean); calibrated, a "
        f"colour that was left out is off by {value.error:.1f}."
    )
    return [
        f"Calibration {number}: {value.camera}, {value.file_format}, {LIGHTS[value.light]}.",
        off,
    ]


def sheet_lines(value: SheetCalibration, number: int) -> list[str]:
    """What a person hears when a sheet was calibrated."""
    paper = float(value.greys[value.levels.argmax(), 1])
    lines = [f"Calibration {number}: sheet {value.serial}, {HOW[value.how]}."]
    lines.append(f"Its lightest part reflects {100 * paper:.1f} %.")
    if value.colours:
        lines.append(f"{counted(len(value.colours), 'colour', 'colours')} of it were learnt.")
    return lines


def list_lines(kept: Sequence[KeptCalibration]) -> list[str]:
    """The list of all calibrations, the newest first."""
    return [_line(one) for one in kept] or ["No camera and no sheet has been calibrated."]


def _line(one: KeptCalibration) -> str:
    # With it comes numpy, which a command's help must not wait for.
    from dyeshade.measure.calibrations import CameraCalibration

    record = one.record
    value = one.value
    if value is None:
        what = f"{record.name}: written by a newer dyeshade, not used"
    elif isinstance(value, CameraCalibration):
        what = f"camera {value.camera}, {value.file_format}, {LIGHTS[value.light]}: off by "
        what += f"{value.before:.1f} before, {value.error:.1f} since"
    else:
        what = f"sheet {value.serial}, {HOW[value.how]}"
        if value.colours:
            what += f", {counted(len(value.colours), 'colour', 'colours')}"
    used = f"; {counted(one.readings, 'reading', 'readings')}" if one.readings else ""
    if value is not None and not one.in_use:
        used += "; not used"
    elif one.replaced:
        used += "; a newer one is used"
    return f"{record.id}  {record.made:%Y-%m-%d}  {what}{used}"


def removed_line(record: Calibration) -> str:
    """What a person hears when a calibration was removed."""
    return f"Calibration {record.id} ({record.name}) was removed."


def _camera_used(facts: Facts) -> str:
    return (
        f"The camera is calibrated ({facts['name']}): a chart's colours were off by "
        f"{facts['before']} before and are by {facts['error']} since. It is used here."
    )


def _few_colours(facts: Facts) -> str:
    usable = counted(facts["usable"], "colour", "colours")
    return (
        f"Only {usable} of the sheet can be used, and {facts['needed']} are needed. "
        "They were left out; keep yarn, shadow and glare off them."
    )


CALIBRATION_CAUTIONS: Mapping[str, Sentence] = {
    "camera_calibration_used": _camera_used,
    "sheet_calibration_used": "The greys of sheet {serial} are taken as they were calibrated.",
    "sheet_colours_used": "{patches} colours of the sheet, learnt before, correct this photo.",
    "sheet_colours_few": _few_colours,
    "sheet_changed": (
        "The greys of sheet {serial} are {percent} % off from what was calibrated. The print may "
        "have faded, be stained, or be another one. Its calibration was left out: print a new "
        "sheet, or calibrate this one again."
    ),
    "sheet_colours_changed": (
        "The colours of the sheet are not what was calibrated: they disagree by {error} "
        "(CIEDE2000). They may have faded, or lie in other light. They were left out."
    ),
    "chart_clipped": (
        "{patches} patches of the chart are too bright or too dark in the photo and were left out. "
        "Another exposure would tell more."
    ),
    "chart_hidden": (
        "{patches} patches of the chart could not be used: something lies on them, or they glare."
    ),
    "calibration_unsure": (
        "Colours that were left out of the fit are off by {error} (CIEDE2000), which is much. "
        "Look whether the chart is flat, evenly lit and the one that was named."
    ),
    "chart_beside_sheet": (
        "The chart lies beside the sheet, where the light is not known. The sheet's colours were "
        "learnt, its greys were not: lay the chart on the sheet for them."
    ),
    "no_colours_learnt": (
        "The sheet's colours were not learnt: that takes a raw photo, a calibrated camera, or a "
        "colour chart on the sheet."
    ),
}
"""Sentence for each code of a `Notice`."""

CALIBRATION_REFUSALS: Mapping[str, Sentence] = {
    "camera_unknown": (
        "The photo does not say which camera took it. Copy it from the camera or phone itself; "
        "messengers and editors take that out."
    ),
    "chart_not_found": (
        "The chart was not found in the photo. Give the middles of its corner patches with "
        "--corners."
    ),
    "chart_corners": (
        "The corners of the chart do not go around it: the first patch, the last of the first row, "
        "the last patch, the first of the last row."
    ),
    "chart_outside": "A part of the chart lies outside the photo. Take the whole chart into it.",
    "chart_too_small": (
        "The chart is too small in the photo: {pixels} pixels in a patch, where {needed} are "
        "needed. Go nearer."
    ),
    "chart_greys_unusable": (
        "Only {usable} greys of the chart can be used, and {needed} are needed. Expose so that "
        "neither its white nor its black is cut off."
    ),
    "chart_too_few": (
        "Only {usable} patches of the chart can be used, and {needed} are needed. Keep glare and "
        "shadow off it."
    ),
    "chart_disagrees": (
        "These are not that chart's colours: they are off by {error} (CIEDE2000). Look whether the "
        "right chart and its right way round were named."
    ),
    "chart_missing": "There is no chart file {path}.",
    "chart_unreadable": "The chart file {path} could not be read: {reason}.",
    "chart_not_cgats": "The chart file {path} is not a CGATS.17 file, or is damaged.",
    "chart_without_colours": (
        "The chart file {path} holds no colours: LAB_L, LAB_A and LAB_B, or XYZ_X, XYZ_Y and XYZ_Z."
    ),
    "chart_number": 'In the chart file {path}, "{text}" in row {row} of the data is no number.',
    "chart_grid_unknown": (
        "The chart file {path} does not tell in which grid its {patches} patches stand. "
        "Give it with --grid, as 4x6."
    ),
    "sheet_without_serial": (
        "The sheet's number could not be read, and without it nothing can be kept of this print. "
        "Show the square code on it sharp and whole."
    ),
    "photo_not_raw": (
        "The camera has rendered this photo, which hides what the print reflects. Give a raw photo "
        "(DNG), lay a grey card into a cell and name it with --card, or lay a colour chart on the "
        "sheet and name it with --chart."
    ),
    "no_such_cell": "The sheet has no cell {name}; it has {cells}.",
    "card_unusable": (
        "The card in cell {name} cannot be used: it is too bright, uneven, or does not cover the "
        "cell's middle."
    ),
    "card_disagrees": (
        "If the card reflected that much, bare paper would reflect {percent} %, which it does not. "
        "Look at the value of the card, and whether it lies in the cell that was named."
    ),
    "grey_values": (
        "The value of {name} is none: give levels 1 to 8 and paper, each above 0 and up to 1."
    ),
    "calibration_unknown": "There is no calibration {number} in this library.",
    "calibration_used": (
        "Calibration {number} stays: {readings} readings were made with it, and it tells how."
    ),
}
"""Sentence for each code of a `DyeshadeError`."""
