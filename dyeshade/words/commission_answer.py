"""Commissions as an answer to be shown: a table of them, and the plot of one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from dyeshade.cie.rgb_spaces import lab_to_srgb
from dyeshade.paper.plot import Axis, Figure, Level, Mark, Plot
from dyeshade.paper.plot_axes import number_axis
from dyeshade.words.answered import Answered, Line
from dyeshade.words.commission_words import VERDICTS, agreed_words, commission_head, judged_words
from dyeshade.words.figure_words import DELTA_E, reading_words, rgb_of
from dyeshade.words.sentences import counted
from dyeshade.words.shades import lab_words
from dyeshade.words.wanted_words import picked_words
from dyeshade.work.commissions import CommissionKept, Judged, state_of
from dyeshade.work.pick_shade import PickedShade
from dyeshade.work.wanted_colour import Wanted

if TYPE_CHECKING:
    from dyeshade.work.commission_again import CommissionBath

HEADS = ("Commission", "What", "For", "Due", "Within", "Agreed shade", "Result")


_NONE = (
    "No commission is kept yet. Agree on a shade with somebody: take a new one, dye for it, and "
    "judge what came out by the tolerance."
)


@dataclass(frozen=True)
class CommissionLine(Line):
    """A line of the table, and the commission that it is of."""

    kept: CommissionKept | None = None


def note_with(note: str, shade: Wanted) -> str:
    """A commission's note, with the photo that its shade was picked from."""
    if not isinstance(shade, PickedShade):
        return note
    return " ".join(filter(None, (note, f"The shade is that of {picked_words(shade)}.")))


def commissions_answer(kept: Sequence[CommissionKept], today: date, of: int) -> Answered:
    """Some commissions, with those first that are due first.

    Parameters
    ----------
    kept : sequence of CommissionKept
    today : date
    of : int
        How many there are.
    """
    if not kept:
        return Answered((_NONE if not of else f"None of {of} is like that.",))
    ordered = sorted(kept, key=_due_first)
    lines = tuple(_line(one, today) for one in ordered)
    open_ones = [one for one in kept if state_of(one) == "open"]
    late = [one for one in open_ones if one.commission.due and one.commission.due < today]
    told = f"{counted(len(kept), 'commission', 'commissions')}, {len(open_ones)} open"
    told += f"; overdue: {len(late)}." if late else "."
    return Answered((told,), None, HEADS, lines)


def _due_first(kept: CommissionKept) -> tuple[bool, bool, date]:
    due = kept.commission.due
    return (state_of(kept) == "met", due is None, due or date.max)


def _line(kept: CommissionKept, today: date) -> CommissionLine:
    one = kept.commission
    cells = (
        one.code,
        one.what,
        one.for_whom,
        "" if one.due is None else f"{one.due:%Y-%m-%d}",
        f"{DELTA_E} {one.tolerance:g}",
        f"{kept.agreed_piece or lab_words(one.lab)}",
        result_words(kept, today),
    )
    last = kept.judged[-1].reading.id if kept.judged else one.reading_id
    return CommissionLine(cells, last, kept)


def result_words(kept: CommissionKept, today: date) -> str:
    """How a commission stands, as in "probably met by W-021" or "open, due in 5 days"."""
    if kept.judged:
        last = kept.judged[-1]
        told = f"{VERDICTS[last.verdict]} by {last.piece}"
        if state_of(kept) == "met":
            return told
        return ", ".join((told, *_when(kept, today)))
    return ", ".join(("open", *_when(kept, today)))


def _when(kept: CommissionKept, today: date) -> tuple[str, ...]:
    if kept.commission.due is None:
        return ()
    days = (kept.commission.due - today).days
    if days < 0:
        return (f"overdue by {counted(-days, 'day', 'days')}",)
    return ("due today" if days == 0 else f"due in {counted(days, 'day', 'days')}",)


def commission_sentences(kept: CommissionKept) -> tuple[str, ...]:
    """What was agreed on, and what the last dyeing came to."""
    one = kept.commission
    told = [f"{agreed_words(kept)}."]
    if kept.judged:
        told.append(f"{judged_words(kept.judged[-1], one.tolerance)}.")
    else:
        told.append("No dyeing was judged yet.")
    if one.note:
        told.append(one.note)
    return tuple(told)


def made_again_words(bath: CommissionBath) -> str:
    """Which bath an agreed shade is made again by."""
    if bath.delta_e is None:
        return f"The bath is that of {bath.piece}."
    return (
        f"The bath is that of {bath.piece}, the nearest piece with a bath, {DELTA_E} "
        f"{bath.delta_e:.1f} from the agreed shade."
    )


def commission_figure(kept: CommissionKept) -> Figure:
    """How far the dyeings of a commission lie from the agreed shade, beside the tolerance."""
    one = kept.commission
    srgb, _ = lab_to_srgb(one.lab)
    told = f"The agreed shade: {lab_words(one.lab)}"
    marks = [Mark(0.0, 0.0, told, srgb, one.reading_id, chosen=True)]
    ticks = [(0.0, "agreed")]
    for place, judged in enumerate(kept.judged, 1):
        marks.append(_mark(float(place), judged, one.tolerance))
        ticks.append((float(place), judged.piece))
    tops = [mark.y_ends[1] for mark in marks if mark.y_ends]
    across = Axis("", -0.6, max(len(kept.judged), 3) + 0.6, tuple(ticks))
    height = number_axis(
        f"{DELTA_E} from the agreed shade, with its 95 % interval", [0.0, one.tolerance, *tops], 2.0
    )
    levels = (Level(0.0, dashed=False), Level(one.tolerance, f"{DELTA_E} {one.tolerance:g}"))
    plot = Plot("", across, height, levels=levels, marks=tuple(marks))
    return Figure(commission_head(one), commission_sentences(kept), ((plot,),), (1.0,))


def _mark(place: float, judged: Judged, tolerance: float) -> Mark:
    result, reading = judged.result, judged.reading
    told = f"{judged_words(judged, tolerance)}. {reading_words(judged.piece, reading)}"
    ends = (result.low, result.high)
    return Mark(place, result.delta_e, told, rgb_of(reading.srgb), reading.id, y_ends=ends)
