"""The marks alone tell which sheet is in view."""

from itertools import pairwise, product

import pytest

from dyeshade.sheet.kinds import CELLS, PAPERS, first_ident, kind_of_marks

KINDS = list(product(PAPERS, CELLS, (False, True)))


@pytest.mark.parametrize(("paper", "cells", "colours"), KINDS)
def test_marks_tell_the_kind_of_sheet(paper, cells, colours):
    first = first_ident(paper, cells, colours)
    assert kind_of_marks(range(first, first + 16)) == (paper, cells, colours, 1)
    assert kind_of_marks([first + 15]) == (paper, cells, colours, 1)


def test_no_two_kinds_share_a_mark():
    firsts = sorted(first_ident(*kind) for kind in KINDS)
    assert all(later - earlier >= 16 for earlier, later in pairwise(firsts))
    assert firsts[-1] + 16 <= 1000


def test_one_false_mark_among_many_does_not_change_the_kind():
    first = first_ident("Letter", "one", True)
    assert kind_of_marks([first, first + 4, first + 9, 3]) == ("Letter", "one", True, 1)


@pytest.mark.parametrize("idents", [[], [0, 16], [128], [999]])
def test_marks_of_no_sheet_are_refused(idents):
    with pytest.raises(ValueError, match=r"one kind|no version"):
        kind_of_marks(idents)


@pytest.mark.parametrize(
    "kind", [("A5", "six", False, 1), ("A4", "nine", False, 1), ("A4", "six", True, 2)]
)
def test_sheets_that_there_are_not_are_refused(kind):
    with pytest.raises(ValueError, match="no such sheet"):
        first_ident(*kind)
