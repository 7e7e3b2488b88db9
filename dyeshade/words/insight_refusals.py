"""A sentence for everything that can stand in the way of a question to the shade library."""

from __future__ import annotations

from collections.abc import Mapping

from dyeshade.words.sentences import Sentence

INSIGHT_REFUSALS: Mapping[str, Sentence] = {
    "piece_not_read": (
        "Piece {piece} has no reading yet. Measure it in a photo and save it to the library."
    ),
    "reading_of_another": (
        "Piece {piece} has no reading {reading}. Choose one of its own readings."
    ),
    "few_baths": (
        "A pH series needs baths at {needed} pH at least, and here are {baths}. Dye one more piece "
        "at another pH, with everything else as before."
    ),
    "no_repeats": (
        "Nothing was dyed twice at equal conditions yet, nor read twice. Dye the same again, or "
        "measure one piece in two photos."
    ),
    "few_sessions": (
        "The check standard {piece} was read {sessions} times, and {needed} are needed for a "
        "chart. Go on measuring it with each session."
    ),
}
"""Sentence for each code that questions to the library raise."""
