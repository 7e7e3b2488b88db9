"""What the bath room says: amounts, pots, exhausts, lots, the log, the day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from dyeshade.bath.amounts import WATER, BathPlan, Line
from dyeshade.bath.ceilings import PhRange
from dyeshade.bath.exhaust import ExhaustBath
from dyeshade.bath.reach.measures import MILLILITRE, QUARTER_TEASPOON, Measure
from dyeshade.bath.reach.propose import ADD, Advice
from dyeshade.bath.showing import (
    show_percent,
    show_ratio,
    show_weight,
    significant,
    temperature_in_both,
    volume_in_both,
    weight_in_both,
)
from dyeshade.bath.spoons import SpoonsAtHand, show_spoons
from dyeshade.bath.store import Left
from dyeshade.bath.work_out import BathWorkedOut
from dyeshade.library.bath_records import LogReading
from dyeshade.library.bath_room import BathRoom
from dyeshade.library.dye_records import Addition
from dyeshade.words.bath_ph import additive_name
from dyeshade.words.bath_table import amount, spoons_of
from dyeshade.words.cautions import caution_text
from dyeshade.words.dye_words import day_words, listed, ph_words
from dyeshade.words.sentences import counted
from dyeshade.work.plan_bath import OwnFigures


def line_name(line: Line) -> str:
    """What a line is of, as in "weld, dried"; capitalised where it is water."""
    if line.kind == WATER:
        return "Water"
    return f"{line.name}, {line.form}" if line.form else line.name


def spoon_words(line: Line, system: str, spoons: SpoonsAtHand | None) -> str:
    """Level spoons for a line, as in "about 3 1/2 level US tsp (12 to 18 g)"; "" for none."""
    found = spoons_of(line, spoons)
    if found is None:
        return ""
    low, high = (show_weight(one, system) for one in (found.weight.low_g, found.weight.high_g))
    return f"about {show_spoons(found.count)} level {found.spoon}: {low} to {high}"


def fibre_words(plan: BathPlan, system: str) -> str:
    """How much fibre is in the pot, as in "567 g (1 lb 4 oz) of fibre, 3 pieces"."""
    pieces = counted(len(plan.pieces), "piece", "pieces")
    return f"{weight_in_both(plan.fibre_g, system)} of fibre, {pieces}"


def also_words(plan: BathPlan, system: str) -> list[str]:
    """The same dyestuff in other forms."""
    return [
        f"{line.name}: instead of {line.form}, {weight_in_both(grams, system)} {form}"
        for line in plan.dyestuffs
        for form, grams in line.also
    ]


def pot_words(worked: BathWorkedOut, system: str) -> list[str]:
    """What goes into each pot, where it takes more than one."""
    told = []
    for number, pot in enumerate(worked.pots, 1):
        held = ", ".join(
            f"{piece.name or piece.fibre} {show_weight(piece.grams, system)}"
            for piece in pot.pieces
        )
        needs = "; ".join(
            f"{amount(line, system)} {', '.join(filter(None, (line.name, line.form)))}"
            for line in pot.lines
        )
        told.append(f"Pot {number} of {len(worked.pots)} for {held}: {needs}.")
    return told


def exhaust_lines(exhaust: ExhaustBath, system: str) -> list[str]:
    """What the liquor still holds, and how much water it wants."""
    told = [f"Exhaust bath {exhaust.number}, as you judge what is left:"]
    told += [
        f"{left.name}, {left.form}: as much as {weight_in_both(left.left_g, system)} put in "
        f"afresh, {show_ratio(left.ratio_left)} to this fibre."
        for left in exhaust.dyestuffs
    ]
    if exhaust.to_add_l is not None and exhaust.water_l is not None:
        if exhaust.to_add_l > 0:
            told.append(f"Fill up with {volume_in_both(exhaust.to_add_l, system)} of water.")
        else:
            told.append("There is liquor enough; no water to add.")
    return told


def left_words(left: Left, system: str) -> str:
    """A lot and what is left of it, as in "weld, dried, since 12 March 2026"."""
    since = "" if left.lot.since is None else f", since {day_words(left.lot.since)}"
    return f"{left.lot.name}, {left.lot.form}{since}"


def reading_words(readings: Sequence[LogReading], room: BathRoom) -> str:
    """Readings after one addition, as in "pH 7.4 and 7.6 (meter and strip in IMG_7.jpg)"."""
    if not readings:
        return "not read yet"
    photos = {one.id: one.name for one in room.photos}
    said = [
        one.instrument if one.photo_id is None else f"{one.instrument} in {photos[one.photo_id]}"
        for one in readings
    ]
    by = listed(list(dict.fromkeys(said)))
    return f"pH {listed([ph_words(one.ph) for one in readings])} ({by})"


def log_lines(room: BathRoom | None) -> list[str]:
    """The log of a bath, a line for each addition."""
    if room is None:
        return []
    told = []
    for one in room.readings:
        if one.known_ph is not None:
            read, known = ph_words(one.ph), ph_words(one.known_ph)
            told.append(f"The {one.instrument} read {read} in something of pH {known}")
    first = [one for one in room.readings if one.addition_id is None and one.known_ph is None]
    logged = [one for one in room.additions if one.additive]
    if first or logged:
        told.append(f"The liquor as it was: {reading_words(first, room)}")
    for number, addition in enumerate(logged, 1):
        at = "" if addition.added is None else f"{addition.added:%H:%M}  "
        after = [one for one in room.readings if one.addition_id == addition.id]
        told.append(f"{number}  {at}{addition_words(addition)}: {reading_words(after, room)}")
    return told


def addition_words(addition: Addition) -> str:
    """What was added, as in "12 ml stock solution of washing soda, 10 %"."""
    name = additive_name(addition.additive) if addition.additive else addition.substance
    percent = "" if addition.percent is None else f", {addition.percent:g} %"
    return f"{significant(addition.amount)} {addition.unit} {name}{percent}"


def timer_words(seconds: float, ends: datetime | None) -> str:
    """How much of a step is left, as in "34 min 12 s left, until 15:42"."""
    if ends is None:
        return f"{_lasting(-seconds)} so far; no time was planned"
    if seconds < 0:
        return f"over since {ends:%H:%M}, {_lasting(-seconds)} ago"
    return f"{_lasting(seconds)} left, until {ends:%H:%M}"


def _lasting(seconds: float) -> str:
    whole = int(seconds)
    hours, left = divmod(whole, 3600)
    minutes, rest = divmod(left, 60)
    if hours:
        return f"{hours} h {minutes:02d} min"
    return f"{minutes} min {rest:02d} s"


def step_times(started: datetime | None, ended: datetime | None) -> str:
    """When a step was, as in "09:00 to 09:40, 40 min"; "" where it was not yet."""
    if started is None:
        return ""
    if ended is None:
        return f"since {started:%H:%M}"
    minutes = round((ended - started).total_seconds() / 60)
    return f"{started:%H:%M} to {ended:%H:%M}, {minutes} min"


def bears_words(bears: PhRange, temperature_c: float | None) -> list[str]:
    """What the fibre bears, and what to know of it."""
    at = "in a cool bath" if temperature_c is None else f"at {temperature_in_both(temperature_c)}"
    bounds = (
        f"The fibre in the pot bears pH {ph_words(bears.floor)} to {ph_words(bears.ceiling)} "
        f"{at} (common practice, no source, unless you have set it)."
    )
    return [bounds, *(caution_text(one) for one in bears.notices)]


def amount_asked(measure: Measure) -> str:
    """What is to be typed for an amount."""
    if measure.kind == QUARTER_TEASPOON:
        return "¼ teaspoons, as 2"
    return amount_unit(measure)


def amount_unit(measure: Measure) -> str:
    """The unit of what is measured out, as people write it."""
    return "ml" if measure.kind == MILLILITRE else "g"


def amount_proposed(advice: Advice) -> str:
    """A proposed amount as it would be typed; "" where nothing is to be added."""
    if advice.action != ADD or advice.addition is None or advice.measure is None:
        return ""
    if advice.measure.kind == QUARTER_TEASPOON:
        return f"{round(advice.addition.amount / advice.measure.step)}"
    return f"{significant(advice.addition.amount, 6)} {amount_unit(advice.measure)}"


def out_words(pieces: str, finished: bool) -> list[str]:
    """What became of the pieces."""
    if not pieces:
        return []
    if not finished:
        return [f"In this bath so far: {pieces}."]
    said = (
        f"Out of this bath: {pieces}. What was done here are their bath conditions now; measure "
        "a photo of them, dry, and their shades stand with it."
    )
    return [said]


def own_words(own: OwnFigures) -> list[str]:
    """What the dyer has found out for themselves."""
    told = [
        f"{one.name}: {show_percent(one.number)} {one.form} of "
        f"{'fresh' if one.form == 'dried' else 'dried'}"
        for one in own.yields
    ]
    told += [
        f"{one.substance}: {significant(one.usual)} g/ml in level spoons, "
        f"{significant(one.low)} to {significant(one.high)}"
        for one in own.densities
    ]
    for one in own.ranges.ranges:
        if one.own:
            on = f" on {one.on}" if one.on else ""
            told.append(
                f"{one.substance}{on}: {show_percent(one.low)} to {show_percent(one.high)} wof"
            )
    return told
