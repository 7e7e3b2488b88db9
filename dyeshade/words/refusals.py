"""A sentence for everything in the world that can stand in the way: what is wrong, what to do."""

from __future__ import annotations

from collections.abc import Mapping

from dyeshade.errors import DyeshadeError
from dyeshade.words.bath_amounts import BATH_AMOUNT_REFUSALS
from dyeshade.words.bath_ph import BATH_PH_REFUSALS
from dyeshade.words.bath_room_refusals import BATH_ROOM_REFUSALS
from dyeshade.words.calibrations import CALIBRATION_REFUSALS
from dyeshade.words.insight_refusals import INSIGHT_REFUSALS
from dyeshade.words.library_refusals import LIBRARY_REFUSALS
from dyeshade.words.paper_refusals import PAPER_REFUSALS
from dyeshade.words.sentences import Facts, Sentence, counted, fill
from dyeshade.words.strip import STRIP_REFUSALS
from dyeshade.words.wanted_refusals import WANTED_REFUSALS


def _too_large(facts: Facts) -> str:
    if "bytes" in facts:
        return "The file is too large to be a photo of pieces. Give a photo below 3 GB."
    return (
        "The photo is {width} x {height} pixels, more than dyeshade takes. "
        "Save it smaller, without changing its colours."
    ).format_map(facts)


def _too_blurred(facts: Facts) -> str:
    return (
        "The photo is too blurred to read the marks on the sheet. Wipe the lens, tap on the sheet "
        "to focus, hold still or lean the camera on something, and take it again."
    )


def _too_few_marks(facts: Facts) -> str:
    seen = counted(facts["seen"], "mark", "marks")
    return (
        f"Only {seen} of the reference sheet could be seen, and {facts['needed']} are needed. "
        "Take the whole sheet into the photo and keep yarn off its marks."
    )


