"""What a pot card says."""

from __future__ import annotations

from collections.abc import Mapping

from dyeshade.bath.amounts import DYESTUFF, WATER, Line
from dyeshade.bath.showing import (
    show_percent,
    show_temperature,
    show_volume,
    show_weight,
    temperature_in_both,
    weight_in_both,
)
from dyeshade.paper.pot_card import PotCard, Row, Table, Wanted
from dyeshade.words.bath_table import amount, share
from dyeshade.words.cautions import caution_text
from dyeshade.words.commission_words import commission_head
from dyeshade.words.dye_words import (
    TREATMENTS,
    WHICH_PH,
    bath_called,
    day_words,
    first_capital,
    listed,
    ph_words,
)
from dyeshade.words.sentences import counted
from dyeshade.words.shades import lab_words
from dyeshade.work.make_pot_card import PotAddition, PotAsked, PotPlan, PotSource, PotStep

_STEP_WORDS: Mapping[str, str] = {
    "wet_out": "Wet the fibre out in lukewarm water until it sinks",
    "mordant": "Mordant: dissolve it in hot water first, warm slowly, move the fibre now and then",
    "dissolve": "Dyestuff into the water, warm slowly; strain where pieces of plant could cling",
    "dye": "Wet fibre in; hold the temperature, move the fibre often and gently",
    "cool": "Let it cool in the bath",
    "rinse": "Rinse in water as warm as the fibre, until it runs clear",
    "dry": "Dry out of the sun; read the shade after a day",
}
"""Words for each of `dyeshade.work.make_pot_card.STEPS`; common practice, no source."""

_LEAST_ADDITIONS = 5
_EMPTY_ADDITIONS = 2


def pot_card(plan: PotPlan) -> PotCard:
    """A pot's plan in words.

    Parameters
    ----------
    plan : PotPlan
    """
    asked = plan.asked
    return PotCard(
        title=_title(plan),
        facts=tuple(_facts(plan)),
        blanks=("Date", "Name" if asked.students > 1 else "Pot", "Water"),
        wanted=_wanted(asked),
        tables=(_amounts(plan), _steps(plan), _additions(plan)),
        cautions_heading="Cautions",
        cautions=tuple(caution_text(one) for one in plan.cautions),
        maker=asked.maker,
        notes_heading="Notes",
    )


def _title(plan: PotPlan) -> str:
    dyes = [line.name for line in plan.plan.dyestuffs]
    exhausts = plan.asked.source.exhausts
    title = plan.asked.title or listed(dyes).capitalize()
    title = title or (f"Exhaust bath of {exhausts}" if exhausts else "Pot card")
    return title if plan.pots == 1 else f"{title}, pot {plan.pot} of {plan.pots}"


def _facts(plan: PotPlan) -> list[str]:
    asked, system = plan.asked, plan.asked.system
    kinds: dict[str, float] = {}
    for piece in plan.plan.pieces:
        kinds[piece.fibre] = kinds.get(piece.fibre, 0.0) + piece.grams
    fibre = listed([f"{show_weight(grams, system)} {kind}" for kind, grams in kinds.items()])
    names = [piece.name for piece in plan.plan.pieces if piece.name]
    each = "Each student dyes" if asked.students > 1 else "In this pot:"
    lines = [f"{each} {fibre}, weighed dry after scouring"]
    if names:
        lines.append(f"Piece{'s' if len(names) > 1 else ''} {', '.join(names)}")
    if asked.students > 1:
        whole = weight_in_both(plan.plan.fibre_g * asked.students, system)
        lines.append(f"{counted(asked.students, 'student', 'students')}: {whole} of fibre together")
    return lines + _source(asked.source)


def _source(source: PotSource) -> list[str]:
    lines = [first_capital(bath_called(source.bath))] if source.bath else []
    if source.exhausts:
        left = source.left_share
        held = "" if left is None else f", which holds {show_percent(left)} of its dyestuff"
        lines.append(f"In the liquor of {source.exhausts}{held}: fill up with water")
    one = source.commission
    if one is not None:
        due = "" if one.due is None else f", due on {day_words(one.due)}"
        lines.append(f"For {commission_head(one)}{due}")
    if source.nearest:
        away = source.nearest_delta_e
        lines.append(
            f"Bath as of {source.nearest}, the dyeing that came nearest"
            if away is None
            else f"Bath as of {source.nearest}, the kept shade nearest to the agreed one: "
            f"ΔE00 {away:.1f} from it"
        )
    return lines


def _wanted(asked: PotAsked) -> Wanted | None:
    wanted = asked.wanted
    if wanted is None:
        return None
    lightness, a, b = (round(value, 1) + 0.0 for value in wanted.lab)
    lines = [f"wanted{f': as {wanted.piece}' if wanted.piece else ''}"]
    lines.append(lab_words((lightness, a, b)).replace("-", "−"))
    if asked.source.commission is not None:
        lines.append(f"to within ΔE00 {asked.source.commission.tolerance:g}")
    if not wanted.in_gamut:
        lines.append("more vivid than can be printed")
    return Wanted(wanted.rgb, tuple(lines))


