"""Every name of the records has its words."""

from datetime import date

from dyeshade.library.dye_records import FORMS, TREATMENTS, WHICH_PH
from dyeshade.library.shade_records import STATES
from dyeshade.words import dye_words


def test_every_name_has_its_words():
    assert set(dye_words.FORMS) == set(FORMS)
    assert set(dye_words.TREATMENTS) == set(TREATMENTS)
    assert set(dye_words.WHICH_PH) == set(dye_words.WHICH_PH_SHORT) == set(WHICH_PH)
    assert set(dye_words.STATES) == set(STATES)


def test_days_baths_ratios_and_ph_read_as_people_say_them():
    assert dye_words.day_words(date(2026, 3, 12)) == "12 March 2026"
    assert dye_words.exhaust_words(0) == "first bath"
    assert dye_words.exhaust_words(2) == "exhaust bath 2"
    assert dye_words.percent_words(0.07) == "7 % wof"
    assert [dye_words.ph_words(ph) for ph in (8.0, 8.5, 8.25, 4.96)] == [
        "8.0",
        "8.5",
        "8.25",
        "4.96",
    ]
    assert dye_words.listed(["lighter", "redder", "yellower"]) == "lighter, redder and yellower"
    assert dye_words.listed(["lighter"]) == "lighter"
    assert dye_words.listed(["W-019", "W-029"], "or") == "W-019 or W-029"


def test_a_bath_is_not_called_a_bath_twice():
    assert dye_words.treatment_in("bath", "bath-007") == "bath-007"
    assert dye_words.treatment_in("bath", "D-7") == "bath D-7"
    assert dye_words.treatment_in("dip", "bath-007") == "dip bath-007"
