"""A sentence for everything that can stand in the way of a question to the shade library."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from dyeshade.words.dye_words import WHICH_PH, listed
from dyeshade.words.home_test_names import TESTS
from dyeshade.words.sentences import Facts, Sentence, counted


def _no_series(facts: Facts) -> str:
    which = "" if facts["which"] is None else f" {WHICH_PH[str(facts['which'])]}"
    other = "" if facts["which"] is None else ", or ask for another pH"
    return f"No such shade has a pH{which}. Write it down with the bath{other}."


def _test_running(facts: Facts) -> str:
    return (
        f"A home test of {TESTS[str(facts['test'])]} is under way with {facts['piece']} already. "
        "End it first."
    )


def _tests_many(facts: Facts) -> str:
    tests = listed([TESTS[one] for one in cast("list[str]", facts["tests"])])
    return f"Home tests of {tests} are under way with {facts['piece']}. Say which of them is meant."


def _sample_missing(facts: Facts) -> str:
    found = cast("list[str]", facts["found"])
    there = f"It shows {listed(found)}." if found else "It shows none."
    return f"The photo shows no sample {facts['sample']}. {there}"


def _few_sessions(facts: Facts) -> str:
    times = counted(facts["sessions"], "time", "times")
    return (
        f"The check standard {facts['piece']} was read {times}, and {facts['needed']} are needed "
        "for a chart. Go on measuring it with each session."
    )


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
    "few_sessions": _few_sessions,
    "colour_unknown": (
        "{text} is no colour. Give L*, a* and b* as 60,20,30 with L* from 0 to 100, an sRGB colour "
        "as #d6c84a, or the id of a piece."
    ),
    "no_series": _no_series,
    "no_home_test": (
        "Nothing that piece {piece} went through makes a home test yet: read it before and after a "
        "wash or a dip, or covered and exposed in one photo."
    ),
    "home_test_running": _test_running,
    "home_test_unknown": "No home test was set up with {piece}. Set it up first.",
    "home_tests_many": _tests_many,
    "home_test_not_photographed": (
        "The home test of {piece} has no photo yet: take one of both halves and keep it with the "
        "test."
    ),
    "home_test_sample_missing": _sample_missing,
    "home_test_one_sample": (
        "The sample {sample} is said to be two parts of the test. Give each part a sample of its "
        "own."
    ),
}
"""Sentence for each code that questions to the library raise."""
