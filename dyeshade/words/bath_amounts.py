"""Sentences for what is typed and planned for a bath: weights, volumes, ratios, pots, the store."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from dyeshade.words.sentences import Facts, Sentence


def _listed(facts: Facts) -> str:
    names = cast("tuple[str, ...]", facts["accepted"])
    return f"{', '.join(names[:-1])} or {names[-1]}"


def _unit_unknown(facts: Facts) -> str:
    near = f" Did you mean {facts['near']}?" if facts["near"] else ""
    return (
        f'There is no unit "{facts["unit"]}", as in "{facts["text"]}".{near} Use {_listed(facts)}.'
    )


def _other_kind(facts: Facts) -> str:
    kinds = {"weight": "a weight", "volume": "a volume", "temperature": "a temperature"}
    return (
        f'In "{facts["text"]}", {facts["unit"]} is a unit of {facts["other"]}, and '
        f"{kinds[str(facts['kind'])]} is needed. Use {_listed(facts)}."
    )


def _unit_missing(facts: Facts) -> str:
    return f'In "{facts["text"]}", {facts["written"]} of what? Use {_listed(facts)}.'


def _too_large(facts: Facts) -> str:
    unit = {"weight": "kg", "volume": "L"}[str(facts["kind"])]
    return f'More than {facts["most"]} {unit} is no amount for one bath: "{facts["text"]}".'


def _fibre_unknown(facts: Facts) -> str:
    near = f" Did you mean {facts['near']}?" if facts["near"] else ""
    return f'There is no kind of fibre called "{facts["fibre"]}" here.{near} Use {_listed(facts)}.'


def _piece_too_large(facts: Facts) -> str:
    grams, needs, usable = (cast("float", facts[name]) for name in ("grams", "needs_l", "usable_l"))
    return (
        f"The piece {facts['piece']} ({grams:.0f} g) alone needs {needs:.1f} L, and the pot takes "
        f"{usable:.1f} L. Take a larger pot, a shorter liquor, or share the fibre out."
    )


def _yield_unknown(facts: Facts) -> str:
    return (
        f"How much {facts['form']} {facts['dyestuff']} comes of {facts['given']} is not known. "
        "Dry or extract some, weigh it before and after, and give the yield."
    )


def _pot_material(facts: Facts) -> str:
    return f'No pot of "{facts["material"]}" is known here. Use {_listed(facts)}.'


BATH_AMOUNT_REFUSALS: Mapping[str, Sentence] = {
    # what was typed
    "quantity_missing": 'Nothing is written here. Write a number with its unit, as "2.5 kg".',
    "quantity_no_number": (
        'In "{text}" there is no number where one is needed. Write it as in "2.5 kg", '
        '"1 lb 4 oz" or "3 1/2".'
    ),
    "quantity_bad_number": (
        'In "{text}", "{written}" is no number. Write it as 2.5, 2,5 or 2 1/2.'
    ),
    "quantity_comma_unsure": ('Is "{written}" {decimal} or {thousands}? Write it as one of these.'),
    "quantity_negative": 'An amount is never below 0, as in "{text}". Write it without a minus.',
    "quantity_zero": 'An amount above 0 is needed, and "{text}" is nothing.',
    "quantity_too_large": _too_large,
    "quantity_unit_unknown": _unit_unknown,
    "quantity_unit_missing": _unit_missing,
    "quantity_unit_order": (
        'In "{text}", {unit} stands after {before}. Write the larger unit first and each one '
        'once, as in "1 lb 4 oz".'
    ),
    "quantity_other_kind": _other_kind,
    "quantity_which_spoon": (
        'Which {spoon} is meant in "{text}"? Write "US {spoon}" or "metric {spoon}": the US '
        "teaspoon holds 4.93 ml, the metric one 5 ml."
    ),
    "quantity_no_bath_temperature": (
        'No bath is at "{text}". Write a temperature from {low} to {high} {symbol}.'
    ),
    "ratio_bad": 'There is no ratio in "{text}". Write it as "2:1", "two to one" or "150 %".',
    "ratio_too_large": 'More than {most} times the weight of the fibre is no recipe: "{text}".',
    # the bath
    "no_fibre": "There is no fibre in the pot. Weigh the pieces dry, after scouring.",
    "fibre_unknown": _fibre_unknown,
    "yield_unknown": _yield_unknown,
    "mordant_not_supported": (
        "Not supported: {substance}. Salts of chromium(VI) cause cancer (IARC, group 1), and "
        "chrome has no place in a small dye room. Use alum, or iron for a darker shade."
    ),
    "piece_too_large_for_pot": _piece_too_large,
    "too_many_pots": (
        "That would take {needed} pots, and no more than {most} are planned. Take a larger pot or "
        "less fibre."
    ),
    "density_unknown": (
        "How much {substance} a spoon holds is not known. Weigh it, or weigh ten level spoons once."
    ),
    "not_in_store": "No lot of {dyestuff} is in the store.",
    # lines as they are written down
    "line_incomplete": 'There should be a name and how much of it in "{text}", as "{example}".',
    "yield_above_all": 'Of anything no more than 100 % is left, and "{text}" is more.',
    "no_such_dyestuff": "There is no ratio for {dyestuff}: name it as a dyestuff of the bath.",
    "pot_material_unknown": _pot_material,
}
"""Sentence for each code of a refusal."""
