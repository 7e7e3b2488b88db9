"""Home fastness tests said to people: how they are set up, and when their next photo is due.

Light to import, for the window's start.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from dyeshade.words.dye_words import day_words, listed
from dyeshade.words.sentences import counted
from dyeshade.work.home_tests import RunningTest

TESTS: Mapping[str, str] = {
    "light": "light",
    "wash": "washing",
    "acid_dip": "an acid dip",
    "alkaline_dip": "an alkaline dip",
    "rubbing": "rubbing",
}
"""Words for each of `dyeshade.insight.fastness.TESTS`."""

HOME_TEST = (
    "A home test, not a certificate: light, soap and rubbing are yours, not a laboratory's. Grades "
    "run from 5 (no change) to 1."
)

SET_UP: Mapping[str, tuple[str, ...]] = {
    "light": (
        "Cover one half of the piece with card, tightly, and leave the other half bare.",
        "Lay blue wool references beside it, half covered too, if you have them (ISO 105-B).",
        "Photograph it on the sheet, begin the test here, and put it into a window with sun.",
        "For each photo, take the card off: both halves in one photo, both of this piece.",
        'Give the bare half the state "after light".',
    ),
    "wash": (
        "Photograph the dry piece on the sheet and save the reading.",
        "Wash it as you would wash the cloth, with a piece of undyed white cloth sewn to it.",
        "Begin the test here; photograph both when they have been dry for a day.",
    ),
    "acid_dip": (
        "Photograph the dry piece on the sheet and save the reading.",
        "Dip it into water with white vinegar of known pH, rinse it and dry it for a day.",
        "Begin the test here with that pH, and photograph the piece.",
    ),
    "alkaline_dip": (
        "Photograph the dry piece on the sheet and save the reading.",
        "Dip it into water with a pinch of washing soda of known pH, rinse it and dry it.",
        "Begin the test here with that pH, and photograph the piece.",
        "A dye that turns with pH tells most of itself in this test.",
    ),
    "rubbing": (
        "Photograph the piece, and a dry white cloth, on the sheet.",
        "Rub the white cloth along the piece ten times to and fro with your finger.",
        "Photograph both again, and name the readings here: rubbing is no treatment.",
    ),
}
"""How each of `dyeshade.insight.fastness.TESTS` is set up at home (common practice, no source)."""


def running_words(tests: Sequence[RunningTest], now: datetime) -> str:
    """When the next photos of light tests are due, in sentences; "" where none runs."""
    told = []
    for one in tests[:4]:
        late = one.due <= now
        when = "now" if late else f"on {day_words(one.due)}"
        told.append(f"{one.piece} {when}")
    if not told:
        return ""
    more = f" and {counted(len(tests) - 4, 'other', 'others')}" if len(tests) > 4 else ""
    return f"Next photo of light tests: {listed(told)}{more}."
