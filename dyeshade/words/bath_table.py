"""What a bath needs, as lines for people."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from dyeshade.bath.amounts import DYESTUFF, WATER, BathPlan, Line
from dyeshade.bath.exhaust import ExhaustBath
from dyeshade.bath.fibres import GROUPS
from dyeshade.bath.showing import (
    show_percent,
    show_ratio,
    show_volume,
    show_weight,
    volume_in_both,
    weight_in_both,
)
from dyeshade.bath.spoons import Spoonfuls, SpoonsAtHand, show_spoons, spoonfuls
from dyeshade.bath.store import Enough
from dyeshade.bath.units import METRIC
from dyeshade.bath.work_out import BathWorkedOut
from dyeshade.errors import Notice
from dyeshade.words.cautions import caution_text
from dyeshade.words.sentences import counted

_WIDE = 92
# Dyestuffs below a quarter of the fibre are told in per cent, as cochineal and extracts are.
_RATIO_FROM = 0.25


def worked_out(
    bath: BathWorkedOut, system: str = METRIC, spoons: SpoonsAtHand | None = None
) -> list[str]:
    """Everything about a bath, in lines.

    Parameters
    ----------
    bath : BathWorkedOut
    system : str
        Units that come first.
    spoons : SpoonsAtHand, optional
        Level spoons are told beside weights where they are known.
    """
    plan = bath.plan
    pieces = counted(len(plan.pieces), "piece", "pieces")
    lines = [f"{weight_in_both(plan.fibre_g, system)} of fibre, dry: {pieces}", ""]
    lines += _amounts(plan, system, spoons)
    for number, pot in enumerate(bath.pots, 1):
        held = ", ".join(
            f"{piece.name or piece.fibre} {show_weight(piece.grams, system)}"
            for piece in pot.pieces
        )
        lines += ["", *_wrapped(f"Pot {number} of {len(bath.pots)}: {held}", "  ")]
        lines += _amounts(pot, system, spoons)
    for exhaust in bath.exhausts:
        lines += ["", *_exhaust(exhaust, system)]
    for one in bath.enough:
        lines += ["", *_wrapped(enough(one, system), "")]
    notices = (*plan.notices, *(notice for one in bath.enough for notice in one.notices))
    lines += _notices("Mind:", notices)
    return lines + _notices("Cautions:", bath.cautions)


def enough(answer: Enough, system: str = METRIC) -> str:
    """Whether the store holds enough of a dyestuff, in a sentence."""
    dyestuff = answer.dyestuff
    told = (
        f"{dyestuff.name}, {dyestuff.form}: {weight_in_both(answer.needed_g, system)} needed, "
        f"{weight_in_both(answer.left_g, system)} at hand: "
    )
    fibre = weight_in_both(answer.fibre_g, system)
    if answer.is_enough:
        return f"{told}enough, for up to {fibre} of fibre."
    lacking = weight_in_both(answer.lacking_g, system)
    return f"{told}{lacking} lacking; it is enough for {fibre} of fibre."


def amount(line: Line, system: str) -> str:
    """A planned amount in both systems."""
    show = volume_in_both if line.kind == WATER else weight_in_both
    return show(line.planned, system)


def actual(line: Line, system: str = METRIC) -> str:
    """What was truly taken, beside the plan: "456 g, 5 % less"; "" where nothing was said."""
    if line.actual is None or line.off_by is None:
        return ""
    show = show_volume if line.kind == WATER else show_weight
    percent = round(100 * abs(line.off_by))
    off = f"{percent} % {'more' if line.off_by > 0 else 'less'}" if percent else "as planned"
    return f"{show(line.actual, system)}, {off}"


def share(line: Line) -> str:
    """A line's share of the fibre: "2:1", "15 % wof", "15 % of the wool"."""
    if line.kind == WATER or (line.kind == DYESTUFF and line.share >= _RATIO_FROM):
        return show_ratio(line.share)
    fibre = f"{line.on} fibre" if line.on in GROUPS else line.on
    return f"{show_percent(line.share)} {f'of the {fibre}' if fibre else 'wof'}"


def _amounts(plan: BathPlan, system: str, spoons: SpoonsAtHand | None) -> list[str]:
    rows = []
    for line in plan.lines:
        name = f"{line.name}, {line.form}" if line.form else line.name
        rows.append((name, amount(line, system), share(line), _spoon_words(line, system, spoons)))
        rows += [
            (f"  or {form}", weight_in_both(grams, system), "", "") for form, grams in line.also
        ]
    widths = [max((len(row[k]) for row in rows), default=0) for k in range(3)]
    return [
        "  " + "  ".join([*(row[k].ljust(widths[k]) for k in range(3)), row[3]]).rstrip()
        for row in rows
    ]


def _spoon_words(line: Line, system: str, spoons: SpoonsAtHand | None) -> str:
    found = spoons_of(line, spoons)
    if found is None:
        return ""
    low, high = (show_weight(one, system) for one in (found.weight.low_g, found.weight.high_g))
    return f"about {show_spoons(found.count)} level {found.spoon}, which weigh {low} to {high}"


def spoons_of(line: Line, spoons: SpoonsAtHand | None) -> Spoonfuls | None:
    """Level spoons for a line that is a powder, where that makes sense."""
    if spoons is None or line.kind in (WATER, DYESTUFF):
        return None
    return spoonfuls(line.planned, line.name, spoons)


def _exhaust(exhaust: ExhaustBath, system: str) -> list[str]:
    fibre = weight_in_both(exhaust.fibre_g, system)
    lines = [f"Exhaust bath {exhaust.number}: {fibre} of fibre"]
    for left in exhaust.dyestuffs:
        lines.append(
            f"  {left.name}, {left.form}: as much as {weight_in_both(left.left_g, system)} is "
            f"left, {show_ratio(left.ratio_left)}"
        )
    if exhaust.water_l is not None and exhaust.to_add_l is not None:
        added = volume_in_both(exhaust.to_add_l, system) if exhaust.to_add_l else "none"
        lines.append(f"  water to add: {added}")
    return lines


def _notices(heading: str, notices: Sequence[Notice]) -> list[str]:
    if not notices:
        return []
    told = [_wrapped(f"- {caution_text(notice)}", "  ") for notice in notices]
    return ["", heading, *(line for lines in told for line in lines)]


def _wrapped(text: str, indent: str) -> list[str]:
    wrap = textwrap.TextWrapper(_WIDE, initial_indent=indent, subsequent_indent=indent + "  ")
    return wrap.wrap(text)
