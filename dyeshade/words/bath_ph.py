"""Sentences about the pH of a bath: what stands in the way, and what to know."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from dyeshade.words.sentences import Facts, Sentence

ADDITIVES: Mapping[str, str] = {
    "soda_anhydrous": "washing soda (anhydrous)",
    "soda_monohydrate": "washing soda (monohydrate)",
    "soda_decahydrate": "washing soda crystals",
    "soda_opened": "washing soda crystals, opened",
    "hydrogen_carbonate": "sodium hydrogen carbonate",
    "citric_anhydrous": "citric acid, anhydrous",
    "citric_monohydrate": "citric acid, monohydrate",
    "cream_of_tartar": "cream of tartar",
    "alum": "alum",
    "vinegar": "vinegar",
}
"""What each additive is called."""
WHICH_SODA: Mapping[str, str] = {
    "soda_anhydrous": 'Anhydrous: a fine powder, Na2CO3 on its label, also called "soda ash".',
    "soda_monohydrate": "Monohydrate: fine grains, Na2CO3 with 1 H2O on its label.",
    "soda_decahydrate": "Decahydrate: glassy crystals, with 10 H2O, from a pack just opened.",
    "soda_opened": "Crystals from an opened pack, dull or dusty: they have lost some water.",
}
"""How to tell which washing soda a pack holds; asked, since the weakest holds a third as much."""


def additive_name(name: str) -> str:
    """What an additive is called, stock solutions included."""
    base = name.removesuffix("_stock")
    return ADDITIVES[base] if base == name else f"stock solution of {ADDITIVES[base]}"


def unit_text(unit: str) -> str:
    """A unit of additives as people here write it."""
    # The unit is written out: whoever asks for help waits for no arrays.
    return "ml" if unit == "mL" else unit


def _wrong_way(facts: Facts) -> str:
    return (
        f"The bath is at pH {facts['ph']}, and {additive_name(str(facts['additive']))} leads away "
        f"from {facts['target']}. Soda raises the pH; vinegar and citric acid lower it."
    )


def _unreachable(facts: Facts) -> str:
    return (
        f"With {additive_name(str(facts['additive']))} this bath does not reach pH "
        f"{facts['target']}: even a great deal of it ends near {facts['reaches']}. Take something "
        "stronger, or another target."
    )


def _additive_unknown(facts: Facts) -> str:
    known = ", ".join(cast("list[str]", facts["known"]))
    return f"There is no additive {facts['name']}. Known are: {known}."


def _weak(facts: Facts) -> str:
    return (
        f"Between pH 8 and 9 carbonate holds least: about {facts['share']} of what it holds at pH "
        "10. A little acid or soda moves the bath far. Read often, and add by the drop."
    )


def _overshot(facts: Facts) -> str:
    return (
        f"The bath went about {facts['past']} past pH {facts['target']}. The way back is about "
        f"{facts['amount']} {unit_text(str(facts['unit']))} of "
        f"{additive_name(str(facts['additive']))} and leaves {facts['salts_g']} g of salts in the "
        "bath. Fibre out, a little at a time."
    )


BATH_PH_REFUSALS: Mapping[str, Sentence] = {
    "bath_temperature": (
        "{temperature_c:g} degrees C is no temperature of a dye bath: "
        "give one from {lowest:.0f} to {highest:.0f}."
    ),
    "bath_volume": "{volume_l:g} L is no bath. Give the water in litres, above 0.",
    "water_alkalinity": (
        "An alkalinity of {mg_l} mg/L is no water's: give one from 0 to {most:.0f}. "
        "The water works report it, often as carbonate hardness."
    ),
    "water_impossible": (
        "An alkalinity of {mg_l} mg/L and pH {ph} do not go together in water with nothing in it. "
        "Read the pH again, or look up the alkalinity."
    ),
    "ph_off_scale": "There is no pH {ph:g}. Give one from 0 to 14.",
    "vinegar_percent": "Vinegar of {percent:g} % is not sold. Give 1 to 30, as on its label.",
    "stock_percent": (
        "A stock solution of {percent:g} % does not keep: so much does not stay dissolved, or "
        "there is nothing in it. Give up to {most} %."
    ),
    "additive_unknown": _additive_unknown,
    "amount_negative": "{amount:g} is no amount to add. Give 0 or more, what a bath can hold.",
    "ph_wrong_way": _wrong_way,
    "ph_unreachable": _unreachable,
    "buffer_out_of_reach": (
        "Soda and hydrogen carbonate hold this bath between pH {lowest} and {highest}, "
        "not at {target}. Choose a pH between them."
    ),
    # reaching a pH
    "reading_error": (
        "A strip or meter that may be off by {error}, and always by {bias}, is none. "
        "Give pH units from above 0 to 2."
    ),
    "measure_step": "{step:g} is no amount to measure in. Give one above 0.",
    "target_beyond_fibre": (
        "A target of pH {target} is not between what this fibre bears here, {floor} to {ceiling}. "
        "Choose another target, or a cooler bath."
    ),
    "nothing_read": "No pH was read yet. Read the liquor before adding anything.",
    "nothing_to_add": (
        "Nothing that you have leads to pH {target}. Soda raises it, vinegar or citric acid "
        "lowers it."
    ),
    # the file of a log
    "ph_log_missing": "There is no file {path}. Look at its name and its folder.",
    "ph_log_unreadable": "The log {path} could not be read: {reason}. Write it anew as JSON.",
    "ph_log_wrong": "In the log {path}, {place} needs {needs}.",
}
"""Sentence for each code of a `DyeshadeError` about pH."""

BATH_PH_CAUTIONS: Mapping[str, Sentence] = {
    "strong_solution": (
        "This is a strong solution ({ionic_strength} mol/L of ions). "
        "Its pH is a guess, good to a few tenths."
    ),
    "quarter_teaspoon_jumps": (
        "A quarter teaspoon carries this bath to about pH {ph}. Take {ml} ml of a {percent:.0f} % "
        "stock solution by weight instead, for pH {target}: fibre out, add, stir, wait some "
        "minutes, read, fibre back."
    ),
    "carbonate_weak": _weak,
    "simmer_raises_ph": (
        "At {temperature_c:.0f} degrees C the bath loses carbon dioxide, and its pH creeps "
        "upwards. Read it again while it simmers."
    ),
    "lime_settles": (
        "This water is hard: soda turns it milky, lime settles, and somewhat more soda is needed "
        "than is said here."
    ),
    "ceiling_brief": (
        "Up to pH {ceiling} only below 40 degrees C and briefly: "
        "alkali harms wool and silk (common practice, no source)."
    ),
    "ceiling_raised": (
        "A ceiling of pH {ceiling} is above what this fibre bears at this temperature, {usual} "
        "(common practice, no source). Raise it only if you have tried it on a scrap."
    ),
    "floor_lowered": (
        "A floor of pH {floor} is below what this fibre bears, {usual} "
        "(common practice, no source)."
    ),
    "acid_stays_in_cellulose": (
        "Acid that does not evaporate weakens cotton and linen when it dries in them. "
        "Rinse until the rinse water reads as it came, or take vinegar."
    ),
    # reaching a pH
    "step_too_coarse": (
        "The least that you can measure out would carry the bath past pH {target}. "
        "Thin the stock solution ten times, or leave it as it is."
    ),
    "overshot": _overshot,
    "foam": (
        "Coming back frees up to {gas_l} L of carbon dioxide: no vinegar by the cup into a hot "
        "bath with soda, it foams over."
    ),
}
"""Sentence for each code of a `Notice` about pH."""
