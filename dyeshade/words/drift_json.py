"""Drift as plain values for JSON."""

from __future__ import annotations

from dyeshade.insight.change import Change
from dyeshade.insight.drift import Drift, DriftPoint
from dyeshade.insight.interval import DifferenceInterval

DIGITS = 4


def size_record(size: DifferenceInterval) -> dict[str, object]:
    """A difference with its interval."""
    return {
        "delta_e_2000": round(size.value, DIGITS),
        "low": round(size.low, DIGITS),
        "high": round(size.high, DIGITS),
        "significant": size.significant,
        "smallest_shown": round(size.smallest_shown, DIGITS),
    }


def change_record(change: Change | None) -> dict[str, object] | None:
    """A change with its parts and grade; None stays None."""
    if change is None:
        return None
    parts, grade = change.parts, change.grade
    return {
        **size_record(change.size),
        "delta_l": round(parts.delta_l, DIGITS),
        "delta_c": round(parts.delta_c, DIGITS),
        "delta_h": round(parts.delta_h, DIGITS),
        "sd_l": round(parts.sd_l, DIGITS),
        "sd_c": round(parts.sd_c, DIGITS),
        "sd_h": round(parts.sd_h, DIGITS),
        "ways": list(change.ways),
        "grade": grade.half,
        "grade_value": round(grade.grade, DIGITS),
        "grade_worst": round(grade.worst, DIGITS),
        "grade_best": round(grade.best, DIGITS),
        "errors": change.difference.how,
        "apart": list(change.difference.apart),
    }


def drift_record(drift: Drift) -> dict[str, object]:
    """How a piece has moved.

    Parameters
    ----------
    drift : Drift

    Returns
    -------
    dict
        Of plain values, ready for `json.dumps`.
    """
    return {
        "piece": drift.history.piece.code,
        "verdict": drift.verdict,
        "chance_unmoved": drift.chance,
        "smallest_shown": None
        if drift.smallest_shown is None
        else round(drift.smallest_shown, DIGITS),
        "advice": None
        if drift.advice is None
        else {
            "photos": drift.advice.photos,
            "each_time": drift.advice.each_time,
            "shown": round(drift.advice.shown, DIGITS),
        },
        "base": drift.base_id,
        "readings": [_point(point) for point in drift.points],
        "left_out": [reading.id for reading in drift.left_out],
    }


def _point(point: DriftPoint) -> dict[str, object]:
    reading = point.reading
    return {
        "reading": reading.id,
        "taken_together": [one.id for one in point.readings],
        "read": reading.read.isoformat(),
        "state": reading.state,
        "lab": [round(value, DIGITS) for value in reading.lab],
        "u95": round(reading.u95, DIGITS),
        "srgb": reading.srgb,
        "treatments": [
            {
                "kind": step.treatment.kind,
                "substance": step.treatment.substance,
                "bath": step.bath.bath.code if step.bath else None,
                "ph": step.ph,
            }
            for step in point.steps
        ],
        "since_base": change_record(point.since_base),
        "since_last": change_record(point.since_last),
    }