REFUSALS: Mapping[str, Sentence] = {
    **LIBRARY_REFUSALS,
    **INSIGHT_REFUSALS,
    **WANTED_REFUSALS,
    **CALIBRATION_REFUSALS,
    **BATH_AMOUNT_REFUSALS,
    **BATH_PH_REFUSALS,
    **PAPER_REFUSALS,
    **BATH_ROOM_REFUSALS,
    **STRIP_REFUSALS,
    # the file
    "photo_missing": "There is no such file.",
    "photo_unreadable": (
        "The photo could not be read: {reason}. Copy it from the camera or phone again."
    ),
    "photo_truncated": (
        "The photo's file is damaged or ends too early. Copy it from the camera or phone again."
    ),
    "photo_kind_unknown": (
        "This is not a photo that dyeshade knows. Give a JPEG, HEIC, PNG, TIFF or DNG."
    ),
    "photo_kind_unsupported": (
        "{kind} is not read. Save the photo as JPEG, PNG or TIFF, or set the camera to JPEG."
    ),
    "photo_without_colour": "The photo has no colour: its file is black and white.",
    "photo_transparent": (
        "The photo has see-through parts, and what shines through them is unknown. "
        "Give the photo as the camera made it."
    ),
    "photo_too_small": (
        "The photo is {width} x {height} pixels; its shorter side must have at least {least}. "
        "Give it in full size, not a preview or a messenger's copy."
    ),
    "photo_too_large": _too_large,
    "reader_crashed": (
        "Reading this photo crashed the reader; the other photos are not touched by that. "
        "The file is probably damaged, or memory ran out: save the photo anew and try again."
    ),
    "not_enough_memory": (
        "The computer has not enough free memory for this photo. Close other programs, "
        "or save the photo smaller."
    ),
    # the sheet
    "no_sheet": (
        "No reference sheet was found in the photo. Take the whole printed sheet into it, or draw "
        "greys by hand and give them with --regions."
    ),
    "too_few_marks": _too_few_marks,
    "marks_disagree": (
        "The marks on the sheet do not lie as they were printed: only {agree} of {seen} fit one "
        "flat page. Clip the sheet flat and print it on one page, as it is."
    ),
    "too_tilted": (
        "The camera looked at the sheet {degrees} degrees from straight above, and up to {limit} "
        "can be measured. Hold it over the middle of the sheet."
    ),
    "too_small": (
        "The sheet is too small in the photo: {px_per_mm} pixels to a millimetre, where {needed} "
        "are needed. Go nearer, or give the photo in full size."
    ),
    "too_blurred": _too_blurred,
    "sheet_mirrored": (
        "The sheet is mirrored in the photo. Turn off the mirroring of the front camera, "
        "or use the other camera."
    ),
    "too_few_greys": (
        "Only {levels} levels of grey on the sheet are usable, and {needed} are needed. Keep yarn "
        "and shadow off the greys, and expose so that neither white nor black is cut off."
    ),
    "no_pieces": "No piece was found in any cell. Lay each piece into a cell so that it fills it.",
    # greys and samples drawn by hand
    "region_outside": "A region drawn by hand lies outside the photo.",
    "grey_too_small": (
        "Grey {number} drawn by hand holds {pixels} pixels, too few to measure. Draw it larger."
    ),
    "sample_too_small": (
        "The sample {name} drawn by hand holds {pixels} pixels, too few to measure. Draw it larger."
    ),
    "nothing_drawn": "Greys are drawn, but no sample yet. Draw one around a piece.",
    "greys_clipped": (
        "Every grey is too bright or too dark for this photo, so nothing ties its values to light. "
        "Take it again with another exposure."
    ),
    # the regions file
    "regions_missing": "There is no regions file {path}. Look at its name and its folder.",
    "regions_unreadable": (
        "The regions file {path} could not be read: {reason}. Write it anew as JSON."
    ),
    "regions_not_json": (
        "The regions file {path} is no JSON from line {line}, column {column} on. Look there, or "
        "just before, for a comma, quote or bracket too few or too many."
    ),
    "regions_not_object": (
        'The regions file {path} must hold one object with "greys" and "samples".'
    ),
    "regions_unknown": (
        'In the regions file {path}, "{key}" in {place} means nothing. Take it out, or look '
        "whether it is misspelt."
    ),
    "regions_no_greys": 'The regions file {path} needs "greys": a list of at least one.',
    "regions_no_samples": 'The regions file {path} needs "samples": a list of at least one.',
    "regions_corners": (
        'In the regions file {path}, {place} needs "corners": four points [x, y] in pixels, '
        "in order around it."
    ),
    "regions_crossed": (
        "In the regions file {path}, the corners of {place} do not go around it in order. "
        "Change the order of two of them."
    ),
    "regions_reflectance": (
        'In the regions file {path}, {place} needs "reflectance": above 0 and up to 1, '
        "as 0.18 for an 18 % grey card."
    ),
    "regions_name": 'In the regions file {path}, {place} needs a "name".',
    "regions_same_name": "In the regions file {path}, two samples are named {name}. Rename one.",
    # the pieces file
    "pieces_missing": "There is no pieces file {path}. Look at its name and its folder.",
    "pieces_unreadable": (
        "The pieces file {path} could not be read: {reason}. Write it anew as JSON."
    ),
    "pieces_not_json": (
        "The pieces file {path} is no JSON from line {line}, column {column} on. Look there, or "
        "just before, for a comma, quote or bracket too few or too many."
    ),
    "pieces_unknown": (
        'In the pieces file {path}, "{key}" in {place} means nothing. Take it out, or look '
        "whether it is misspelt."
    ),
    "pieces_lacks": 'In the pieces file {path}, {place} needs "{key}".',
    "pieces_wrong": 'In the pieces file {path}, "{key}" in {place} must be {wanted}.',
    "pieces_twice": "The pieces file {path} describes {what} twice. Take one of the two out.",
    # what comes with the program
    "no_examples": (
        "This installation came without the example photos. They are in the folder example_images "
        "of the program's source."
    ),
    # files that are written
    "cannot_write": "{path} could not be written: {reason}.",
}
"""Sentence for each code of a `DyeshadeError`."""


def refusal_text(error: DyeshadeError) -> str:
    """What an error says to people: what is wrong, and what to do.

    Raises
    ------
    KeyError
        For a code without a sentence.
    """
    return fill(REFUSALS, error.code, error.facts)
