"""An error keeps its code and facts wherever it travels."""

import pickle

from dyeshade.errors import DyeshadeError


def test_an_error_comes_whole_out_of_another_process():
    error = pickle.loads(pickle.dumps(DyeshadeError("too_few_marks", seen=2, needed=4)))
    assert (error.code, error.facts) == ("too_few_marks", {"seen": 2, "needed": 4})


def test_a_report_shows_code_and_facts():
    assert str(DyeshadeError("too_few_marks", seen=2)) == "too_few_marks (seen=2)"
    assert str(DyeshadeError("no_sheet")) == "no_sheet"
