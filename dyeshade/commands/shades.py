"""``dyeshade shades``: shades out of the library, asked for by the conditions of their baths."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from dyeshade.commands.options import day, name, span
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WrongUsage, tell
from dyeshade.errors import DyeshadeError
from dyeshade.library.dye_records import FORMS, STATES, WHICH_PH
from dyeshade.words.refusals import refusal_text

if TYPE_CHECKING:
    from dyeshade.library.find import ShadeQuery


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    shades = commands.add_parser(
        "shades",
        help="list shades of the library by their baths",
        description="List the readings in a shade library whose conditions are as asked. Names are "
        "whole names, upper case or lower; a range is given as LOW:HIGH, either end may be left "
        "out.",
        epilog="Ends with 0 also where no shade was found, 1 where the library cannot be read, "
        "2 for wrong usage.",
        allow_abbrev=False,
    )
    shades.add_argument(
        "--library",
        type=name,
        metavar="LIBRARY",
        help="the folder of the shade library (default: the one that DYESHADE_LIBRARY names, or "
        "one among your documents)",
    )
    shades.add_argument("--dyestuff", type=name, help="in any of the piece's baths")
    shades.add_argument("--part", type=name, help="of that dyestuff")
    shades.add_argument("--form", choices=FORMS, help="of that dyestuff")
    shades.add_argument(
        "--ratio",
        type=span,
        metavar="RANGE",
        help="weight of that dyestuff to weight of fibre, as 0.5:1",
    )
    shades.add_argument("--fibre", type=name, help="of the piece")
    shades.add_argument("--mordant", type=name, help="of the piece")
    shades.add_argument(
        "--exhaust", type=int, metavar="N", help="exhaust number of the last bath; 0 is a first one"
    )
    shades.add_argument("--ph", type=span, metavar="RANGE", help="as 8:9.5")
    shades.add_argument(
        "--which-ph", choices=WHICH_PH, help="which pH is meant (default: the one that acted last)"
    )
    shades.add_argument("--from", dest="from_day", type=day, metavar="DAY", help="read since then")
    shades.add_argument("--to", dest="to_day", type=day, metavar="DAY", help="read until then")
    shades.add_argument("--state", choices=STATES, help="of the piece when it was read")
    shades.add_argument("--piece", type=name, metavar="ID", help="readings of one piece")
    shades.add_argument(
        "--json", action="store_true", help="one JSON object a line instead of a table"
    )
    shades.add_argument(
        "--csv", metavar="SHADES.csv", help="write all of it into a file for spreadsheets, instead"
    )
    shades.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Find the shades and print them.

    Raises
    ------
    WrongUsage
        For options that do not go together.
    """
    import json

    from dyeshade.exchange.shades_csv import write_shades_csv
    from dyeshade.library.find import find_shades
    from dyeshade.library.library import open_library
    from dyeshade.words.sentences import counted
    from dyeshade.words.shades_json import shade_record
    from dyeshade.words.shades_table import shades_table
    from dyeshade.work.library_place import library_folder

    if chosen.json and chosen.csv:
        raise WrongUsage("--json and --csv do not go together")
    query = _query(chosen)
    try:
        with open_library(chosen.library or library_folder(), read_only=True) as library:
            found = find_shades(library, query)
            if chosen.csv:
                write_shades_csv(library, found, chosen.csv)
                tell(f"{counted(len(found), 'shade is', 'shades are')} in {chosen.csv}.")
                return ALL_DONE
    except DyeshadeError as error:
        tell(refusal_text(error))
        return SOME_NOT
    if chosen.json:
        for one in found:
            print(json.dumps(shade_record(one), allow_nan=False))
    else:
        print("\n".join(shades_table(found)))
    return ALL_DONE


def _query(chosen: argparse.Namespace) -> ShadeQuery:
    from dyeshade.library.find import ShadeQuery

    ratio_least, ratio_most = chosen.ratio or (None, None)
    ph_least, ph_most = chosen.ph or (None, None)
    return ShadeQuery(
        dyestuff=chosen.dyestuff,
        part=chosen.part,
        form=chosen.form,
        ratio_least=ratio_least,
        ratio_most=ratio_most,
        exhaust_number=chosen.exhaust,
        fibre=chosen.fibre,
        mordant=chosen.mordant,
        ph_least=ph_least,
        ph_most=ph_most,
        ph_which=chosen.which_ph,
        from_day=chosen.from_day,
        to_day=chosen.to_day,
        state=chosen.state,
        piece=chosen.piece,
    )
