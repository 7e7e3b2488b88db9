"""What home fastness tests came to, in lines and sentences."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from dyeshade.insight.fastness import BesideBlueWools, HomeStep, HomeTest
from dyeshade.words.change_words import change_words, how_words, size_words
from dyeshade.words.dye_words import listed
from dyeshade.words.figure_words import DELTA_E
from dyeshade.words.home_test_words import HOME_TEST, TESTS


def home_test_lines(piece: str, tests: Sequence[HomeTest]) -> list[str]:
    """Home tests of a piece."""
    lines: list[str] = []
    for test in tests:
        lines.append(f"{piece}, home test of {TESTS[test.kind]}:")
        for step in test.steps:
            lines += _step_lines(test, step)
        lines += [f"  {words}" for words in sentences_of(test)]
        lines.append("")
    return [*lines, *textwrap.wrap(HOME_TEST, 90)]


def _step_lines(test: HomeTest, step: HomeStep) -> list[str]:
    when = " ".join(filter(None, (f"{step.read:%Y-%m-%d}", day_of_step(test, step))))
    lines = []
    if step.change is not None:
        where = "" if step.in_one_photo else ", untreated and treated in two photos"
        lines.append(f"  {when}  {change_words(step.change)}{where}")
    for stain in step.staining:
        told = f"staining of white cloth: {DELTA_E} {size_words(stain.size)}; grade {stain.half}"
        lines.append(f"    {told}" if lines else f"  {when}  {told}")
    for number, change in step.blue_wools.items():
        lines.append(f"    blue wool {number}: {change_words(change)}")
    return lines


def day_of_step(test: HomeTest, step: HomeStep) -> str:
    """On which day of the test a photo was taken, as in "day 8"; "" where it was not set up."""
    if test.begun is None:
        return ""
    days = (step.read.date() - test.begun.date()).days
    return "before it" if test.is_before(step) else f"day {days}"


def sentences_of(test: HomeTest) -> list[str]:
    """What goes with a test's grades, sentence by sentence."""
    told = []
    if test.beside_blue_wools is not None:
        told.append(blue_wool_words(test.beside_blue_wools))
    if test.uneven is not None and test.treated:
        told.append(
            "Its halves differed before the test already, by "
            f"{DELTA_E} {size_words(test.uneven.size)}: take its grades with that in mind."
        )
    apart = {how_words(s.change.difference) for s in test.steps if s.change is not None}
    told += [f"Mind: {words}" for words in sorted(filter(None, apart))]
    return told


def result_words(test: HomeTest) -> str:
    """What a test came to, as in "light, day 8: grade 4-5 (from 4.1 to 4.9)"."""
    if not test.treated:
        assert test.untreated is not None
        size = f"{DELTA_E} {size_words(test.untreated.size)}"
        return (
            f"{TESTS[test.kind]}: photographed before it only, when its halves differed by {size}"
        )
    day = day_of_step(test, test.result)
    head = ", ".join(filter(None, (TESTS[test.kind], day)))
    told = []
    if test.change is not None:
        grade = test.change.grade
        told.append(f"grade {grade.half} (from {grade.worst:.1f} to {grade.best:.1f})")
    for stain in test.staining:
        told.append(f"staining of white {stain.half} (from {stain.worst:.1f} to {stain.best:.1f})")
    return f"{head}: {', '.join(told)}"


def blue_wool_words(beside: BesideBlueWools) -> str:
    """How a piece faded beside blue wools, in a sentence."""
    if beside.faded_more is None:
        told = f"It fades more than blue wool {beside.faded_less}."
    elif beside.faded_less is None:
        told = f"It fades less than blue wool {beside.faded_more}."
    else:
        told = f"It fades between blue wools {beside.faded_more} and {beside.faded_less}."
    if beside.alike:
        alike = listed([str(one) for one in beside.alike], "or")
        told = f"{told[:-1]}, but can't be told for sure from {alike}."
    return told


def known_words(test: HomeTest) -> str:
    """A test's result in a line for a shade card or a piece sheet, never without its name.

    "" where there is none yet.
    """
    if not test.treated:
        return ""
    day = day_of_step(test, test.result)
    exposed = f" after {day.removeprefix('day ')} days" if test.kind == "light" and day else ""
    told = []
    if test.change is not None:
        grade = test.change.grade
        told.append(f"change {grade.half} ({grade.worst:.1f} to {grade.best:.1f})")
    for stain in test.staining:
        told.append(f"staining {stain.half} ({stain.worst:.1f} to {stain.best:.1f})")
    return f"home test, no certificate; {TESTS[test.kind]}{exposed}: {', '.join(told)}"
