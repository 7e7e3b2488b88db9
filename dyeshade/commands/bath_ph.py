"""``dyeshade bath ph``: what pH results, what reaches or holds one, what to add next."""

from __future__ import annotations

import argparse
from dataclasses import replace
from typing import TYPE_CHECKING

from dyeshade.commands.options import finite
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WrongUsage, tell
from dyeshade.errors import DyeshadeError
from dyeshade.words.refusals import refusal_text

if TYPE_CHECKING:
    from dyeshade.bath.additives import Additive
    from dyeshade.work.ask_ph import KnownBath

UNITS = ("mg_l", "german", "french", "english")


def add_to(questions: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the question to ``dyeshade bath``."""
    ph = questions.add_parser(
        "ph",
        help="what pH a bath has, what reaches or holds one, what to add next",
        description="The pH of a bath. With --add: what results. With --reach and --with: how much "
        "reaches a pH. With --hold: soda and hydrogen carbonate that hold one. With --log: what to "
        "add next to a liquor whose own acids are unknown, by what was added and read so far.",
        epilog="Ends with 0 when it is answered, 1 when it cannot be, 2 for wrong usage.",
        allow_abbrev=False,
    )
    ph.add_argument("--litres", type=finite, metavar="L", help="water in the pot")
    ph.add_argument(
        "--alkalinity",
        type=finite,
        default=0.0,
        metavar="VALUE",
        help="of the water, as carbonate hardness too; mg/L calcium carbonate unless told",
    )
    ph.add_argument(
        "--degrees", choices=UNITS, default="mg_l", help="in what it is given (default: mg_l)"
    )
    ph.add_argument(
        "--water-ph", type=finite, default=7.5, metavar="PH", help="of the water (default: 7.5)"
    )
    ph.add_argument(
        "--liquor-ph",
        type=finite,
        metavar="PH",
        help="as read before anything was added; the liquor's own acids are taken as none",
    )
    ph.add_argument(
        "--temperature", type=finite, default=25.0, metavar="C", help="of the bath (default: 25)"
    )
    ph.add_argument(
        "--add",
        action="append",
        default=[],
        metavar="WHAT=AMOUNT",
        help='what is in it: "soda_anhydrous=2.5" in g, "vinegar:5=30" in mL of 5 %% vinegar',
    )
    ph.add_argument("--reach", type=finite, metavar="PH", help="the pH to reach")
    ph.add_argument(
        "--with", dest="using", metavar="WHAT", help='with what, as "soda_decahydrate", "vinegar:5"'
    )
    ph.add_argument(
        "--quarter-teaspoon",
        type=finite,
        metavar="GRAMS",
        help="what a level one of it weighs: says whether it jumps, and what to take instead",
    )
    ph.add_argument("--hold", type=finite, metavar="PH", help="the pH to hold")
    ph.add_argument("--log", metavar="BATH.json", help="what was added and read so far")
    ph.add_argument("--json", action="store_true", help="one JSON object instead of lines")
    ph.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Answer it and print it."""
    if sum(one is not None for one in (chosen.reach, chosen.hold, chosen.log)) > 1:
        raise WrongUsage("give one of --reach, --hold and --log")
    if chosen.log is None and chosen.litres is None:
        raise WrongUsage("give --litres, the water in the pot")
    if (chosen.reach is None) is not (chosen.using is None) and chosen.hold is None:
        raise WrongUsage("--reach and --with go together")
    try:
        record, lines = _answered(chosen)
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    if chosen.json:
        from dyeshade.words.measurement_json import as_line

        print(as_line(record))
    else:
        print("\n".join(lines))
    return ALL_DONE


def _answered(chosen: argparse.Namespace) -> tuple[dict[str, object], list[str]]:
    from dyeshade.bath.additives import HYDROGEN_CARBONATE
    from dyeshade.words import bath_ph_lines as words
    from dyeshade.work import ask_ph
    from dyeshade.work.ph_log_file import read_ph_log

    if chosen.log is not None:
        log = read_ph_log(chosen.log)
        known = [one.additive for one in log.measures]
        known += [one.additive for one in log.log.additions]
        step = ask_ph.next_step(log)
        step = replace(step, notices=(*step.notices, *ask_ph.harm_of(known)))
        bears = log.bears
        record = words.next_record(step, log.target, bears.floor, bears.ceiling)
        lines = words.next_lines(step, log.target)
        return record, [*lines, *words.caution_lines(step.notices)]
    bath = _bath(chosen)
    added = [one for one, _ in bath.added]
    if chosen.reach is not None:
        using = _additive(chosen.using)
        reached, notices = ask_ph.amount_for(bath, chosen.reach, using, chosen.quarter_teaspoon)
        notices = (*notices, *ask_ph.harm_of((using, *added)))
        lines = [*words.reach_lines(reached), *words.caution_lines(notices)]
        return words.reach_record(reached, notices), lines
    if chosen.hold is not None:
        soda = _additive(chosen.using or "soda_anhydrous")
        if not soda.name.startswith("soda_") or soda.made_of is not None:
            raise WrongUsage("--hold takes a washing soda with --with")
        buffer = ask_ph.buffer_for(bath, chosen.hold, soda)
        buffer = replace(buffer, notices=(*buffer.notices, *ask_ph.harm_of(added)))
        lines = [*words.hold_lines(buffer, bath.litres), *words.caution_lines(buffer.notices)]
        return words.hold_record(buffer, HYDROGEN_CARBONATE), lines
    ph = ask_ph.ph_of(bath)
    notices = (*ph.at_25_c.notices, *ask_ph.harm_of(added))
    lines = [*words.result_lines(ph), *words.caution_lines(notices)]
    return words.ph_record("result", ph, notices), lines


def _bath(chosen: argparse.Namespace) -> KnownBath:
    from dyeshade.bath.water import Water, alkalinity_mg_l
    from dyeshade.work.ask_ph import KnownBath

    added = []
    for text in chosen.add:
        what, equals, amount = text.partition("=")
        try:
            added.append((_additive(what), finite(amount)))
        except argparse.ArgumentTypeError:
            sign = "is no amount" if equals else "has no amount: write it as WHAT=AMOUNT"
            raise WrongUsage(f"--add {text}: {amount or what} {sign}") from None
    water = Water(alkalinity_mg_l(chosen.alkalinity, chosen.degrees), chosen.water_ph)
    return KnownBath(chosen.litres, water, chosen.temperature, tuple(added), chosen.liquor_ph)


def _additive(text: str) -> Additive:
    from dyeshade.bath.additives import additive

    name, colon, percent = text.partition(":")
    try:
        return additive(name.strip(), finite(percent) if colon else None)
    except argparse.ArgumentTypeError:
        raise WrongUsage(f"{percent} is no percentage") from None
