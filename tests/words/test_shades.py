"""Uncertainty in plain words."""

import pytest

from dyeshade.words.shades import hex_colour, lab_words, sure_to


# Where the steps lie is common practice, no source.
@pytest.mark.parametrize(
    ("u95", "words"),
    [
        (0.84, "about 0.8: too little to see"),
        (1.2, "about 1.2: just visible"),
        (1.96, "about 2: just visible"),
        (2.4, "about 2: just visible"),
        (4.4, "about 4: plain to see"),
        (9.6, "about 10: a large difference"),
    ],
)
def test_people_are_told_how_sure_a_shade_is(u95, words):
    assert sure_to(u95) == words


def test_shades_are_written_as_standards_write_them():
    assert hex_colour((141, 122, 4)) == "#8d7a04"
    assert lab_words((52.25, -10.06, 33.14)) == "L* 52.2, a* -10.1, b* 33.1"
    # White paper is neutral, not "minus nothing".
    assert lab_words((94.3, -0.02, -0.04)) == "L* 94.3, a* 0.0, b* 0.0"
