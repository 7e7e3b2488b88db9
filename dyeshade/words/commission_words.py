"""Commissions: lines for people, and plain values for JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from dyeshade.library.trial_records import Commission
from dyeshade.words.dye_words import day_words
from dyeshade.words.figure_words import DELTA_E
from dyeshade.words.shades import lab_words
from dyeshade.work.commissions import CommissionKept, Judged

DIGITS = 4

VERDICTS: Mapping[str, str] = {
    "met": "met",
    "likely_met": "probably met",
    "unsure": "not sure to be met",
    "likely_not_met": "probably not met",
    "not_met": "not met",
}
"""Words for each of `dyeshade.work.commissions.VERDICTS`."""


def judged_words(judged: Judged, tolerance: float) -> str:
    """As in "W-014: probably met, ΔE00 1.2 (0.3 to 2.4) away, 87 % within ΔE00 2"."""
    result = judged.result
    low = "0" if result.low == 0 else f"{result.low:.1f}"
    return (
        f"{judged.piece}: {VERDICTS[judged.verdict]}, {DELTA_E} {result.delta_e:.1f} ({low} to "
        f"{result.high:.1f}) away, {100 * result.chance:.0f} % within {DELTA_E} {tolerance:g}"
    )


def agreed_words(kept: CommissionKept) -> str:
    """As in "commission-001, shawl: L* 52.3, ..., of W-014, within ΔE00 2, agreed ..."."""
    one = kept.commission
    of = f", of {kept.agreed_piece}" if kept.agreed_piece else ""
    sure = "" if any(one.covariance) else ", taken as exact"
    return (
        f"{commission_head(one)}: {lab_words(one.lab)}{of}{sure}, "
        f"within {DELTA_E} {one.tolerance:g}, agreed on {day_words(one.agreed.date())}"
    )


def commission_lines(kept: CommissionKept) -> list[str]:
    """What was agreed on, and a line for each dyeing that was judged."""
    one = kept.commission
    shade = lab_words(one.lab)
    of = f" of piece {kept.agreed_piece}" if kept.agreed_piece else ""
    day = day_words(one.agreed.date())
    lines = [
        f"{commission_head(one)}: {shade}{of}, within {DELTA_E} {one.tolerance:g}, agreed on {day}"
    ]
    lines += [f"  {words}" for words in _terms(one)]
    if not kept.judged:
        return [*lines, "  No dyeing was judged yet."]
    return [*lines, *(f"  {judged_words(judged, one.tolerance)}" for judged in kept.judged)]


def commissions_lines(kept: Sequence[CommissionKept]) -> list[str]:
    """All commissions, one after the other."""
    if not kept:
        return ["There is no commission yet."]
    lines = [line for one in kept for line in commission_lines(one)]
    return [
        *lines,
        "In CIEDE2000; in brackets where the true difference lies 95 times in 100. Met: within",
        "the tolerance for 95 % or more; not met: all that is in brackets is beyond it.",
    ]


def commission_head(one: Commission) -> str:
    """A commission with what it is and for whom, as in "commission-001, shawl for the mill"."""
    whom = f"for {one.for_whom}" if one.for_whom else ""
    return ", ".join(filter(None, (one.code, " ".join(filter(None, (one.what, whom))))))


def _terms(one: Commission) -> list[str]:
    told = []
    if one.weight_g is not None:
        told.append(f"{one.weight_g:g} g of fibre")
    if one.due is not None:
        told.append(f"due on {day_words(one.due)}")
    if one.note:
        told.append(one.note)
    return told


def commission_record(kept: CommissionKept) -> dict[str, object]:
    """A commission with its results."""
    one = kept.commission
    return {
        "commission": one.code,
        "what": one.what,
        "for": one.for_whom,
        "lab": [round(value, DIGITS) for value in one.lab],
        "of_piece": kept.agreed_piece or None,
        "tolerance": one.tolerance,
        "agreed": one.agreed.isoformat(),
        "due": None if one.due is None else one.due.isoformat(),
        "weight_g": one.weight_g,
        "note": one.note,
        "verdict": kept.verdict,
        "results": [judged_record(judged) for judged in kept.judged],
    }


def judged_record(judged: Judged) -> dict[str, object]:
    """A dyeing that was judged."""
    result = judged.result
    return {
        "piece": judged.piece,
        "reading": judged.reading.id,
        "delta_e_2000": round(result.delta_e, DIGITS),
        "low": round(result.low, DIGITS),
        "high": round(result.high, DIGITS),
        "chance_below": round(result.chance, DIGITS),
        "verdict": judged.verdict,
        "judged": result.judged.isoformat(),
    }
