"""A sentence for everything that can stand in the way of a question to the shade library."""

from __future__ import annotations

from collections.abc import Mapping

from dyeshade.words.dye_words import WHICH_PH
from dyeshade.words.sentences import Facts, Sentence


def _no_series(facts: Facts) -> str:
    which = "" if facts["which"] is None else f" {WHICH_PH[str(facts['which'])]}"
    other = "" if facts["which"] is None else ", or ask for another pH"
    return f"No such shade has a pH{which}. Write it down with the bath{other}."


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
    "colour_unknown": (
        "{text} is no colour. Give L*, a* and b* as 60,20,30 with L* from 0 to 100, an sRGB colour "
        "as #d6c84a, or the id of a piece."
    ),
    "no_series": _no_series,
    "no_home_test": (
        "Nothing that piece {piece} went through makes a home test yet: read it before and after a "
        "wash or a dip, or covered and exposed in one photo."
    ),
}
"""Sentence for each code that questions to the library raise."""
