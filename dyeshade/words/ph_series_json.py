"""pH series as plain values for JSON."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.insight.ph_curve import CurveValue
from dyeshade.insight.ph_series import SeriesPoint
from dyeshade.words.drift_json import DIGITS, size_record
from dyeshade.work.ask_ph_series import BesideAt, SeriesAnswer


def ph_series_record(answer: SeriesAnswer) -> dict[str, object]:
    """One series with its readings, its curve, the wanted shade and the next bath.

    Parameters
    ----------
    answer : SeriesAnswer

    Returns
    -------
    dict
        Of plain values, ready for `json.dumps`.
    """
    series, conditions = answer.series, answer.series.conditions
    wanted, following = answer.wanted, answer.next
    return {
        "which_ph": series.which,
        "dyestuffs": [[dye.name for dye in bath.dyes] for bath in conditions.baths],
        "fibre": conditions.fibre,
        "mordant": conditions.mordant,
        "mordant_percent_wof": conditions.mordant_percent_wof,
        "state": series.state,
        "baths": series.baths,
        "readings": [_point(point) for point in series.points],
        "curve": [_value(value) for value in answer.values],
        "wanted": None
        if wanted is None
        else {
            "ph": round(wanted.ph, DIGITS),
            "low": round(wanted.low, DIGITS),
            "high": round(wanted.high, DIGITS),
            "lab": [round(value, DIGITS) for value in wanted.lab],
            "difference": size_record(wanted.difference),
            "at_end": wanted.at_end,
        },
        "next_bath": None
        if following is None
        else {
            "ph": following.ph,
            "spread_now": round(following.spread_now, DIGITS),
            "spread_then": round(following.spread_then, DIGITS),
            "beyond": following.beyond,
        },
    }


def _point(point: SeriesPoint) -> dict[str, object]:
    reading = point.taken.reading
    return {
        "piece": point.shade.history.piece.code,
        "reading": reading.id,
        "bath": point.shade.bath_code,
        "ph": point.ph,
        "ph_sd": point.ph_sd,
        "lab": [round(value, DIGITS) for value in reading.lab],
        "u95": round(reading.u95, DIGITS),
        "srgb": reading.srgb,
    }


def _value(value: CurveValue) -> dict[str, object]:
    return {
        "ph": round(value.ph, DIGITS),
        "lab": [round(one, DIGITS) for one in value.lab],
        "covariance": [[float(one) for one in row] for row in value.covariance],
        "u95": round(value.u95, DIGITS),
        "srgb": list(value.srgb),
        "in_gamut": value.in_gamut,
        "beyond": value.beyond,
    }


def beside_record(beside: Sequence[BesideAt]) -> dict[str, object]:
    """The first two series beside each other."""
    return {
        "beside": [{"ph": round(one.ph, DIGITS), **size_record(one.difference)} for one in beside]
    }
