"""A sentence for everything that can stand in the way of picking a colour from a photo."""

from __future__ import annotations

from collections.abc import Mapping

from dyeshade.words.dye_words import listed
from dyeshade.words.sentences import Facts, Sentence


def _not_in_photo(facts: Facts) -> str:
    return f"There is no sample {facts['sample']} in {facts['photo']}. {_samples(facts)}"


def _not_told(facts: Facts) -> str:
    return f"Say which sample of {facts['photo']} is meant. {_samples(facts)}"


def _samples(facts: Facts) -> str:
    names = facts["samples"]
    assert isinstance(names, list | tuple)
    return (
        f"It has {listed([str(one) for one in names])}." if names else "No piece was found in it."
    )


WANTED_REFUSALS: Mapping[str, Sentence] = {
    "sample_not_in_photo": _not_in_photo,
    "sample_not_told": _not_told,
    "no_sheet_for_spot": (
        "There is no reference sheet in this photo, so a spot on it has no size. Draw the sample "
        "instead, where photos are measured."
    ),
}
"""Sentence for each code that picking a colour raises."""
