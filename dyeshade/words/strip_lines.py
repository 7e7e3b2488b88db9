"""What is said of a strip that was read in a photo; lines for people, and one JSON object."""

from __future__ import annotations

from dyeshade.errors import Notice
from dyeshade.words.cautions import caution_text
from dyeshade.words.dye_words import ph_words
from dyeshade.work.read_strip import StripFound


def strip_line(found: StripFound) -> str:
    """What pH the pad tells, as in "pH 8.4, between 8.1 and 8.7 (95 times in 100)"."""
    place = found.place
    if not place.on_scale:
        return "Off the scale: no pH has this colour on it."
    ph, low, high = (ph_words(round(one, 1)) for one in (place.ph, place.low, place.high))
    return f"pH {ph}, between {low} and {high} (95 times in 100)"


def not_logged_line(found: StripFound) -> str:
    """Why this is no reading for the log; "" where it is one."""
    if found.instrument is not None:
        return ""
    if not found.place.on_scale:
        return "It is not logged: it tells no pH."
    return "It is not logged: it leaves more than two pH units open."


def strip_record(found: StripFound) -> dict[str, object]:
    """One JSON object (schemas/bath_strip.schema.json)."""
    place = found.place
    told = {
        "ph": round(place.ph, 2),
        "low": round(place.low, 2),
        "high": round(place.high, 2),
    }
    return {
        "on_scale": place.on_scale,
        **(told if place.on_scale else {}),
        "at_end": place.at_end,
        "distance": round(place.distance, 2),
        "scale_in_photo": found.here,
        "cautions": [_caution(one) for one in found.notices],
    }


def _caution(notice: Notice) -> dict[str, str]:
    return {"code": notice.code, "text": caution_text(notice)}
