"""What reading photos again has changed: lines for people, and plain values for JSON."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.library.shade_records import Reading
from dyeshade.words.dye_words import listed
from dyeshade.words.figure_words import DELTA_E
from dyeshade.words.refusals import refusal_text
from dyeshade.words.sentences import counted
from dyeshade.words.shades import lab_words
from dyeshade.work.read_again import PhotoReadAgain, ReadAnew

DIGITS = 4


def anew_line(one: ReadAnew) -> str:
    """A sample as it was read and as it is, as in "W-014 in weld.jpg, A: ..., ΔE00 1.2 apart"."""
    told = (
        f"{one.piece} in {one.photo}, {one.new.sample}: {lab_words(one.old.lab)} is now "
        f"{lab_words(one.new.lab)}, {DELTA_E} {one.delta_e:.1f} apart"
    )
    if one.beyond:
        told += f": more than the {one.old.u95:.1f} that was stated"
    return told


def photo_lines(photo: PhotoReadAgain) -> list[str]:
    """What became of one photo; "" is never a line."""
    if photo.error is not None:
        return [f"{photo.name}: {refusal_text(photo.error)}"]
    lines = [anew_line(one) for one in photo.anew]
    if photo.not_seen:
        lines.append(
            f"{photo.name}: no piece was found in {listed(list(photo.not_seen))} this time. What "
            "was read there before stays."
        )
    return lines


def summary_line(anew: Sequence[ReadAnew]) -> str:
    """How much was read anew, and how much of it moved beyond what was stated."""
    if not anew:
        return "Every photo was read by the newest way of measuring."
    beyond = sum(one.beyond for one in anew)
    told = f"{counted(len(anew), 'sample was', 'samples were')} read anew; both values are kept."
    return f"{told} Further apart than was stated: {beyond}."


def round_words(told: Sequence[PhotoReadAgain]) -> str:
    """What became of the photos of one round, for a window; "" for none."""
    read = [one for one in told if one.error is None]
    anew = [sample for one in read for sample in one.anew]
    lines = [f"Just now: {summary_line(anew)}"] if anew else []
    for one in told:
        if one.error is not None or one.not_seen:
            lines.append(photo_lines(one)[-1])
    return "\n".join(lines)


def anew_record(one: ReadAnew) -> dict[str, object]:
    """A sample as it was read and as it is."""
    return {
        "piece": one.piece,
        "photo": one.photo,
        "sample": one.new.sample,
        "old": _reading(one.old),
        "new": _reading(one.new),
        "delta_e_2000": round(one.delta_e, DIGITS),
        "beyond_stated": one.beyond,
    }


def photo_records(photo: PhotoReadAgain) -> list[dict[str, object]]:
    """What became of one photo: a record for each sample, or one that says why there is none."""
    if photo.error is not None:
        error = {"code": photo.error.code, "text": refusal_text(photo.error)}
        return [{"photo": photo.name, "error": error}]
    missing: list[dict[str, object]] = [
        {"photo": photo.name, "sample": name, "not_seen": True} for name in photo.not_seen
    ]
    return [*(anew_record(one) for one in photo.anew), *missing]


def _reading(reading: Reading) -> dict[str, object]:
    return {
        "reading": reading.id,
        "lab": [round(value, DIGITS) for value in reading.lab],
        "u95": round(reading.u95, DIGITS),
        "measured": reading.measured.isoformat(),
        "method_version": reading.method_version,
        "calibration": reading.calibration_id,
    }
