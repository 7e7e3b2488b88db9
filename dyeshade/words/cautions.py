"""A sentence for everything a reader must know: what is so, and what it does to the number."""

from __future__ import annotations

from collections.abc import Mapping

from dyeshade.errors import Notice
from dyeshade.words.bath_cautions import BATH_AMOUNT_CAUTIONS
from dyeshade.words.bath_ph import BATH_PH_CAUTIONS
from dyeshade.words.calibrations import CALIBRATION_CAUTIONS
from dyeshade.words.lights import LIGHTS
from dyeshade.words.sentences import Facts, Sentence, counted, fill, percent
from dyeshade.words.strip import STRIP_CAUTIONS
from dyeshade.words.tag_cautions import TAG_CAUTIONS


def _light_assumed(facts: Facts) -> str:
    return (
        f"The light was taken to be {LIGHTS[str(facts['light'])]}. If it was another, name it "
        "with --light: lamps shift colours, and the number would claim too much."
    )


def _more_sheets(facts: Facts) -> str:
    others = counted(facts["others"], "more reference sheet is", "more reference sheets are")
    return f"{others} in the photo. Only the one with the most marks in sight was measured."


def _few_greys(facts: Facts) -> str:
    drawn = counted(facts["greys"], "grey was", "greys were")
    return (
        f"Only {drawn} drawn, so uneven light and the camera's contrast stay unknown. "
        "The uncertainty is wide for that; more greys, from dark to light, narrow it."
    )


CAUTIONS: Mapping[str, Sentence] = {
    **BATH_AMOUNT_CAUTIONS,
    **BATH_PH_CAUTIONS,
    **TAG_CAUTIONS,
    **CALIBRATION_CAUTIONS,
    **STRIP_CAUTIONS,
    # the file
    "no_profile": (
        "The file does not say which colour space it is in, so sRGB was taken. If the camera wrote "
        "another, vivid shades are off by more than stated."
    ),
    "lut_profile": (
        "The file's colour profile is of a kind that is not read ({reason}), so sRGB was taken. "
        "Vivid shades may be off by more than stated."
    ),
    "profile_unreadable": (
        "The file's colour profile is damaged ({reason}), so sRGB was taken. "
        "Vivid shades may be off by more than stated."
    ),
    "camera_colours_unknown": (
        "The raw file does not say how its camera sees colours, so a typical camera was taken. "
        "The uncertainty is wider for that."
    ),
    "photo_looks_grey": (
        "The photo is black and white: L* is measured, a* and b* tell nothing about the pieces."
    ),
    # the sheet in the photo
    "marks_covered": (
        "{seen} of {of} marks were in sight. The page's place rests on these; "
        "cells far from them are placed less surely."
    ),
    "place_unsure": (
        "Where the cells lie in the photo is known to {mm} mm only. Edges of pieces and what lies "
        "beside them may be mixed into the shade. Show more marks."
    ),
    "tilted": (
        "The camera looked at the sheet {degrees} degrees from straight above. Sheen and the pile "
        "of cloth may look lighter or darker than from above."
    ),
    "paper_curled": (
        "The sheet was curled by about {mm} mm, so that its greys and the pieces got light from "
        "different sides. Clip it flat for a surer number."
    ),
    "few_pixels": (
        "The sheet is small in the photo: {px_per_mm} pixels to a millimetre. Edges and threads "
        "run together, which mixes a little of what lies around into the shade."
    ),
    "more_sheets": _more_sheets,
    # the light
    "light_assumed": _light_assumed,
    "flash_fired": (
        "The flash fired. It glares on sheen and falls off across the sheet; the number may be off "
        "by more than stated. Take it again without."
    ),
    "light_uneven": (
        "The light was uneven across the sheet by a factor of {factor}. It was evened out, "
        "but beyond 1.6 the uncertainty no longer covers all that this does."
    ),
    "light_mixed": (
        "The colour of the light changed by {percent} % across the sheet: a lamp beside daylight, "
        "or something coloured nearby. That was evened out on the sheet, but cloth stands in both "
        "lights, and its shade is less sure than stated. Take the photo again in one light."
    ),
    "white_off": (
        "The light or the camera's white was off by {percent} %. It was taken out, but beyond 20 % "
        "the shades, vivid ones above all, are less sure than stated."
    ),
    "paper_clipped": (
        "The bare paper is overexposed in part of the photo and told nothing there. Light shades "
        "rest on the greys alone; expose a little less."
    ),
    "greys_hidden": (
        "{hidden} of {of} greys and papers were hidden, shadowed or glaring and were left out. "
        "The rest decide, and the uncertainty has grown with that."
    ),
    "greys_disagree": (
        "The greys disagree by {percent} % with any smooth light over the sheet: a bad print, "
        "shadows or creases. The uncertainty has grown with that."
    ),
    "few_greys": _few_greys,
    # one sample
    "piece_small": (
        "Only {mm2} square millimetres of it could be averaged, a few threads. "
        "A larger piece gives a surer number."
    ),
    "piece_over_edge": ("It lies over the edge of its cell. Only what lies within was measured."),
    "paper_shows_through": lambda facts: (
        f"Paper or card shows through {percent(facts['share'])} of it. That was left out, but "
        "light from behind still makes the number a little too light. Wind closer, or lay the "
        "cloth double."
    ),
    "white_piece_unsure": (
        "It is nearly as white as the paper, so that where it ends is a guess, and some paper may "
        "be in the number. Lay it on something dark, or draw it by hand."
    ),
    "glare": lambda facts: (
        f"Glare lies on {percent(facts['share'])} of it and was left out. What is left may still "
        "read too light and too grey. Turn the piece or the sheet by 90 degrees."
    ),
    "clipped_sample": lambda facts: (
        f"{percent(facts['share'])} of it is too bright or too vivid for the photo and cut off "
        "there. The true shade is lighter or more vivid. Expose a little less."
    ),
    "several_colours": (
        "It has {count} colours. The number is their mean, as an instrument would see it; "
        "the main shades are given with their shares."
    ),
    "shadow_near": (
        "{hidden} of {of} greys and papers around it lie in shadow or under yarn. If the shadow "
        "lies on the piece as well, it reads too dark."
    ),
    "darker_than_greys": (
        "It is darker than the darkest grey, where the camera's curve is a guess. "
        "L* is less sure than that of lighter pieces."
    ),
    "lighter_than_paper": (
        "It is lighter than the paper, or glares. What exceeds the paper is a guess."
    ),
    "beyond_photo_colours": (
        "It is more vivid than the photo's colour space can hold, and the camera has cut it off. "
        "Its true chroma is higher. A camera set to a wider colour space would keep it."
    ),
}
"""Sentence for each code of a `Notice`."""


def caution_text(notice: Notice, sample: str | None = None) -> str:
    """What a notice says to people.

    Parameters
    ----------
    notice : Notice
    sample : str, optional
        Name of the sample it concerns; the whole photo where none is given.

    Raises
    ------
    KeyError
        For a code without a sentence.
    """
    text = fill(CAUTIONS, notice.code, notice.facts)
    return text if sample is None else f"{sample}: {text}"
