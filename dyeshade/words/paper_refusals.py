"""Sentences for what stands in the way of a paper."""

from __future__ import annotations

from collections.abc import Mapping

from dyeshade.words.sentences import Sentence

PAPER_REFUSALS: Mapping[str, Sentence] = {
    "piece_not_dyed": (
        "Of piece {piece} no reading after a dye bath is kept, so there is no shade to make again."
    ),
    "commission_without_bath": (
        "No kept piece with a bath tells how the shade of {commission} could be dyed. Say what "
        "dyes, or take the bath of another piece."
    ),
    "step_unclear": (
        'In the step "{text}", "{part}" is neither a temperature nor a time. Write it as '
        '"Mordant bath; 85 °C; 60 min".'
    ),
}
"""Sentence for each code of a refusal."""
