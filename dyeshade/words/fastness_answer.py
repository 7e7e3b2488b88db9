"""What home fastness tests of a piece came to, ready to be shown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dyeshade.insight.fastness import HomeStep, HomeTest
from dyeshade.words.answered import Answered, Line
from dyeshade.words.change_words import size_words, ways_words
from dyeshade.words.fastness_figure import fastness_figure
from dyeshade.words.fastness_lines import day_of_step, result_words, sentences_of
from dyeshade.words.home_test_words import HOME_TEST, TESTS

HEADS = ("Test", "Read", "Shows", "ΔE00 (95 %)", "In which way", "Grade (95 %)", "Halves in")


def fastness_answer(piece: str, tests: Sequence[HomeTest]) -> Answered:
    """What home tests of a piece came to."""
    first = f"Home test of {piece}: {'; '.join(result_words(test) for test in tests)}."
    more = [sentence for test in tests for sentence in sentences_of(test)]
    lines = tuple(line for test in tests for step in test.steps for line in _lines(test, step))
    return Answered(
        (first, *more, HOME_TEST), fastness_figure(piece, tests, (first, *more)), HEADS, lines
    )


def _lines(test: HomeTest, step: HomeStep) -> Iterator[Line]:
    day = day_of_step(test, step)
    when = f"{step.read:%Y-%m-%d}" + (f" ({day})" if day else "")
    head = (TESTS[test.kind], when)
    if step.change is not None:
        grade, size = step.change.grade, step.change.size
        cells = (
            *head,
            "the piece",
            size_words(size),
            ways_words(step.change.ways) or ("" if size.significant else "may be none"),
            _grade(grade.half, grade.worst, grade.best),
            "one photo" if step.in_one_photo else "two photos: less sure",
        )
        yield Line(cells, step.reading_id)
    for stain in step.staining:
        grade_words = _grade(stain.half, stain.worst, stain.best)
        cells = (*head, "white cloth", size_words(stain.size), "stained", grade_words, "")
        yield Line(cells, stain.reading_id)
    for number, change in step.blue_wools.items():
        grade_words = _grade(change.grade.half, change.grade.worst, change.grade.best)
        ways = ways_words(change.ways)
        cells = (*head, f"blue wool {number}", size_words(change.size), ways, grade_words, "")
        yield Line(cells, step.wool_ids.get(number))


def _grade(half: str, worst: float, best: float) -> str:
    return f"{half} ({worst:.1f} to {best:.1f})"
