"""Sentences about pH strips in photos: what stands in the way, and what to know."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from dyeshade.words.dye_words import listed, ph_words
from dyeshade.words.sentences import Facts, Sentence


def _no_such_strip(facts: Facts) -> str:
    known = cast("list[str]", facts["known"])
    told = f"Marked are: {listed(known)}." if known else "None is marked yet."
    return f'No scale of a strip "{facts["name"]}" is marked. {told}'


def _at_end(facts: Facts) -> str:
    ph = ph_words(float(cast("float", facts["ph"])))
    return (
        f"pH {ph} is an end of this scale, and what lies beyond looks the same. "
        "Take a strip that goes further."
    )


STRIP_REFUSALS: Mapping[str, Sentence] = {
    "strip_scale_short": (
        "A scale of {blocks} blocks tells no pH. Write the pH of at least {fewest}, in the order "
        "in which they are printed, as 4 5 6 7."
    ),
    "strip_scale_ph": "Two blocks cannot both have pH {ph:g}. Write each one's own.",
    "strip_rows_uneven": (
        "The first row has {first} blocks, another {other}. Write - where a row has none."
    ),
    "strip_scale_alike": (
        "The blocks of pH {first:g} and {second:g} have the same colour in this photo. Look "
        "whether the scale is marked from its first block to its last, and whether the pH stand "
        "in the order in which the blocks are printed."
    ),
    "no_such_strip": _no_such_strip,
}
"""Sentence for each code of a refusal."""

STRIP_CAUTIONS: Mapping[str, Sentence] = {
    "strip_stained": (
        "The pad is {distance} CIEDE2000 off the colours of its scale. A deep-coloured liquor "
        "stains pads; a shadow, or another kind of strip, looks like that too. Read a fresh strip "
        "at once from its clean side, or take a meter."
    ),
    "strip_liquor_colours": (
        "A deep-coloured liquor stains the pad, and its colour then tells the liquor's, not the "
        "pH. Wet the strip's back or its very end, shake it off, and look whether white paper "
        "beside the pad has stayed white."
    ),
    "strip_at_end": _at_end,
    "strip_scale_elsewhere": (
        "The scale's colours are those of another photo. Lay the scale beside the strip and mark "
        "it too: what is wrong with this photo then leaves the comparison."
    ),
}
"""Sentence for each code of a caution."""
