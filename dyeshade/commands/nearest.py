"""``dyeshade nearest``: which shades of the library come nearest to a colour."""

from __future__ import annotations

import argparse

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.asking import query_of
from dyeshade.commands.options import name, number, whole
from dyeshade.commands.telling import WrongUsage
from dyeshade.commands.wanted import COLOUR, add_photo, check_wanted, wanted_of


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    nearest = asking_parser(
        commands,
        "nearest",
        "find the shades nearest to a colour",
        "Rank shades of the library by how near they come to a colour, with the chance that the "
        "difference is below a tolerance.",
        of_shades=True,
    )
    nearest.add_argument("colour", type=name, nargs="?", metavar="COLOUR", help=COLOUR)
    add_photo(nearest)
    nearest.add_argument(
        "--tolerance",
        type=number(0, above=True),
        default=2.0,
        metavar="DE",
        help="CIEDE2000 (default: 2)",
    )
    nearest.add_argument(
        "--most", type=whole, default=10, metavar="N", help="how many are told (default: 10)"
    )
    nearest.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Tell the nearest shades.

    Raises
    ------
    WrongUsage
        Where none is to be told, or no colour was given.
    """
    from dyeshade.library.find import ShadeQuery
    from dyeshade.library.library import Library
    from dyeshade.words.nearest_lines import nearest_lines, nearest_record
    from dyeshade.work.ask_nearest import NearAnswer, ask_nearest
    from dyeshade.work.wanted_colour import WantedColour, wanted_colour

    if chosen.most < 1:
        raise WrongUsage("--most must be 1 at least")
    check_wanted(chosen, chosen.colour)
    query = query_of(chosen)

    def ask(library: Library) -> tuple[WantedColour, tuple[NearAnswer, ...]]:
        given = wanted_of(library, chosen, chosen.colour)
        assert given is not None
        wanted = wanted_colour(library, given)
        asked = None if query == ShadeQuery() else query
        return wanted, ask_nearest(library, wanted, asked, chosen.tolerance, chosen.most)

    return answer(
        chosen,
        ask,
        lambda found: nearest_lines(*found, chosen.tolerance),
        lambda found: [nearest_record(one, chosen.tolerance) for one in found[1]],
    )
