"""Sentences for what is unusual about a bath's amounts, and for what may do harm in it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from dyeshade.bath.fibres import GROUPS
from dyeshade.words.sentences import Facts, Sentence


def _percent(share: object) -> str:
    return f"{100 * cast('float', share):.3g} %"


def _ratio_unusual(facts: Facts) -> str:
    ratio = cast("float", facts["ratio"])
    return (
        f"A ratio of {ratio:.3g}:1 is unusual for a dyestuff. Is it meant as a ratio to the fibre, "
        "or in per cent of it?"
    )


def _liquor_unusual(facts: Facts) -> str:
    ratio, low, high = (cast("float", facts[name]) for name in ("ratio", "low", "high"))
    told = "fibre may not move freely and dye unevenly" if ratio < low else "much water is heated"
    return (
        f"A liquor ratio of {ratio:.3g}:1 lies outside {low:.0f}:1 to {high:.0f}:1, which is "
        f"common practice: {told}."
    )


def _outside_range(facts: Facts) -> str:
    whose = "the range that you set" if facts["own"] else "common practice"
    return (
        f"On {facts['fibre']}, {facts['substance']} at {_percent(facts['share'])} of its weight "
        f"is outside {whose}: {_percent(facts['low'])} to {_percent(facts['high'])}."
    )


def _no_such_fibre(facts: Facts) -> str:
    fibre = f"{facts['on']} fibre" if facts["on"] in GROUPS else facts["on"]
    return f"There is no {fibre} in the pot, so the {facts['substance']} for it was left out."


def _overdrawn(facts: Facts) -> str:
    return (
        f"{cast('float', facts['grams']):.0f} g more of {facts['dyestuff']} were used than its lot "
        "held. Weigh what is left of it."
    )


BATH_AMOUNT_CAUTIONS: Mapping[str, Sentence] = {
    # what is unusual about an amount
    "ratio_unusual": _ratio_unusual,
    "liquor_unusual": _liquor_unusual,
    "pot_without_liquor": (
        "Without a liquor ratio nobody knows how much water the fibre gets, so whether the pot "
        "holds it was not looked at."
    ),
    "outside_range": _outside_range,
    "not_usual_on_fibre": (
        "On {fibre}, {substance} has no usual range here. The share that you gave was taken."
    ),
    "no_such_fibre": _no_such_fibre,
    "substance_unknown": (
        "Nothing is known here of {substance}, no usual range and no cautions. Go by its safety "
        "data sheet."
    ),
    "lot_overdrawn": _overdrawn,
    "lot_not_counted": (
        "What there is of {form} {dyestuff} was not counted: how much {wanted} it makes is not "
        "known. Give your own yield."
    ),
    # what may do harm
    "caution_comes_first": (
        "What follows is common practice, no source. The product's safety data sheet, the rules of "
        "the place and whoever is licensed for the work come first."
    ),
    "caution_hot_liquor": (
        "Hot liquor scalds, and its steam carries what is in it. Air the room, keep the lid on, "
        "lift heavy wet fibre in parts."
    ),
    "caution_mordants": (
        "Mordants are chemicals. Wear gloves, and keep them, locked, away from children, animals "
        "and food."
    ),
    "caution_dust": (
        "Powders raise dust that should not be breathed in. Weigh them without draught and with a "
        "mask, and put the powder into the water slowly."
    ),
    "caution_iron": (
        "Iron salts poison children who swallow them, even little: call a poison centre at once. "
        "Iron also harms fibre, wool and silk most, and a trace of it dulls other baths."
    ),
    "caution_copper": (
        "Copper salts harm whatever lives in water, and whoever swallows them. Never pour a copper "
        "bath out of doors or into a drain that is not allowed to take it."
    ),
    "caution_tin": (
        "Tin is discouraged: its salts burn skin and eyes, harm fibre, and leave a bath that is "
        "hard to get rid of. Alum does nearly the same work."
    ),
    "caution_alkali": (
        "Washing soda, lime and lye burn skin and eyes and harm wool and silk. Goggles and gloves; "
        "always the powder into the water, never the water onto the powder."
    ),
    "caution_caustic": (
        "Lime and lye burn at once and hurt only later, and lye heats the water that it goes into. "
        "Cold water, little by little; nobody else near."
    ),
    "caution_strong_vinegar": (
        "Vinegar of {percent:g} % burns skin and eyes, and its fumes bite. Goggles and gloves, a "
        "window open; always the vinegar into the water, never the water onto it. Kitchen vinegar "
        "does the same work, more of it."
    ),
    "caution_foam": (
        "Acid and alum foam up where there is soda or chalk. No vinegar by the cup into hot soda, "
        "no soda by the cup into hot alum: let it cool, add by the spoon, leave room in the pot."
    ),
    "caution_aluminium_pot": (
        "Soda, lime and lye attack aluminium pots, lye fast and with gas that burns, and what "
        "comes off mordants the fibre. Use stainless steel or whole enamel."
    ),
    "caution_pot_reacts": (
        "A pot of aluminium, copper or iron gives metal into the bath: it acts as a mordant, and "
        "the shade will not come again in another pot."
    ),
    "caution_foraged": (
        "What is gathered may be poisonous, protected or somebody's own. Take only what you know "
        "for certain, by the rules of the place, and little."
    ),
    "caution_not_for_food": (
        "Pots, spoons, balances and cups that were used for dyeing are never used for food again."
    ),
    "caution_disposal": (
        "Ask your local authority where a spent bath may go. A septic tank, a stream or a garden "
        "is not the place for one with metals in it."
    ),
}
"""Sentence for each code of a `Notice`."""
