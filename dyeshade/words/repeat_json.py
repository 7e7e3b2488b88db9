"""How well a dyer repeats, and the check standard, as plain values for JSON."""

from __future__ import annotations

from dyeshade.insight.check_standard import CHANNELS, CheckStandard
from dyeshade.insight.repeatability import Repeatability
from dyeshade.insight.variance_parts import SpreadPart
from dyeshade.words.drift_json import DIGITS
from dyeshade.words.shade_lines import dyestuff_names


def repeatability_record(found: Repeatability) -> dict[str, object]:
    """Spreads and limits in CIEDE2000, and what they come of."""
    between = found.between_baths is not None
    return {
        "measuring": _part(found.measuring),
        "stated_measuring": round(found.stated_measuring, DIGITS),
        "between_pieces": _part(found.between_pieces),
        "between_baths": _part(found.between_baths),
        "intermediate_precision": round(found.intermediate_precision, DIGITS) if between else None,
        "limit_measuring": _rounded(found.limit_measuring),
        "limit_pieces": _rounded(found.limit_pieces),
        "limit_baths": _rounded(found.limit_baths),
        "groups": [
            {
                "dyestuffs": dyestuff_names(group.conditions),
                "fibre": group.conditions.fibre,
                "mordant": group.conditions.mordant,
                "ph": dict(group.conditions.ph_values),
                "readings": list(group.reading_ids),
                "pieces": group.pieces,
                "baths": group.baths,
            }
            for group in found.groups
        ],
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, DIGITS)


def _part(part: SpreadPart | None) -> dict[str, object] | None:
    if part is None:
        return None
    return {
        "sd": round(part.sd, DIGITS),
        "low": round(part.low, DIGITS),
        "high": round(part.high, DIGITS),
        "stated": part.stated,
    }


def check_standard_record(found: CheckStandard) -> dict[str, object]:
    """Charts with all their points."""
    return {
        "piece": found.piece,
        "warns": found.warns,
        "learning": found.learning,
        "charts": {
            channel: {
                "centre": round(chart.centre, DIGITS),
                "lower": round(chart.lower, DIGITS),
                "upper": round(chart.upper, DIGITS),
                "range_upper": round(chart.range_upper, DIGITS),
                "values": [round(point.value, DIGITS) for point in chart.points],
                "moving_ranges": [_rounded(point.moving_range) for point in chart.points],
            }
            for channel, chart in zip(CHANNELS, found.charts, strict=True)
        },
        "sessions": [
            {
                "reading": session.reading.id,
                "read": session.reading.read.isoformat(),
                "warnings": [list(one) for one in session.warnings],
                "changed": list(session.changed),
            }
            for session in found.sessions
        ],
    }
