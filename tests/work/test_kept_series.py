"""Curves of pH series are kept while what they are made of stays."""

import pytest

from dyeshade.library.find import ShadeQuery
from dyeshade.library.library import Library
from dyeshade.library.shade_records import Reading
from dyeshade.work import kept_series
from dyeshade.work.ask_ph_series import most_series
from dyeshade.work.kept_series import kept_answer
from dyeshade.work.wanted_colour import wanted_colour


def test_a_curve_is_fitted_anew_only_where_a_reading_or_a_ph_is_another(
    workshop: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    fitted = []

    def counting(series, wanted):
        fitted.append(series)
        return answer_for(series, wanted)

    answer_for = kept_series.answer_for
    monkeypatch.setattr(kept_series, "answer_for", counting)
    query = ShadeQuery(dyestuff="weld", fibre="wool")

    def answer(wanted=None):
        (series,) = most_series(workshop, query, "bath_start")
        return kept_answer(workshop, series, wanted)

    first = answer()
    wanted = answer(wanted_colour(workshop, "78,-6,61"))
    assert wanted.curve is first.curve
    assert first.wanted is None
    assert wanted.wanted is not None
    assert len(fitted) == 1
    with workshop.edit("note") as edit:
        reading = first.series.points[0].taken.reading
        edit.change(Reading(**{**vars(reading), "note": "looked at again"}))
    assert answer().curve is first.curve
    with workshop.edit("lighter") as edit:
        reading = edit.the(Reading, reading.id)
        edit.change(Reading(**{**vars(reading), "lab_l": 70.0}))
    assert answer().curve is not first.curve
    assert len(fitted) == 2
