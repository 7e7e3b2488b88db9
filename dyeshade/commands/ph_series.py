"""``dyeshade ph-series``: a dyestuff's shades along pH, and the pH of a wanted shade."""

from __future__ import annotations

import argparse

from dyeshade.commands.answering import answer, asking_parser
from dyeshade.commands.asking import query_of
from dyeshade.commands.options import name
from dyeshade.commands.telling import WrongUsage
from dyeshade.commands.wanted import COLOUR, add_photo, check_wanted, wanted_of


def add_to(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command to the command line."""
    series = asking_parser(
        commands,
        "ph-series",
        "tell how a dyestuff's shade goes with pH",
        "Draw a smooth curve through the shades of a dyestuff at otherwise equal conditions, with "
        "its uncertainty. Other fibres and mordants are other series, side by side. "
        "--which-ph names the pH that it runs along (unless told, the one that was read most).",
        of_shades=True,
    )
    series.add_argument(
        "--wanted",
        type=name,
        metavar="COLOUR",
        help=f"a shade whose pH is looked for: {COLOUR}",
    )
    add_photo(series)
    series.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Tell the series.

    Raises
    ------
    WrongUsage
        Where no dyestuff is named.
    """
    from dyeshade.library.library import Library
    from dyeshade.words.ph_series_json import beside_record, ph_series_record
    from dyeshade.words.ph_series_lines import ph_series_lines
    from dyeshade.work.ask_ph_series import BesideAt, SeriesAnswer, ask_ph_series, beside
    from dyeshade.work.wanted_colour import wanted_colour

    if chosen.dyestuff is None:
        raise WrongUsage("name the dyestuff with --dyestuff")
    check_wanted(chosen, chosen.wanted, needed=False)

    def ask(library: Library) -> tuple[tuple[SeriesAnswer, ...], tuple[BesideAt, ...]]:
        given = wanted_of(library, chosen, chosen.wanted)
        wanted = None if given is None else wanted_colour(library, given)
        found = ask_ph_series(library, query_of(chosen), chosen.which_ph, wanted)
        return found, beside(found[0], found[1]) if len(found) > 1 else ()

    return answer(
        chosen,
        ask,
        lambda found: ph_series_lines(*found),
        lambda found: [
            *(ph_series_record(one) for one in found[0]),
            *([beside_record(found[1])] if found[1] else []),
        ],
    )
