"""``dyeshade shades``: shades out of the library, asked for by the conditions of their baths."""

from __future__ import annotations

import argparse

from dyeshade.commands.asking import add_question, query_of
from dyeshade.commands.telling import ALL_DONE, SOME_NOT, WrongUsage, tell
from dyeshade.errors import DyeshadeError
from dyeshade.words.refusals import refusal_text


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
    add_question(shades)
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
    query = query_of(chosen)
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
