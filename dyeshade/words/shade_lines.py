"""A kept shade said to people: its bath, what its piece went through, how it has moved."""

from __future__ import annotations

from dyeshade.library.baths import WholeBath
from dyeshade.library.conditions import BathConditions, Dye
from dyeshade.library.find import FoundShade
from dyeshade.library.history import History, Step
from dyeshade.library.shade_records import Reading
from dyeshade.words.change_words import size_words, ways_words
from dyeshade.words.dye_words import (
    STATES,
    TREATMENTS,
    WHICH_PH,
    day_words,
    exhaust_words,
    percent_words,
    ph_words,
    treatment_in,
)
from dyeshade.words.sentences import counted
from dyeshade.work.piece_story import Moved


def dye_words(dye: Dye) -> str:
    """A dyestuff as in "weld, tops, dried, 100 % wof"."""
    ratio = "" if dye.ratio is None else percent_words(dye.ratio)
    return ", ".join(filter(None, (dye.name, dye.part, dye.form, ratio)))


def dyestuff_names(conditions: BathConditions) -> str:
    """Dyestuffs of all baths, as in "weld + madder, then indigo"."""
    baths = (" + ".join(dye.name for dye in bath.dyes) for bath in conditions.baths)
    return ", then ".join(filter(None, baths))


def ratio_words(conditions: BathConditions) -> str:
    """Ratios of the last bath's dyestuffs, as in "100 + 50 % wof"."""
    last = conditions.last_bath
    ratios = [dye.ratio for dye in last.dyes] if last else []
    if not any(ratio is not None for ratio in ratios):
        return ""
    told = ["?" if ratio is None else f"{100 * ratio:.4g}" for ratio in ratios]
    return f"{' + '.join(told)} % wof"


def mordant_words(conditions: BathConditions) -> str:
    """The mordant as in "alum 12 %"."""
    percent = conditions.mordant_percent_wof
    return conditions.mordant if percent is None else f"{conditions.mordant} {percent:.4g} %"


def acted_words(conditions: BathConditions) -> str:
    """The pH that acted last, as in "8.5 of the bath at end"; "" where it was not read."""
    ph = conditions.ph()
    if ph is None or conditions.acted is None:
        return ""
    return f"{ph_words(ph)} {WHICH_PH[conditions.acted]}"


def piece_words(history: History) -> str:
    """A piece as in "W-014, long skein: wool, 4-ply yarn, with alum 12 %, 50 g"."""
    piece, fibre, mordant = history.piece, history.fibre, history.mordant
    name = ", ".join(filter(None, (piece.code, piece.name)))
    parts = []
    if fibre is not None:
        parts.append(", ".join(filter(None, (fibre.name, fibre.make))))
    if mordant is not None:
        percent = "" if mordant.percent_wof is None else f" {mordant.percent_wof:.4g} %"
        parts.append(f"with {mordant.name}{percent}")
    if piece.weight_g is not None:
        parts.append(f"{piece.weight_g:.4g} g")
    return f"{name}: {', '.join(parts)}" if parts else name


def state_words(reading: Reading) -> str:
    """When and how a piece was read, as in "12 March 2026, dry"."""
    return f"{day_words(reading.read)}, {STATES[reading.state]}"


def bath_lines(whole: WholeBath, exhausts: str = "") -> list[str]:
    """A bath, a line for each thing that was written down of it."""
    bath = whole.bath
    which = exhaust_words(bath.exhaust_number)
    lines = [f"{bath.code}, {which}{f' of {exhausts}' if exhausts else ''}"]
    if bath.started is not None:
        lines[0] += f", {day_words(bath.started)}"
    for lot, ratio in whole.dyestuffs:
        told = dye_words(Dye(lot.name, lot.part, lot.form, ratio))
        lines.append(f"{told}{f', from {lot.origin}' if lot.origin else ''}")
    made = [bath.water, bath.vessel]
    if bath.liquor_ratio is not None:
        made.append(f"liquor ratio {bath.liquor_ratio:.4g} : 1")
    if bath.temperature_c is not None:
        made.append(f"{bath.temperature_c:.4g} °C")
    if bath.minutes is not None:
        made.append(f"{bath.minutes:.4g} min")
    if any(made):
        lines.append(", ".join(filter(None, made)))
    for addition in whole.additions:
        told = f"{addition.amount:.4g} {addition.unit} {addition.substance}"
        after = addition.ph_after
        lines.append(f"+ {told}{f', pH {ph_words(after)} after it' if after is not None else ''}")
    for read in whole.ph_readings:
        by = f" ({read.by})" if read.by else ""
        lines.append(f"pH {WHICH_PH[read.which]}: {ph_words(read.ph)}{by}")
    if bath.note:
        lines.append(bath.note)
    return lines


def step_words(step: Step) -> str:
    """A treatment as in "afterbath, white vinegar 10 ml/l, pH 4.5, 12 March 2026"."""
    one = step.treatment
    parts = [TREATMENTS[one.kind]]
    if step.bath is not None:
        dyes = " + ".join(lot.name for lot, _ in step.bath.dyestuffs)
        parts[0] = treatment_in(one.kind, step.bath.bath.code) + (f" ({dyes})" if dyes else "")
    amount = "" if one.amount is None else f"{one.amount:.4g} {one.unit}".strip()
    parts.append(" ".join(filter(None, (one.substance, amount))))
    if step.ph is not None:
        parts.append(f"pH {ph_words(step.ph)}")
    if one.temperature_c is not None:
        parts.append(f"{one.temperature_c:.4g} °C")
    if one.minutes is not None:
        parts.append(f"{one.minutes:.4g} min")
    if one.started is not None:
        parts.append(day_words(one.started))
    parts.append(one.note)
    return ", ".join(filter(None, parts))


def drift_words(drift: Moved) -> str:
    """How a piece has moved since a reading, or that it has not for all that can be told."""
    day, size = day_words(drift.since.read), size_words(drift.change.size)
    if not drift.change.size.significant:
        return f"No move beyond the measuring since {day}: ΔE00 {size}."
    ways = ways_words(drift.change.ways)
    return f"Moved by ΔE00 {size} since {day}{f'; {ways}' if ways else ''}."


def repeat_words(found: FoundShade, delta_e: float) -> str:
    """A repeat as in "W-016, 12 March 2026, dry: ΔE00 1.2 from this one"."""
    piece = found.history.piece.code
    return f"{piece}, {state_words(found.reading)}: ΔE00 {delta_e:.1f} from this one"


def shades_counted(shown: int, of: int) -> str:
    """How many are shown, as in "37 shades of 412"."""
    return counted(of, "shade", "shades") if shown == of else f"{shown} shades of {of}"
