"""What a bath needs, as lines for people."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from dyeshade.bath.amounts import WATER, BathPlan, Line
from dyeshade.bath.exhaust import ExhaustBath
from dyeshade.bath.fibres import GROUPS
from dyeshade.bath.showing import (
    show_percent,
    show_ratio,
    show_weight,
    volume_in_both,
    weight_in_both,
)
from dyeshade.bath.spoons import Weight, show_spoons, spoon_litres, spoons_for, weight_of_spoons
from dyeshade.bath.spoons import usual_density as density_of
from dyeshade.bath.substances import find_substance
from dyeshade.bath.units import METRIC
from dyeshade.bath.work_out import BathWorkedOut
from dyeshade.errors import Notice
from dyeshade.words.cautions import caution_text
from dyeshade.words.sentences import counted

# A cupful by the spoon is no measuring any more.
MOST_SPOONS = 12
_WIDE = 92


def spoons_of(line: Line, spoon: str | None) -> tuple[str, Weight] | None:
    """Level spoons for a line, as ("8 1/4", what they weigh), where spoons make sense.

    Parameters
    ----------
    line : Line
    spoon : str or None
        Which spoons the dyer has, as "US tsp".
    """
    if spoon is None or line.kind in (WATER, "dyestuff"):
        return None
    known = find_substance(line.name)
    density = None if known is None else density_of(known.name)
    if density is None:
        return None
    litres = spoon_litres(spoon)
    count = spoons_for(line.planned, litres, density)
    if not 0 < count <= MOST_SPOONS:
        return None
    return show_spoons(count), weight_of_spoons(float(count), litres, density)


def worked_out(
    bath: BathWorkedOut,
    system: str = METRIC,
    spoon: str | None = None,
    colours: Sequence[tuple[str, str, float, float]] = (),
) -> list[str]:
    """Everything about a bath, in lines.

    Parameters
    ----------
    bath : BathWorkedOut
    system : str
        Units that come first.
    spoon : str, optional
        Which spoons the dyer has, as "US tsp".
    colours : sequence of (name, form, grams, fibre in grams)
        What dyestuffs at hand colour.
    """
    plan = bath.plan
    pieces = counted(len(plan.pieces), "piece", "pieces")
    lines = [f"{weight_in_both(plan.fibre_g, system)} of fibre, dry: {pieces}", ""]
    lines += _amounts(plan, system, spoon)
    for number, pot in enumerate(bath.pots, 1):
        held = ", ".join(
            f"{piece.name or piece.fibre} {show_weight(piece.grams, system)}"
            for piece in pot.pieces
        )
        lines += ["", *_wrapped(f"Pot {number} of {len(bath.pots)}: {held}", "  ")]
        lines += _amounts(pot, system, spoon)
    for exhaust in bath.exhausts:
        lines += ["", *_exhaust(exhaust, system)]
    if colours:
        lines += ["", *(_colours(*one, system) for one in colours)]
    lines += _notices("Mind:", plan.notices)
    return lines + _notices("Cautions:", bath.cautions)


def _colours(name: str, form: str, grams: float, fibre_g: float, system: str) -> str:
    return (
        f"{weight_in_both(grams, system)} of {name}, {form}, "
        f"is enough for {weight_in_both(fibre_g, system)} of fibre."
    )


def amount(line: Line, system: str) -> str:
    """A planned amount in both systems."""
    show = volume_in_both if line.kind == WATER else weight_in_both
    return show(line.planned, system)


def share(line: Line) -> str:
    """A line's share of the fibre: "2:1", "15 % wof", "15 % of the wool"."""
    if line.kind == WATER or (line.kind == "dyestuff" and line.form != "extract"):
        return show_ratio(line.share)
    fibre = f"{line.on} fibre" if line.on in GROUPS else line.on
    return f"{show_percent(line.share)} {f'of the {fibre}' if fibre else 'wof'}"


def _amounts(plan: BathPlan, system: str, spoon: str | None) -> list[str]:
    rows = []
    for line in plan.lines:
        name = f"{line.name}, {line.form}" if line.form else line.name
        rows.append((name, amount(line, system), share(line), _spoon_words(line, system, spoon)))
        rows += [
            (f"  or {form}", weight_in_both(grams, system), "", "") for form, grams in line.also
        ]
    widths = [max((len(row[k]) for row in rows), default=0) for k in range(3)]
    return [
        "  " + "  ".join([*(row[k].ljust(widths[k]) for k in range(3)), row[3]]).rstrip()
        for row in rows
    ]


def _spoon_words(line: Line, system: str, spoon: str | None) -> str:
    found = spoons_of(line, spoon)
    if found is None:
        return ""
    count, weight = found
    low, high = show_weight(weight.low_g, system), show_weight(weight.high_g, system)
    return f"about {count} level {spoon}, which weigh {low} to {high}"


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
