"""Sentences for tags that do not tell whose a sample is, and for what a pot card lacks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from dyeshade.words.dye_words import listed
from dyeshade.words.sentences import Facts, Sentence, counted


def _differ(facts: Facts) -> str:
    pieces = listed(cast("list[str]", facts["pieces"]))
    return (
        f"Tags of several pieces lie with it: {pieces}. None was taken. "
        "Leave one, or tell which piece it is."
    )


def _unread(facts: Facts) -> str:
    tags = counted(facts["tags"], "tag lies", "tags lie")
    return (
        f"{tags} with it whose code cannot be read. Lay the tag flat with nothing on its code, "
        "without glare, or tell which piece it is."
    )


TAG_CAUTIONS: Mapping[str, Sentence] = {
    "tags_differ": _differ,
    "tag_unread": _unread,
    "dyestuff_without_ratio": (
        "How much {dyestuff} was in that bath is not written down: the amount is yours to choose."
    ),
    "shade_over_earlier_baths": lambda facts: (
        f"That piece was dyed before, with {listed(cast('list[str]', facts['dyestuffs']))}: its "
        "shade needs that first."
    ),
    "shade_of_an_exhaust_bath": (
        "That shade came from exhaust bath {number}. The dyestuff here is what its first bath had: "
        "dye other fibre in it first, or the shade comes out deeper."
    ),
}
"""Sentence for each code of a `Notice`."""
