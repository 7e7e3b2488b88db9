"""The study, small: it tells the same each time, and what it prints follows from its runs."""

from dyeshade.bath.reach.log import METER, STRIP
from tests.studies.reach_ph import Compared, Outcome, column, compare, criteria, table

LIQUORS = 12


def test_followed_to_the_letter_few_additions_do_and_no_ceiling_is_crossed():
    found = compare("strip", STRIP, LIQUORS, seed=4)
    assert column(found.proposed, "crossed").sum() == 0
    assert column(found.proposed, "additions").sum() < column(found.steady, "additions").sum()
    assert column(found.proposed, "distance").mean() < column(found.steady, "distance").mean()


def test_the_study_tells_the_same_each_time():
    assert compare("meter", METER, 2, 9, checks=2) == compare("meter", METER, 2, 9, checks=2)


def test_criteria_that_are_not_met_say_so():
    def runs(additions, distance, crossed):
        return (Outcome(additions, additions, distance, crossed),) * 10

    bad = Compared("strip", runs(6, 0.2, False), runs(7, 0.3, True))
    assert not any(met for _, met in criteria(bad, bad, bad))
    good = Compared("strip", runs(6, 0.4, False), runs(3, 0.1, False))
    assert all(met for _, met in criteria(good, good, good))
    assert "| strip | proposed | 3 |" in table([good])
