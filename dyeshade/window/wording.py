"""Sentences that the window says otherwise than the command line, where an option has no place."""

from __future__ import annotations

from dyeshade.errors import DyeshadeError, Notice
from dyeshade.words.cautions import caution_text
from dyeshade.words.lights import LIGHTS
from dyeshade.words.refusals import refusal_text

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


def refusal_words(error: DyeshadeError) -> str:
    """What a refusal says in the window."""
    return _NO_SHEET if error.code == "no_sheet" else refusal_text(error)


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
