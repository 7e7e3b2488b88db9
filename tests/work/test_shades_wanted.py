"""Shades asked for by conditions and by words."""

import pytest

from dyeshade.library.find import ShadeQuery
from dyeshade.library.library import Library
from dyeshade.work.shades_wanted import Wanted, shades_wanted


@pytest.mark.parametrize(
    ("words", "count"),
    [("", 8), ("WELD", 6), ("silk weld", 3), ("rain tops", 6), ("exhausted", 0), ("w-00", 5)],
)
def test_every_word_must_stand_somewhere(workshop: Library, words: str, count: int) -> None:
    answer = shades_wanted(workshop, Wanted(words=words))
    assert (len(answer.found), answer.of) == (count, 8)


def test_words_and_conditions_go_together(workshop: Library) -> None:
    answer = shades_wanted(workshop, Wanted(ShadeQuery(fibre="wool"), "madder"))
    assert [one.history.piece.code for one in answer.found] == ["W-007", "W-008"]


def test_what_there_is_to_choose_from_comes_along(workshop: Library) -> None:
    choices = shades_wanted(workshop, Wanted()).choices
    assert choices.dyestuffs == ("madder", "weld")
    assert choices.parts == ("root", "tops")
    assert choices.fibres == ("silk", "wool")
    assert choices.mordants == ("alum",)
    assert choices.most_exhausts == 1
