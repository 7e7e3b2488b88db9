"""What ``bath ph`` says: lines for people, and one JSON object (schemas/bath_ph.schema.json)."""

from __future__ import annotations

from collections.abc import Sequence

from dyeshade.bath.additives import Additive
from dyeshade.bath.amounts_for_ph import Reached
from dyeshade.bath.buffers import Buffer
from dyeshade.bath.equilibrium import TwoPh
from dyeshade.bath.reach.measures import QUARTER_TEASPOON
from dyeshade.bath.reach.propose import ADD, READ_AGAIN, Advice, Spread
from dyeshade.bath.showing import significant
from dyeshade.errors import Notice
from dyeshade.words.bath_ph import additive_name, unit_text
from dyeshade.words.cautions import caution_text
from dyeshade.words.sentences import counted, percent
from dyeshade.work.ask_ph import NextStep

_DIGITS = 4


def ph_lines(ph: TwoPh) -> list[str]:
    """One bath's pH, on a cooled drop and in the pot."""
    lines = [
        f"pH {ph.at_25_c.ph:.1f} on a cooled drop (25 degrees C), as a strip or meter reads it"
    ]
    if ph.at_bath.temperature_c != ph.at_25_c.temperature_c:
        lines.append(
            f"pH {ph.at_bath.ph:.1f} in the pot ({ph.at_bath.temperature_c:.0f} degrees C)"
        )
    return lines


def amount_text(amount: float, what: Additive) -> str:
    """An amount with what it is of, as "2.5 g washing soda"."""
    percent = "" if what.percent is None else f", {what.percent:g} %"
    return f"{significant(amount)} {unit_text(what.unit)} {additive_name(what.name)}{percent}"


def result_lines(ph: TwoPh) -> list[str]:
    """What a bath's pH is, and how firmly it holds it."""
    moved = ph.at_25_c.capacity_mol_l * 1000.0
    return [*ph_lines(ph), f"A litre takes {moved:.2g} mmol of acid or soda for one pH unit."]


def reach_lines(reached: Reached) -> list[str]:
    """What amount reaches a pH."""
    return [amount_text(reached.amount, reached.additive), *ph_lines(reached.ph)]


def hold_lines(buffer: Buffer, litres: float) -> list[str]:
    """What holds a pH, and how firmly."""
    return [
        amount_text(buffer.soda_g, buffer.soda),
        f"{buffer.hydrogen_carbonate_g:.2f} g {additive_name('hydrogen_carbonate')}",
        *ph_lines(buffer.ph),
        (
            f"It holds {buffer.capacity_mol_l * 1000.0:.2g} mmol in a litre for one pH unit, "
            f"{percent(buffer.share_of_best)} of what it would at pH 10: "
            f"{buffer.spare_vinegar_ml:.0f} ml of 5 % vinegar in the {litres:g} L lower it by half "
            "a unit."
        ),
    ]


def next_lines(step: NextStep, target: float) -> list[str]:
    """What to do next."""
    advice = step.advice
    lines = [f"The bath is at {_spread(advice.now)}; it shall come to {target:g}."]
    if advice.action == READ_AGAIN:
        lines.append("Read it once more before you add anything.")
    elif advice.action == ADD:
        lines.append(f"Add {_addition(advice)}: fibre out, add, stir, wait, read, fibre back.")
        assert advice.after is not None
        lines.append(f"Then it should be at {_spread(advice.after)}.")
    else:
        lines.append("Leave it: a further addition would be a guess.")
    fewest, most = step.to_come
    if most and advice.action == ADD:
        range_ = f"{fewest} to " if fewest != most else ""
        many = counted(most, "addition", "additions")
        lines.append(f"About {range_}{many} to come, this one included.")
    return lines


def caution_lines(notices: Sequence[Notice]) -> list[str]:
    """Cautions, after an empty line."""
    return ["", *(caution_text(one) for one in notices)] if notices else []


def _addition(advice: Advice) -> str:
    assert advice.addition is not None
    assert advice.measure is not None
    text = amount_text(advice.addition.amount, advice.addition.additive)
    if advice.measure.kind == QUARTER_TEASPOON:
        count = round(advice.addition.amount / advice.measure.step)
        return f"{counted(count, 'level quarter teaspoon', 'level quarter teaspoons')} ({text})"
    return text


def _spread(spread: Spread) -> str:
    return f"pH {spread.median:.1f} (between {spread.low:.1f} and {spread.high:.1f})"


def ph_record(asked: str, ph: TwoPh, notices: Sequence[Notice]) -> dict[str, object]:
    """A bath's pH as plain values."""
    return {
        "asked": asked,
        "ph_25_c": _r(ph.at_25_c.ph),
        "ph_bath": _r(ph.at_bath.ph),
        "temperature_c": ph.at_bath.temperature_c,
        "capacity_mol_l": _r(ph.at_25_c.capacity_mol_l, 6),
        "cautions": _cautions(notices),
    }


def reach_record(reached: Reached, notices: Sequence[Notice]) -> dict[str, object]:
    """An amount that reaches a pH, as plain values."""
    amounts = [_amount(reached.amount, reached.additive)]
    return {**ph_record("reach", reached.ph, notices), "amounts": amounts}


def hold_record(buffer: Buffer, hydrogen_carbonate: Additive) -> dict[str, object]:
    """A buffer, as plain values."""
    return {
        **ph_record("hold", buffer.ph, buffer.notices),
        "amounts": [
            _amount(buffer.soda_g, buffer.soda),
            _amount(buffer.hydrogen_carbonate_g, hydrogen_carbonate),
        ],
        "share_of_best": _r(buffer.share_of_best),
    }


def next_record(step: NextStep, target: float, floor: float, ceiling: float) -> dict[str, object]:
    """What to do next, as plain values."""
    advice = step.advice
    record: dict[str, object] = {
        "asked": "next",
        "action": advice.action,
        "target": target,
        "floor": floor,
        "ceiling": ceiling,
        "now": _spread_record(advice.now),
        "additions_to_come": list(step.to_come),
        "cautions": _cautions(step.notices),
    }
    if advice.addition is not None and advice.after is not None:
        record["amounts"] = [_amount(advice.addition.amount, advice.addition.additive)]
        record["after"] = _spread_record(advice.after)
    if step.back is not None:
        record["way_back"] = {
            "amount": _amount(step.back.amount, step.back.additive),
            "salts_g": _r(step.back.salts_g),
            "gas_l": _r(step.back.gas_l),
        }
    return record


def _spread_record(spread: Spread) -> dict[str, object]:
    return {"median": _r(spread.median), "low": _r(spread.low), "high": _r(spread.high)}


def _amount(amount: float, what: Additive) -> dict[str, object]:
    return {"add": what.name, "percent": what.percent, "amount": _r(amount), "unit": what.unit}


def _cautions(notices: Sequence[Notice]) -> list[dict[str, str]]:
    return [{"code": one.code, "text": caution_text(one)} for one in notices]


def _r(value: float, digits: int = _DIGITS) -> float:
    return round(float(value), digits)
