"""A difference in colour is said with its unit, and the sentence that counts is said whole."""

from dataclasses import replace

import numpy as np

from dyeshade.insight.change import Change, ChangeGrade
from dyeshade.insight.components import Parts
from dyeshade.insight.difference import Difference
from dyeshade.insight.interval import DifferenceInterval
from dyeshade.insight.ph_wanted import WantedPh
from dyeshade.insight.repeatability import Repeatability
from dyeshade.insight.variance_parts import SpreadPart
from dyeshade.words.change_words import change_words
from dyeshade.words.ph_series_lines import nearest_ph_words
from dyeshade.words.repeat_figure import repeat_figure
from dyeshade.words.repeat_lines import claim_words, repeatability_lines

SIZE = DifferenceInterval(3.1, 2.0, 4.2, 2.5, True)
GRADE = ChangeGrade(3.0, "3-4", 3.4, 3.0, 3.9)
SMALL = SpreadPart(0.11, 0.08, 0.16)
REPEATS = Repeatability((), SMALL, 0.68, SpreadPart(0.4, 0.2, 0.7), SpreadPart(1.2, 0.8, 2.2))


def test_a_change_is_said_with_its_unit():
    between = Difference(np.zeros(3), np.zeros(3), np.eye(3), "together")
    change = Change(between, SIZE, Parts(3.0, 0.0, 0.0, 0.5, 0.5, 0.5, ("lighter",)), GRADE)
    assert change_words(change) == "ΔE00 3.1 (2.0 to 4.2), lighter; grade 3-4"


def test_how_far_the_nearest_ph_leaves_a_wanted_shade_has_its_unit():
    wanted = WantedPh(6.1, 5.7, 6.6, (39.0, 41.0, 5.0), SIZE, False, np.zeros(0), np.zeros(0))
    assert nearest_ph_words(wanted).endswith("pH 6.1 (5.7 to 6.6), ΔE00 3.1 (2.0 to 4.2) away.")


def test_the_difference_that_can_be_claimed_stands_whole_above_its_plot():
    said = claim_words(REPEATS)
    assert "two baths is ΔE00 " in said
    assert said.endswith("95 times in 100.")
    assert repeat_figure(REPEATS, {}).sentences[0] == said
    # In the command's lines it is wrapped, and nothing is lost of it either.
    assert said in " ".join(repeatability_lines(REPEATS))


def test_where_no_bath_was_repeated_its_plot_says_so_whole():
    alone = replace(REPEATS, between_baths=None)
    assert repeat_figure(alone, {}).sentences[0].endswith("Dye the same again.")