def _amounts(plan: PotPlan) -> Table:
    asked = plan.asked
    notes = tuple(caution_text(one) for one in plan.notices)
    if asked.students > 1:
        columns: tuple[str, ...] = (
            "to the fibre",
            "each student",
            f"for all {asked.students}",
            "weighed",
        )
        widths: tuple[float, ...] = (0.19, 0.15, 0.17, 0.15)
    else:
        columns, widths = ("to the fibre", "amount", "weighed"), (0.2, 0.26, 0.16)
    rows = tuple(
        Row(_name(line), (share(line), *_much(line, asked), "…")) for line in plan.plan.lines
    )
    return Table("Weigh out", columns, widths, rows, notes)


def _much(line: Line, asked: PotAsked) -> tuple[str, ...]:
    if asked.students == 1:
        return (amount(line, asked.system),)
    each, together = line.planned, line.planned * asked.students
    return _plain(line, each, asked.system), _plain(line, together, asked.system)


def _name(line: Line) -> str:
    return f"{line.name}, {line.form}" if line.kind == DYESTUFF and line.form else line.name


def _plain(line: Line, much: float, system: str) -> str:
    return show_volume(much, system) if line.kind == WATER else show_weight(much, system)


def _steps(plan: PotPlan) -> Table:
    system = plan.asked.system
    rows = tuple(
        Row(f"{number}. {_step_words(step)}", _cells(step, system))
        for number, step in enumerate(plan.steps, 1)
    )
    return Table("Steps", ("temperature", "time", "done at"), (0.19, 0.13, 0.13), rows)


def _step_words(step: PotStep) -> str:
    words = _STEP_WORDS.get(step.what, step.what)
    if not step.treatment:
        return words
    amount = "" if step.amount is None else f"{step.amount:.4g} {step.unit}".strip()
    ph = "" if step.ph is None else f"to pH {ph_words(step.ph)}"
    said = ", ".join(filter(None, (words, f"{step.substance} {amount}".strip(), ph)))
    treatment = TREATMENTS[step.treatment].capitalize()
    return f"{treatment}: {said}" if said else treatment


def _cells(step: PotStep, system: str) -> tuple[str, str, str]:
    if step.what in ("cool", "dry"):
        # Nobody holds a temperature there.
        return "", _time(step) if step.what == "cool" else "", "…"
    return _heat(step, system), _time(step), "…"


def _heat(step: PotStep, system: str) -> str:
    if step.temperature_c is not None:
        return temperature_in_both(step.temperature_c, system)
    # A blank, with the unit that a thermometer shows.
    return "… " + show_temperature(0.0, system).split()[-1]


def _time(step: PotStep) -> str:
    return "… min" if step.minutes is None else f"{step.minutes:.4g} min"


def _additions(plan: PotPlan) -> Table:
    asked = plan.asked
    notes: list[str] = []
    if asked.phs:
        wanted = [f"pH {ph_words(ph)} {WHICH_PH[which]}" for which, ph in asked.phs]
        notes.append(f"Wanted: {listed(wanted)}.")
    borne = plan.ph_range
    if borne is not None:
        bounds = f"pH {ph_words(borne.floor)} to {ph_words(borne.ceiling)}"
        notes.append(
            f"The bath stays between {bounds}: your own bounds."
            if borne.own
            else f"This fibre bears {bounds} in the bath at its temperature (common practice, no "
            "source)."
        )
        over = [ph for which, ph in asked.phs if which.startswith("bath") and ph > borne.ceiling]
        if over:
            notes.append(f"pH {ph_words(max(over))} is more than that: briefly, and cooler.")
        notes += [caution_text(one) for one in borne.notices]
    notes.append("Fibre out, add little, stir, wait some minutes, read, fibre back.")
    known = any(one.amount is not None or one.ph_after is not None for one in asked.additions)
    rows = [
        Row(one.substance, (*(_last_time(one) if known else ()), "…", "…", "…"))
        for one in asked.additions
    ]
    empty = max(_LEAST_ADDITIONS - len(rows), _EMPTY_ADDITIONS)
    rows += [Row("", (*(("", "") if known else ()), "…", "…", "…"))] * empty
    columns = (*(("last time", "to") if known else ()), "added", "pH read", "at")
    widths = (*((0.15, 0.1) if known else ()), 0.16, 0.13, 0.13)
    return Table("pH and additions", columns, widths, tuple(rows), tuple(notes))


def _last_time(one: PotAddition) -> tuple[str, str]:
    much = "" if one.amount is None else f"{one.amount:.4g} {one.unit}"
    return much, "" if one.ph_after is None else f"pH {ph_words(one.ph_after)}"
