"""Curves of pH series that were fitted lately: fitting one again takes a second."""

from __future__ import annotations

from typing import cast

from dyeshade.insight.ph_series import PhSeries
from dyeshade.library.library import Library
from dyeshade.work.ask_ph_series import SeriesAnswer, answer_for, with_wanted
from dyeshade.work.wanted_colour import WantedColour

MOST = 12
"""So many curves are kept, the latest."""

Key = tuple[object, ...]


def kept_answer(
    library: Library, series: PhSeries, wanted: WantedColour | None = None
) -> SeriesAnswer:
    """As `answer_for`, with the curve of before where the series is the same.

    Parameters
    ----------
    library : Library
        Its memo keeps the curves.
    series : PhSeries
    wanted : WantedColour, optional
    """
    kept = cast(dict[Key, SeriesAnswer], library.memo.setdefault("ph_curves", {}))
    key = key_of(series)
    answer = kept.pop(key, None)
    if answer is None:
        answer = answer_for(series, None)
    kept[key] = answer
    while len(kept) > MOST:
        del kept[next(iter(kept))]
    # The readings' pieces and notes may have changed, which no curve knows of.
    answer = SeriesAnswer(series, answer.curve, answer.as_seen, answer.values, None, answer.next)
    return answer if wanted is None else with_wanted(answer, wanted)


def key_of(series: PhSeries) -> Key:
    """All that a curve is made of; the library's memo outlives changes of readings."""
    points = []
    for point in series.points:
        taken, reading = point.taken, point.taken.reading
        set_up = (taken.camera, taken.serial, taken.light, taken.file_format)
        how = (reading.method_version, reading.calibration_id, reading.photo_id)
        covariances = (reading.covariance_photo, reading.covariance_common)
        points.append((point.ph, point.ph_sd, point.bath, reading.lab, covariances, set_up, how))
    return (series.which, series.state, tuple(points))
