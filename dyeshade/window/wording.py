"""Sentences that the window says otherwise than the command line, where an option has no place."""

from __future__ import annotations

from collections.abc import Mapping

from dyeshade.errors import DyeshadeError, Notice
from dyeshade.words.cautions import caution_text
from dyeshade.words.lights import LIGHTS
from dyeshade.words.refusals import refusal_text
from dyeshade.words.sentences import Sentence, fill

_NO_SHEET = (
    "No reference sheet was found in the photo. Take the whole printed sheet into it; or draw a "
    "grey of known reflectance by hand, then the samples."
)
_LIGHT_ASSUMED = (
    "The light was taken to be {light}. If it was another, choose it above the photo: lamps shift "
    "colours, and the number would claim too much."
)
_LIGHT_WAS_ASSUMED = (
    "The light was taken to be {light}. If it was another, measure the photo again with that light "
    "named: lamps shift colours, and the number would claim too much."
)
_OTHERWISE: Mapping[str, Sentence] = {
    "no_sheet": _NO_SHEET,
    "chart_not_found": (
        "The chart was not found by itself. Drag the four corners onto the middles of its corner "
        "patches; each corner shows the colour that belongs there."
    ),
    "chart_grid_unknown": (
        "The file {path} does not tell in which grid its {patches} patches stand. Give rows and "
        "patches in a row."
    ),
    "photo_not_raw": (
        "The camera has rendered this photo, which hides what the print reflects. Take a raw photo "
        "(DNG), or lay a card or a colour chart on the sheet and choose that above."
    ),
    "calibration_used": (
        "It stays, since {readings} readings were made with it and it tells how. Take its tick "
        "away, and it is used no more."
    ),
}


def refusal_words(error: DyeshadeError) -> str:
    """What a refusal says in the window."""
    if error.code in _OTHERWISE:
        return fill(_OTHERWISE, error.code, error.facts)
    return refusal_text(error)


def caution_words(notice: Notice) -> str:
    """What a caution says in the window, beside what it concerns."""
    if notice.code == "light_assumed":
        return _LIGHT_ASSUMED.format(light=LIGHTS[str(notice.facts["light"])])
    return caution_text(notice)


def kept_caution_words(notice: Notice) -> str:
    """What a caution says in the window of a shade that was kept before."""
    if notice.code == "light_assumed":
        return _LIGHT_WAS_ASSUMED.format(light=LIGHTS[str(notice.facts["light"])])
    return caution_text(notice)
