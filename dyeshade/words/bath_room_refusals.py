"""Sentences for what stands in the way in the bath room."""

from __future__ import annotations

from collections.abc import Mapping

from dyeshade.words.sentences import Sentence

BATH_ROOM_REFUSALS: Mapping[str, Sentence] = {
    "name_needed": "Without a name nobody knows what is meant. Write one, or empty the line.",
    "piece_twice": "The piece {piece} is in the pot twice.",
    "no_water_known": (
        "How much water is in the pot is not known. Give the liquor ratio, or what you took."
    ),
    "no_target": "Which pH shall it be? Give a target.",
    "bath_finished": "The pieces of the bath {bath} are out already.",
}
"""Sentence for each code of a refusal."""
